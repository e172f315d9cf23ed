"""Visits of the bench's planners as rosters, so that the simulator can play them."""

from collections import Counter
from collections.abc import Iterable

from models.records import Roster, Visit, WorkList
from tests.bench.dispatcher import BENCH_RULES, BenchDispatcher, BenchRule, Dispatched
from tests.bench.simulator import Played, simulate


def as_roster(work: WorkList, given: Iterable[Dispatched], words: str) -> Roster:
    """Roster of some visits; it claims no cost of its own."""
    count: Counter[str] = Counter()
    visits = []
    for one in sorted(given, key=lambda d: (d.start, d.task.id)):
        task = one.task
        count[task.id] += 1
        visits.append(
            Visit(
                id=f"{task.id}/{count[task.id]}" if task.kind == "rewet" else task.id,
                task_id=task.id,
                surface_id=task.surface_id,
                crew_id=one.shift.crew_id,
                shift_id=one.shift.id,
                starts_at=work.horizon.at(one.start),
                ends_at=work.horizon.at(one.start + task.duration_min),
                water_point_id=one.point,
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
        seed=0,
        solver_words=words,
    )


def dispatch_roster(work: WorkList, rule: BenchRule | None = None) -> Roster:
    """Roster by one rule."""
    return as_roster(work, BenchDispatcher(work, rule).run(), "dispatcher")


def best_dispatch(
    work: WorkList, rules: Iterable[BenchRule] = BENCH_RULES
) -> tuple[Roster, Played]:
    """Roster by the rule that suits this week best, and how it plays."""
    rosters = [dispatch_roster(work, one) for one in rules]
    return min(
        ((roster, simulate(work, roster)) for roster in rosters),
        key=lambda pair: pair[1].total,
    )
