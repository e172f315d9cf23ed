"""In which minutes some crew could begin a piece of work, and what keeps the others."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from models.records import Site, SurfaceWork, Task
from scheduler.audit.checks.week_hours import week_left
from scheduler.audit.replayed.around import Around, Reason
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.parties import same_shift, share_hands
from scheduler.audit.replayed.windows import Window, walk_min

Flags = NDArray[np.bool_]
Minutes = NDArray[np.int64]


def crew_reasons(
    task: Task, work: SurfaceWork, starts: Minutes, on: Around
) -> list[tuple[Reason, Flags]]:
    """Tell at which starts, of all crews together, each step is passed."""
    names: tuple[Reason, ...] = (
        "nobody", "ban", "hands", "hours", "rest", "week", "busy", "walk",
    )  # fmt: skip
    passed = {name: np.zeros(len(starts), bool) for name in names}
    cool = np.ones(len(starts), bool)
    for first, last in on.bans:
        cool &= (starts + task.duration_min <= first) | (starts >= last)
    for window in on.windows:
        here = _on_shift(window, starts)
        passed["nobody"] |= here
        here = here & cool
        passed["ban"] |= here
        crew = window.crew
        if task.people > crew.people or not set(task.skills) <= set(crew.skills):
            continue
        if not here.any():
            continue
        passed["hands"] |= here
        here = here & _long_enough(window, task.duration_min, starts)
        passed["hours"] |= here
        here = here & _rested(window, task.duration_min, starts, on)
        passed["rest"] |= here
        here = here & week_left(window, task, work, starts, on)
        passed["week"] |= here
        jobs = [
            job for w, own in on.turns if w and share_hands(w.crew, crew) for job in own
        ]
        passed["busy"] |= here & _between(
            jobs, task, work, starts, on.site, walking=False
        )
        way = walk_min(on.site, crew.home_zone, work.zone_id)
        there = (starts >= window.starts_min + way) | _worked_before(window, starts, on)
        passed["walk"] |= (
            here & there & _between(jobs, task, work, starts, on.site, walking=True)
        )
    return list(passed.items())


def _on_shift(window: Window, starts: Minutes) -> Flags:
    """Tell where somebody is on and not at break; overtime is no time to begin."""
    here: Flags = (starts >= window.starts_min) & (starts < window.ends_min)
    for first, last in window.breaks:
        here = here & ((starts < first) | (starts >= last))
    return here


def _long_enough(window: Window, duration: int, starts: Minutes) -> Flags:
    """Tell where work would be over before the next break and the end of overtime."""
    fits: Flags = starts + duration <= window.closes_min
    for first, last in window.breaks:
        fits = fits & ((starts + duration <= first) | (starts >= last))
    return fits


def _rested(window: Window, duration: int, starts: Minutes, on: Around) -> Flags:
    rest = round(on.site.rules.rest_h * 60)
    rested = np.ones(len(starts), bool)
    for other, jobs in on.turns:
        if other is None or not share_hands(other.crew, window.crew):
            continue
        if same_shift(other, window):
            continue
        first = min(job.start_min for job in jobs)
        last = max(job.end_min for job in jobs)
        rested &= (starts >= last + rest) | (starts + duration + rest <= first)
    return rested


def _between(
    jobs: Sequence[Job],
    task: Task,
    work: SurfaceWork,
    starts: Minutes,
    site: Site,
    *,
    walking: bool,
) -> Flags:
    """Minutes at which a crew could fit the task between its jobs."""
    free = np.ones(len(starts), bool)
    for job in jobs:
        way = 0
        if walking and job.work.surface_id != work.surface_id:
            way = walk_min(site, job.work.zone_id, work.zone_id)
        opens, closes = job.start_min - way - task.duration_min, job.end_min + way
        if opens < starts[-1] and starts[0] < closes:
            free &= (starts <= opens) | (starts >= closes)
    return free


def _worked_before(window: Window, starts: Minutes, on: Around) -> Flags:
    """Tell where all of the crew has done a job in the shift, and comes from there."""
    never = int(np.iinfo(np.int64).max)
    first = dict.fromkeys(window.crew.hands, never)
    for other, jobs in on.turns:
        if other and same_shift(other, window):
            ends = min(job.end_min for job in jobs)
            for hand in first.keys() & set(other.crew.hands):
                first[hand] = min(first[hand], ends)
    return starts >= max(first.values())
