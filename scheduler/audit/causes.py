"""Why a gap is there: what the work that would close it ran against.

The audit's own judgement, from crews, hours and water around the gap and not from the
solver's reasons. It asks of each minute of the gap whether the work could have begun
then, in the order a foreman would: is it allowed yet, is anyone on, who can do it, are
they rested and free, is there water. The most common answer is the cause. Where the
work could have begun, the roster chose to leave it: that is a matter of price.
"""

from dataclasses import dataclass

import numpy as np

from models.records import Limit, SurfaceWork, Task
from scheduler.audit.around import Around
from scheduler.audit.cause_words import limit_words, price_words
from scheduler.audit.free_crews import crew_limits
from scheduler.audit.free_water import water_limits
from scheduler.audit.gaps import DryStretch

#: From the first thing that can stand in the way to the last.
ORDER: tuple[Limit, ...] = (
    "window",
    "no_crew_on_shift",
    "no_skill",
    "rest",
    "crews_busy",
    "travel",
    "water_flow",
    "water_allotment",
    "tank_empty",
)


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
    starts = np.arange(gap.from_min, gap.until_min)
    blocked: dict[Limit, int] = {}
    open_ = (task.earliest_min <= starts) & (
        starts + task.duration_min <= task.latest_min
    )
    blocked["window"] = int((~open_).sum())
    left = open_
    for limit, allowed in crew_limits(task, work, starts, on):
        blocked[limit] = int((left & ~allowed).sum())
        left = left & allowed
    if task.water is not None and left.any():
        for limit, allowed in water_limits(task.water, work, starts, on):
            blocked[limit] = int((left & ~allowed).sum())
            left = left & allowed
    if left.any():
        at = int(starts[np.argmax(left)])
        return Cause("price", price_words(task, work, at, on))
    limit = max(ORDER, key=lambda name: blocked.get(name, 0))
    return Cause(limit, limit_words(limit, task, work, gap, on))


def _closing_task(gap: DryStretch, work: SurfaceWork, done: set[str]) -> Task | None:
    """Find the work to end the gap: a rewet, or what may begin in most of it."""
    if gap.covered:
        soaks = [t for t in work.tasks if t.effect == "wet" and not t.covers]
        waiting = [t for t in soaks if t.id not in done]
        return work.rewet or next(iter(waiting), None)
    guards = [t for t in work.tasks if t.effect != "none" and t.id not in done]
    return max(guards, key=lambda t: (_open_min(t, gap), -t.earliest_min), default=None)


def _open_min(task: Task, gap: DryStretch) -> int:
    """Minutes of a gap in which a task may begin."""
    last = min(gap.until_min, task.latest_min - task.duration_min + 1)
    return max(0, last - max(gap.from_min, task.earliest_min))
