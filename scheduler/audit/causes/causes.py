"""Why a gap is there, or a duty undone: what the work ran against.

The audit's own judgement, from covers, crews, hours and water around the gap and not
from the solver's reasons. It asks of each minute of the gap, or of the duty's window,
whether the work could have begun then, in the order a foreman would: is it allowed yet,
are there covers, is anyone on, who can do it, are they rested and free, is there water.
The answer of most minutes is the cause. Where the work could have begun, the roster
chose to leave it: that is a matter of price.
"""

from dataclasses import dataclass

import numpy as np

from models.records import Limit, SurfaceWork, Task
from scheduler.audit.causes.covers import cover_reasons
from scheduler.audit.causes.crews import Flags, Minutes, crew_reasons
from scheduler.audit.causes.water import water_reasons
from scheduler.audit.causes.words import price_words, reason_words
from scheduler.audit.replayed.around import LIMITS, Around, Reason
from scheduler.audit.replayed.gaps import DryStretch
from scheduler.audit.replayed.runs import stretches


@dataclass(frozen=True)
class Cause:
    """The limit that bit, and the same in site words."""

    limit: Limit
    words: str


def cause_of(gap: DryStretch, work: SurfaceWork, done: set[str], on: Around) -> Cause:
    """Judge one gap.

    Parameters
    ----------
    done : set of str
        Ids of the surface's tasks that are done before the gap begins.
    """
    task = _closing_task(gap, work, done)
    if task is None:
        words = "no work is planned for that could keep it wet here"
        return Cause("window", words)
    # Fog or laying that begins before a bare gap keeps its first minutes wet.
    ahead = 0 if gap.covered else min(task.duration_min - 1, gap.from_min)
    starts = np.arange(gap.from_min - ahead, gap.until_min)
    return _cause(task, work, starts, on)


def cause_of_missed(
    task: Task, work: SurfaceWork, ends: dict[str, int], on: Around
) -> Cause:
    """Judge a duty that nobody does, or the first that it would have to follow.

    Parameters
    ----------
    ends : dict
        Minute at which each task of the surface that is done is over.
    """
    first = max(0, task.earliest_min)
    for link in task.after:
        if link.task_id not in ends:
            before = next(t for t in work.tasks if t.id == link.task_id)
            return cause_of_missed(before, work, ends, on)
        first = max(first, ends[link.task_id] + link.min_gap_min)
    last = min(task.latest_min - task.duration_min, on.clock.horizon.length_min - 1)
    if first > last:
        words = f"it could begin {on.clock.words(first)} at the soonest; too late"
        return Cause("window", words)
    return _cause(task, work, np.arange(first, last + 1), on)


def _cause(task: Task, work: SurfaceWork, starts: Minutes, on: Around) -> Cause:
    """Name what keeps a task from most of the minutes at which it could begin."""
    ends = starts + task.duration_min
    allowed = (task.earliest_min <= starts) & (ends <= task.latest_min)
    stopped: dict[Reason, Flags] = {"window": ~allowed}
    steps: list[tuple[Reason, Flags]] = []
    if allowed.any():  # where it may begin at all, other things stood in its way
        stopped = {}
        steps += cover_reasons(task, starts, on)
        steps += crew_reasons(task, work, starts, on)
        if task.water is not None:
            steps += water_reasons(task.water, work, starts, on)
    left = allowed
    for reason, passed in steps:
        stopped[reason] = left & ~passed
        left = left & passed
    if left.any():
        at = int(starts[np.argmax(left)])
        return Cause("price", price_words(task, work, at, on))
    most = max(stopped, key=lambda reason: int(stopped[reason].sum()))
    first, last = max(stretches(stopped[most]), key=lambda run: run[1] - run[0])
    span = int(starts[first]), int(starts[last - 1]) + 1
    return Cause(LIMITS[most], reason_words(most, task, work, span, on))


def _closing_task(gap: DryStretch, work: SurfaceWork, done: set[str]) -> Task | None:
    """Find the work to end the gap: a rewet, or what may begin in most of it."""
    if gap.covered:
        soaks = [t for t in work.tasks if t.refills and not t.covers]
        waiting = [t for t in soaks if t.id not in done]
        return work.rewet or next(iter(waiting), None)
    guards = [t for t in work.tasks if t.protects and t.id not in done]
    return max(guards, key=lambda t: (_open_min(t, gap), -t.earliest_min), default=None)


def _open_min(task: Task, gap: DryStretch) -> int:
    """Minutes of a gap in which a task may begin."""
    last = min(gap.until_min, task.latest_min - task.duration_min + 1)
    return max(0, last - max(gap.from_min, task.earliest_min))
