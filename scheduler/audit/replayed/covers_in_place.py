"""Which cover lies on a surface from when to when, by the work that is done.

Counted from the planned changes of the surface and the tasks the work asks for.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from models.records import (
    CoverProperties,
    Horizon,
    Surface,
    SurfaceWork,
    Task,
)
from scheduler.audit.replayed.jobs import Job

#: A first cover that would lie shorter than this is left out for the next. [min]
_SHORTEST_MIN = 120


@dataclass(frozen=True)
class CoverInPlace:
    """A cover of a surface, from the start of its laying until it is off, if it is.

    ``laid_by`` are the tasks that lay it.
    """

    cover: CoverProperties
    planned: bool
    laid_min: int
    off_min: int | None
    laid_by: tuple[Task, ...] = ()


def covers_in_place(
    surface: Surface, work: SurfaceWork, own: Sequence[Job], horizon: Horizon
) -> Iterator[CoverInPlace]:
    """Yield each cover of a surface that comes to lie there, from and until when.

    A cover goes when all the work that lays the next one is done, or all that removes
    the last one. A pond stands on the cover before it, which stays.
    """
    asked = laying(surface, work, horizon)
    removal = [task for task in work.tasks if task.facts.lifts]
    lies = _lies_from(surface, horizon)
    if lies is not None and not removal and work.ends_min <= 0:
        return  # cured before the week began: lifted since
    for index, cover in enumerate(surface.covers):
        there = lies is not None and lies[0] == index
        starts = [job.start_min for job in own if job.task.id in _ids(asked[index])]
        if not there and not starts:
            continue
        laid_min = lies[1] if lies is not None and there else min(starts)
        later = range(index + 1, len(asked))
        changes = [i for i in later if asked[i] and surface.covers[i].form != "pond"]
        lifting = _until_sealed(asked[changes[0]]) if changes else removal
        off_min = _done(lifting, own)
        if off_min is not None and off_min <= laid_min:
            off_min = None  # nothing lay there yet
        yield CoverInPlace(cover, not there, laid_min, off_min, tuple(asked[index]))


def _lies_from(surface: Surface, horizon: Horizon) -> tuple[int, int] | None:
    """Which of its covers a surface has from the start, and from when."""
    if surface.covered_at is None:
        return None
    starts = [surface.covered_at, *(stage.starts_at for stage in surface.later)]
    begun = [i for i, at in enumerate(starts) if i == 0 or horizon.minute(at) <= 0]
    return begun[-1], horizon.minute(starts[begun[-1]])


def laying(surface: Surface, work: SurfaceWork, horizon: Horizon) -> list[list[Task]]:
    """Sort the laying tasks by the cover they lay.

    The first cover of a bare surface is laid up to the task that covers it; every
    other task lays the cover whose change is planned next to it. A first cover that
    would be changed at once is never laid.
    """
    planned = [horizon.minute(stage.starts_at) for stage in surface.later]
    asked: list[list[Task]] = [[] for _ in surface.covers]
    lays = [task for task in work.tasks if task.facts.lays]
    first: list[Task] = []
    if surface.covered_at is None:
        covering = [i for i, task in enumerate(lays) if task.covers]
        cut = covering[0] + 1 if covering else len(lays)
        first, lays = lays[:cut], lays[cut:]
    for task in lays:
        away = [abs(minute - task.earliest_min) for minute in planned]
        if away:
            asked[1 + away.index(min(away))].append(task)
    if first:
        soon = first[0].earliest_min + _SHORTEST_MIN
        skipped = [
            i for i, minute in enumerate(planned, 1) if minute < soon and not asked[i]
        ]
        asked[max(skipped, default=0)] = first
    return asked


def _until_sealed(tasks: Sequence[Task]) -> list[Task]:
    """Leave out the coats after the first that seals: what lay there is off by then."""
    seals = [i for i, task in enumerate(tasks) if task.seals]
    return list(tasks[: seals[0] + 1] if seals else tasks)


def _done(tasks: Sequence[Task], own: Sequence[Job]) -> int | None:
    """Minute at which the last of some tasks is done; None while one is not."""
    asked = _ids(tasks)
    ends = {job.task.id: job.end_min for job in own if job.task.id in asked}
    return max(ends.values()) if ends and ends.keys() == asked else None


def _ids(tasks: Sequence[Task]) -> set[str]:
    return {task.id for task in tasks}
