"""A week planned again after a pour has slipped: ``python -m tests.bench.replanned``.

Plans a week, lets half of it happen as planned, puts one pour of the rest off, and
plans that rest near what people hold. Prints the seconds, and what share of the visits
to come of all other surfaces does not stand as it did.
"""

import argparse
from collections.abc import Sequence
from datetime import datetime, timedelta
from time import monotonic

from models.records import Roster, SurfaceWork, Task, Visit, WorkList
from scheduler.happened.so_far import SoFar
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.instances import Size, instance


def slipped(work: WorkList, at_min: int, slip_min: int) -> tuple[WorkList, str]:
    """Put off all work of the first surface that is not begun by a minute."""
    late = min(
        (one for one in work.surfaces if _first_min(one) > at_min),
        key=lambda one: (_first_min(one), one.surface_id),
    )
    surfaces = tuple(
        _put_off(one, slip_min) if one is late else one for one in work.surfaces
    )
    return work.model_copy(update={"surfaces": surfaces}), late.surface_id


def _first_min(work: SurfaceWork) -> int:
    return min((task.earliest_min for task in work.tasks), default=-1)


def _put_off(work: SurfaceWork, slip_min: int) -> SurfaceWork:
    def later(task: Task) -> Task:
        times = ("earliest_min", "due_min", "latest_min")
        moved = {name: getattr(task, name) + slip_min for name in times}
        return task.model_copy(update=moved)

    fresh = tuple(
        one.model_copy(
            update={
                "from_min": one.from_min + slip_min,
                "until_min": one.until_min + slip_min,
            }
        )
        for one in work.fresh
    )
    return work.model_copy(
        update={
            "tasks": tuple(map(later, work.tasks)),
            "rewet": later(work.rewet) if work.rewet else None,
            "fresh": fresh,
            "ends_min": work.ends_min + slip_min,
        }
    )


def moved_fraction(before: Roster, now: Roster, at: datetime, late: str) -> float:
    """Share of the visits to come, of all but one surface, that are others now."""

    def to_come(visits: Sequence[Visit]) -> set[tuple[str, str, datetime]]:
        return {
            (visit.task_id, visit.crew_id, visit.starts_at)
            for visit in visits
            if visit.starts_at >= at and visit.surface_id != late
        }

    was, is_now = to_come(before.visits), to_come(now.visits)
    return len(was - is_now) / len(was)


def main() -> None:
    """Print a line for each size."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surfaces", type=int, nargs="+", default=[20, 60])
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--slip", type=int, default=180, help="minutes")
    parser.add_argument("--work", type=float, default=None, help="of the first plan")
    told = parser.parse_args()
    print("surfaces  visits  replanned, s  share of it  others moved  cost")
    for surfaces in told.surfaces:
        work = instance(Size(surfaces), told.seed)
        began = monotonic()
        held = solve(work, Effort(work=told.work))
        planned_s = monotonic() - began
        at = work.horizon.starts_at + timedelta(days=3)
        changed, late = slipped(work, work.horizon.minute(at), told.slip)
        began = monotonic()
        now = solve(SoFar(at, held).of(changed))
        seconds = monotonic() - began
        moved = moved_fraction(held, now, at, late)
        print(
            f"{surfaces:8d}  {len(held.visits):6d}  {seconds:12.1f}  "
            f"{seconds / planned_s:11.2f}  {moved:12.1%}  {held.cost:,.0f} to "
            f"{now.cost:,.0f}"
        )


if __name__ == "__main__":
    main()
