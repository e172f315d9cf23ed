"""How long each surface is dry whatever anybody does: no roster can spare it that.

Each surface is counted as if it had every crew and all the water for itself: whoever
is able to comes at every minute at which it is allowed, walks from home and no further,
finds the covers he wants, and does all of that at once. A true roster does less of it,
so a surface is never dry for less than its floor.
"""

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from models.records import Flags, SurfaceFloor
from scheduler.solver.plan.water import WaterLedger
from scheduler.solver.problem.problem import Job, Problem, Surface

Minutes = NDArray[np.int64]


def floors(problem: Problem) -> tuple[SurfaceFloor, ...]:
    """Give the dry minutes of each surface that no roster can avoid."""
    starts = _Starts(problem)
    return tuple(
        SurfaceFloor(
            surface_id=surface.work.surface_id,
            dry_min=_least_dry_min(problem, surface, starts),
        )
        for surface in problem.surfaces
    )


def _least_dry_min(problem: Problem, surface: Surface, starts: "_Starts") -> int:
    jobs = [problem.jobs[index] for index in surface.jobs]
    endings = [job for job in jobs if job.covers or job.seals]
    guards = [job for job in jobs if job.protects and job not in endings]
    clock, on = surface.minutes, surface.covered_from
    fresh = np.diff(np.asarray(clock.fresh_count)) > 0
    for job in guards:
        if not job.repeats:  # re-wetting needs a cover
            fresh &= ~_spans(starts.of(job), job)
    thirsty = np.diff(np.asarray(clock.covered_count)) > 0
    if on is not None:
        opens = [starts.first(job) + job.half_done for job in endings]
        bare = _before(fresh)[min([max(0, on), problem.horizon, *opens])]
        damp_until = clock.dry_at_start if on <= 0 else min(on, problem.horizon)
        left = thirsty & ~_kept_damp(surface, [*guards, *endings], starts)
        return int(bare + left[damp_until:].sum())
    least = int(fresh.sum())  # nothing is ever laid
    bare_before = _before(fresh)
    for ending in endings:
        at = np.flatnonzero(starts.of(ending))
        dry = bare_before[_kept_from(ending, at, problem.horizon)]
        if not ending.seals:
            others = [job for job in (*guards, *endings) if job is not ending]
            left = thirsty & ~_kept_damp(surface, others, starts)
            dry = dry + left.sum() - _before(left)[_damp_until(surface, ending, at)]
        least = int(dry.min(initial=least))
    return least


def _before(flags: Flags) -> Minutes:
    """Count those before each minute, the end included."""
    return np.concatenate(([0], np.cumsum(flags)))


def _kept_damp(surface: Surface, jobs: Iterable[Job], starts: "_Starts") -> Flags:
    """Find the minutes under the cover that any of some jobs could keep damp."""
    damp = np.zeros(starts.horizon, bool)
    for job in jobs:
        at = np.flatnonzero(starts.of(job))
        since = _kept_from(job, at, starts.horizon)
        damp |= _from_to(since, _damp_until(surface, job, at), starts.horizon)
    return damp


def _kept_from(job: Job, at: Minutes, horizon: int) -> Minutes:
    """First minute that a job begun at a minute keeps damp."""
    return np.minimum(at + job.half_done, horizon)


def _damp_until(surface: Surface, job: Job, at: Minutes) -> Minutes:
    """First minute that a job begun at a minute does not keep damp any more."""
    horizon = len(surface.minutes.dry_at) - 1
    ends = np.minimum(at + job.duration, horizon)
    if job.seals:
        return np.full(len(at), horizon)
    if job.refills:
        ends = np.maximum(ends, np.asarray(surface.minutes.dry_at)[ends])
    return ends


def _spans(starts: Flags, job: Job) -> Flags:
    at, horizon = np.flatnonzero(starts), len(starts)
    until = np.minimum(at + job.duration, horizon)
    return _from_to(_kept_from(job, at, horizon), until, horizon)


def _from_to(first: Minutes, until: Minutes, horizon: int) -> Flags:
    """Mark the minutes that lie in any of some stretches."""
    change = np.zeros(horizon + 1, np.int64)
    np.add.at(change, first, 1)
    np.add.at(change, until, -1)
    marked: Flags = np.cumsum(change[:-1]) > 0
    return marked


class _Starts:
    """Minutes at which somebody could begin a job, whoever else works where."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.horizon = problem, problem.horizon
        self._points = WaterLedger(problem).points
        self._found: dict[int, Flags] = {}
        self._soonest: dict[int, int] = {}

    def of(self, job: Job) -> Flags:
        """Mark the starts of a job."""
        if job.index not in self._found:
            self._found[job.index] = self._allowed(job) & self._watered(job)
        return self._found[job.index]

    def first(self, job: Job) -> int:
        """Give the first start of a job; the end of the plan if there is none."""
        at = np.flatnonzero(self.of(job))
        return int(at[0]) if len(at) else self.horizon

    def _allowed(self, job: Job) -> Flags:
        found = np.zeros(self.horizon, bool)
        soonest = self._after_all(job)
        for index in job.lanes:
            lane = self.problem.lanes[index]
            first, last = self.problem.start_range(job, lane)
            low = max(first, soonest)
            for a, b in lane.breaks:  # in order, and apart
                found[low : max(low, min(last, a - job.duration) + 1)] = True
                low = max(low, b)
            found[low : max(low, last + 1)] = True
        return found

    def _after_all(self, job: Job) -> int:
        """Earliest start after the earliest of all that it follows."""
        if job.index not in self._soonest:
            soonest = max(0, job.earliest)
            for link in job.after:
                other = self.problem.jobs[link.job]
                lasts = 0 if link.from_start else other.duration
                begun = self._after_all(other) + lasts
                soonest = max(soonest, begun + link.min_gap)
            self._soonest[job.index] = soonest
        return self._soonest[job.index]

    def _watered(self, job: Job) -> Flags:
        """Mark the starts at which some point has the flow for a job by itself."""
        if job.draws is None:
            return np.ones(self.horizon, bool)
        found = np.zeros(self.horizon, bool)
        at = np.arange(self.horizon)
        for point in (self._points[index] for index in job.points):
            short = _before(point.free < job.flow_units)
            a, b = (np.minimum(at + part, len(point.free)) for part in job.draws)
            found |= short[a] == short[b]
        return found
