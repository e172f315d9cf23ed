"""The part of a published week that has begun: it stays, and nothing is put before it.

The work list of the whole week is worked out anew; then visits that began before an
instant are fixed in it as they happened, with the tasks that they did where the new
list has them no more.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from datetime import datetime

from models.records import Roster, SurfaceWork, Task, WorkList
from scheduler.happened.handed_out import published_visit
from scheduler.happened.visits import SeenVisit


def with_begun(
    work: WorkList, earlier: Roster, seen: Iterable[SeenVisit], at: datetime
) -> WorkList:
    """Fix what began before an instant, and let nothing else start before it.

    A visit of which nobody wrote counts as done as planned, unless the work was not
    due yet then: its pour has slipped, or its surface set late.

    Parameters
    ----------
    work : WorkList
        Of the week, worked out anew.
    earlier : Roster
        The published one, with the tasks that its visits did.
    seen : iterable of SeenVisit
        Its visits as they happened.
    at : datetime
        The instant.

    Returns
    -------
    WorkList
        With ``begun``, the tasks that were done though nobody would ask for them any
        more, and without those that cannot be done any more and that nobody missed.
    """
    horizon = work.horizon
    until_min = max(0, horizon.minute(at))
    known = {one.surface_id for one in work.surfaces}
    opens = {t.id: t.earliest_min for one in work.surfaces for t in all_tasks(one)}
    began = [
        one.visit
        for one in seen
        if one.visit.starts_at < at
        and one.visit.surface_id in known
        and not one.is_failed
        and (
            one.entry is not None
            or horizon.minute(one.visit.starts_at) >= opens.get(one.visit.task_id, 0)
        )
    ]
    done: defaultdict[str, set[str]] = defaultdict(set)
    for visit in began:
        done[visit.surface_id].add(visit.task_id)
    tasks = {task.id: task for one in earlier.surfaces for task in all_tasks(one)}
    missed = {one.task_id for one in earlier.missed}
    missed |= {task_id for one in earlier.missed for task_id in one.fallen}
    surfaces = tuple(
        _from_then_on(surface, done[surface.surface_id], tasks, missed, until_min)
        for surface in work.surfaces
    )
    return work.model_copy(
        update={
            "surfaces": surfaces,
            "begun_until_min": until_min,
            "begun": tuple(published_visit(visit, horizon) for visit in began),
        }
    )


def all_tasks(work: SurfaceWork) -> Sequence[Task]:
    """Give the tasks of a surface, the pattern of its re-wets with them."""
    return (*work.tasks, *((work.rewet,) if work.rewet is not None else ()))


def _from_then_on(
    work: SurfaceWork,
    done: Collection[str],
    tasks: dict[str, Task],
    missed: Collection[str],
    until_min: int,
) -> SurfaceWork:
    """Keep what was done, what can be done still and what was missed."""
    asked = {task.id for task in all_tasks(work)}
    once = [tasks[task_id] for task_id in sorted(done) if task_id not in asked]
    followed = {link.task_id for task in work.tasks for link in task.after}
    left = [
        task
        for task in work.tasks
        if task.id in done
        or task.id in missed
        or task.id in followed
        or task.latest_min - task.duration_min >= until_min
    ]
    kept = {task.id for task in (*left, *once)} | asked
    return work.model_copy(
        update={
            "tasks": tuple(
                task.model_copy(
                    update={"after": tuple(f for f in task.after if f.task_id in kept)}
                )
                for task in (*left, *once)
            )
        }
    )
