"""Duties that fall away with what they follow, because that is not done.

Nobody inspects, soaks or lifts a cover that is not there. Such duties keep their price,
so that it is never cheaper to leave the laying out, but people are told of the laying.
An inspection falls away too where what it follows is over too late for it; other work
does not: that the steam was never turned on is told, whatever was late.
"""

from collections.abc import Sequence
from typing import NamedTuple

from scheduler.solver.plan.cost import Stop, missed_duties
from scheduler.solver.problem.problem import Job, Problem, Surface


class Left(NamedTuple):
    """A duty that nobody does, and the duties that fall away with it."""

    job: Job
    fallen: tuple[Job, ...]


def left_undone(
    problem: Problem, surface: Surface, stops: Sequence[Stop]
) -> list[Left]:
    """List what people are told nobody does on a surface; its stops in order of start.

    An inspection that something comes too late for is not told.
    """
    jobs = problem.jobs
    done: dict[int, tuple[int, int]] = {}
    for stop in stops:
        end = stop.start + jobs[stop.job].duration
        done.setdefault(stop.job, (stop.start, end))
    fallen: dict[int, list[Job]] = {}
    for job in missed_duties(problem, surface, stops):
        root = falls_with(problem, job, done)
        if root is None:
            fallen.setdefault(job.index, [])
        elif root.index not in done:
            fallen.setdefault(root.index, []).append(job)
    return [Left(jobs[number], tuple(own)) for number, own in sorted(fallen.items())]


def falls_with(
    problem: Problem, job: Job, done: dict[int, tuple[int, int]]
) -> Job | None:
    """Give what a duty falls away with: the first not done, or too late to inspect.

    Parameters
    ----------
    done : dict
        Start and end of each job that is done on its surface.
    """
    for link in job.after:
        before = problem.jobs[link.job]
        if link.job not in done:
            return falls_with(problem, before, done) or before
        start, end = done[link.job]
        ready = (start if link.from_start else end) + link.min_gap
        too_late = ready > job.latest - job.duration
        if too_late and job.task.facts.missed_as == "inspection":
            return before
    return None
