"""The foreman's visits as a roster, so that the simulator can play them."""

from collections import Counter

from models.records import Roster, Visit, WorkList
from tests.bench.dispatcher import Foreman


def dispatch_roster(work: WorkList) -> Roster:
    """Roster of the baseline; it claims no cost of its own."""
    count: Counter[str] = Counter()
    visits = []
    for given in Foreman(work).run():
        task = given.task
        count[task.id] += 1
        visits.append(
            Visit(
                id=f"{task.id}/{count[task.id]}" if task.kind == "rewet" else task.id,
                task_id=task.id,
                surface_id=task.surface_id,
                crew_id=given.shift.crew_id,
                shift_id=given.shift.id,
                starts_at=work.horizon.at(given.start),
                ends_at=work.horizon.at(given.start + task.duration_min),
                water_point_id=given.point,
            )
        )
    return Roster(
        site_name=work.site_name,
        timezone=work.timezone,
        horizon=work.horizon,
        surfaces=work.surfaces,
        visits=tuple(sorted(visits, key=lambda v: (v.starts_at, v.crew_id, v.id))),
        objective=(),
        cost=0,
        lower_bound=0,
        bound_words="",
        seed=0,
        solver_words="dispatcher",
    )
