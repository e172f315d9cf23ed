"""Jobs as arrays: when a crew that is free now could begin each, and whether in time.

Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.records import Flags
from scheduler.solver.plan.cost import Stop
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job, Problem

Minutes = NDArray[np.int64]


class FreeCrew(NamedTuple):
    """A crew that is free now, and what it does before and after that.

    Attributes
    ----------
    now, since : int
        Minute at which a job is looked for, and at which they set out.
    last : Job or None
        What they did last; None if they come from home.
    around : list
        For each work unit what it did last and its next stop.
    """

    lane: Lane
    now: int
    since: int
    last: Job | None
    around: list[tuple[Job | None, Stop | None]]


class JobArrays:
    """Jobs by row.

    Attributes
    ----------
    numbers, surfaces, earliest, dues, durations, last_starts : arrays of int
        Of each job.
    allowed : array, lanes x jobs
        Which lane may do which.
    """

    def __init__(self, problem: Problem, jobs: Sequence[Job]) -> None:
        self.problem, self.jobs = problem, tuple(jobs)
        self.numbers = _ints(job.index for job in self.jobs)
        self.surfaces = _ints(job.surface for job in self.jobs)
        self.earliest = _ints(job.opens for job in self.jobs)
        self.dues = _ints(job.due for job in self.jobs)
        self.durations = _ints(job.duration for job in self.jobs)
        self.last_starts = _ints(job.latest - job.duration for job in self.jobs)
        self._zones = _ints(job.zone for job in self.jobs)
        self._travel = np.array(problem.travel, np.int64)
        self.allowed = np.zeros((len(problem.lanes), len(self.jobs)), bool)
        for row, job in enumerate(self.jobs):
            self.allowed[list(job.lanes), row] = True

    def walks(self, crew: FreeCrew, last: Job | None, rows: slice) -> Minutes:
        """Give the walks to each from where a job was the last."""
        zone = crew.lane.home if last is None else last.zone
        return self._but_same(self._travel[zone], last, rows)

    def in_time(
        self, crew: FreeCrew, look_ahead_min: int, rows: slice
    ) -> tuple[Minutes, Flags]:
        """First start of each, and whether it is near and leaves time for the next."""
        walks = [self.walks(crew, last, rows) for last, _ in crew.around]
        ready = crew.since + (walks[0] if len(walks) == 1 else np.max(walks, axis=0))
        starts: Minutes = np.maximum(ready, self.earliest[rows])
        ends = starts + self.durations[rows]
        near: Flags = starts <= crew.now + look_ahead_min
        for _, coming in crew.around:
            if coming is None:
                near &= ends <= crew.lane.ends
            else:
                there = self.problem.jobs[coming.job]
                walk = self._but_same(self._travel[:, there.zone], there, rows)
                near &= ends + walk <= coming.start
        return starts, near

    def _but_same(self, travel: Minutes, other: Job | None, rows: slice) -> Minutes:
        """Give the walks by zone to each job; none on the surface of another job."""
        walks: Minutes = travel[self._zones[rows]]
        if other is not None and not self.problem.walks_on_surface:
            walks[self.surfaces[rows] == other.surface] = 0
        return walks


def _ints(values: Iterable[int]) -> Minutes:
    return np.fromiter(values, np.int64)
