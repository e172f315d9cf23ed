"""The part of a published week that has begun: it stays, and nothing is put before it.

The work list of the whole week is worked out anew; then visits that began before an
instant are fixed in it as they happened, with the tasks that they did where the new
list has them no more.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence
from datetime import datetime

from models.records import CoverNeed, Roster, SurfaceWork, Task, WorkList
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
        if horizon.starts_at <= one.visit.starts_at < at
        and one.visit.surface_id in known
        and not one.is_failed
        and (
            one.entry is not None
            or horizon.minute(one.visit.starts_at) >= opens.get(one.visit.task_id, 0)
        )
    ]
    done: defaultdict[str, list[str]] = defaultdict(list)
    for visit in sorted(began, key=lambda one: one.starts_at):
        done[visit.surface_id].append(visit.task_id)
    tasks = {one.surface_id: all_tasks(one) for one in earlier.surfaces}
    missed = {one.task_id for one in earlier.missed}
    missed |= {task_id for one in earlier.missed for task_id in one.fallen}
    surfaces = tuple(
        _from_then_on(
            surface,
            tasks.get(surface.surface_id, ()),
            done[surface.surface_id],
            missed,
            until_min,
        )
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
    earlier: Sequence[Task],
    done: Sequence[str],
    missed: Collection[str],
    until_min: int,
) -> SurfaceWork:
    """Keep what was done, what can be done still and what was missed.

    Work of which a part is done goes on as it was cut: its strips make up one surface.
    """
    asked = {task.id: task for task in work.tasks}
    known = {task.id for task in earlier}
    begun_jobs = {_cut_of(task) for task in earlier if task.id in done} - {""}
    rewet_id = None if work.rewet is None else work.rewet.id
    as_cut = [
        _at_times_of(asked.get(task.id), task)
        for task in earlier
        if (task.id in done or _cut_of(task) in begun_jobs) and task.id != rewet_id
    ]
    cut = {task.id for task in as_cut}
    named = {link.task_id for task in work.tasks for link in task.after}
    for need in work.cover_needs:
        named |= {need.soaked_by or "", need.checked_by or ""}
    left = [
        task
        for task in work.tasks
        if task.id not in cut
        and _cut_of(task) not in begun_jobs
        and (
            task.id in named
            or (task.id in missed and task.id in known)
            or task.latest_min - task.duration_min >= until_min
        )
    ]
    names = _Names(asked.values(), (*as_cut, *left), done)
    return work.model_copy(
        update={
            "tasks": tuple(names.in_links(task) for task in (*as_cut, *left)),
            "rewet": None if work.rewet is None else names.in_links(work.rewet),
            "cover_needs": tuple(map(names.in_need, work.cover_needs)),
        }
    )


def _cut_of(task: Task) -> str:
    """Name the job that a strip is part of; "" for work that is whole, and for fog."""
    whole = not task.job or (task.protects and not task.strip)
    return "" if whole else f"{task.job} {task.kind}"


class _Names:
    """Tasks that others name, where a job is cut in other strips than it was asked."""

    def __init__(
        self, asked: Iterable[Task], kept: Sequence[Task], done: Sequence[str]
    ) -> None:
        self._kept = {task.id for task in kept}
        self._done = done
        self._job = {task.id: _cut_of(task) for task in (*asked, *kept)}
        self._of_job: defaultdict[str, list[str]] = defaultdict(list)
        for task in kept:
            if cut := _cut_of(task):
                self._of_job[cut].append(task.id)

    def now(self, task_id: str) -> Sequence[str]:
        """Give a task, or all strips of its job where it is none of them any more."""
        if task_id in self._kept:
            return (task_id,)
        return self._of_job[self._job.get(task_id, "")]

    def in_links(self, task: Task) -> Task:
        """Let a task follow what there is; after strips that are no more, the last."""
        links = {}
        for link in task.after:
            for task_id in self.now(link.task_id)[-1:]:
                links[task_id] = link.model_copy(update={"task_id": task_id})
        return task.model_copy(update={"after": tuple(links.values())})

    def in_need(self, need: CoverNeed) -> CoverNeed:
        """Let covers be laid and lifted by what there is."""
        laid_by = need.laid_by
        if laid_by is not None:
            strips = self._of_job[self._job.get(laid_by, "")]
            begun = (task_id for task_id in self._done if task_id in strips)
            laid_by = next(begun, self.now(laid_by)[0])
        lifted = (one for task_id in need.lifted_by for one in self.now(task_id))
        lifted_by = tuple(dict.fromkeys(lifted))
        return need.model_copy(update={"laid_by": laid_by, "lifted_by": lifted_by})


def _at_times_of(asked: Task | None, task: Task) -> Task:
    """Give a task as it was cut, due as it is by now."""
    if asked is None:
        return task
    windows = ("earliest_min", "due_min", "latest_min")
    return task.model_copy(update={name: getattr(asked, name) for name in windows})
