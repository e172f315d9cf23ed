"""In which minutes some crew could begin a piece of work, and what keeps the others."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from models.records import Limit, Site, SurfaceWork, Task
from scheduler.audit.around import Around
from scheduler.audit.jobs import Job
from scheduler.audit.windows import Window, walk_min

Flags = NDArray[np.bool_]
Minutes = NDArray[np.int64]


def crew_limits(
    task: Task, work: SurfaceWork, starts: Minutes, on: Around
) -> list[tuple[Limit, Flags]]:
    """Minutes at which, of all crews together, each limit is passed."""
    none = np.zeros(len(starts), bool)
    anyone, able, rested, free, near = (none.copy() for _ in range(5))
    for window in on.windows:
        inside = _inside(window, task.duration_min, starts)
        if not inside.any():
            continue
        anyone |= inside
        crew = window.crew
        if task.people > crew.people or not set(task.skills) <= set(crew.skills):
            continue
        able |= inside
        inside = inside & _rested(window, task.duration_min, starts, on)
        rested |= inside
        jobs = [job for w, own in on.turns if w and w.crew.id == crew.id for job in own]
        free |= inside & _between(jobs, task, work, starts, on.site, walking=False)
        there = starts >= window.starts_min + walk_min(
            on.site, crew.home_zone, work.zone_id
        )
        here = _between(jobs, task, work, starts, on.site, walking=True)
        near |= inside & here & (there | _worked_before(window, starts, on))
    return [
        ("no_crew_on_shift", anyone),
        ("no_skill", able),
        ("rest", rested),
        ("crews_busy", free),
        ("travel", near),
    ]


def _inside(window: Window, duration: int, starts: Minutes) -> Flags:
    inside: Flags = (starts >= window.starts_min) & (
        starts + duration <= window.closes_min
    )
    for first, last in window.breaks:
        inside = inside & ((starts + duration <= first) | (starts >= last))
    return inside


def _rested(window: Window, duration: int, starts: Minutes, on: Around) -> Flags:
    rest = round(on.site.rules.rest_h * 60)
    rested = np.ones(len(starts), bool)
    for other, jobs in on.turns:
        if other is None or other.crew.id != window.crew.id or other.id == window.id:
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
        before = starts + task.duration_min + way <= job.start_min
        free &= before | (starts >= job.end_min + way)
    return free


def _worked_before(window: Window, starts: Minutes, on: Around) -> Flags:
    """Tell where the crew has done a job in the shift, and comes from there."""
    ends = [j.end_min for w, own in on.turns if w and w.id == window.id for j in own]
    return starts >= min(ends, default=np.iinfo(np.int64).max)
