"""Visits of a place drawn together, so that a lead has a few rounds a shift.

Walking is cheap against dry concrete, so the search leaves visits of a zone scattered
where that costs next to nothing. Here single visits are moved next to another one of
their zone, of their own shift or of one that is at work then, where the roster gets no
dearer: cost first, then the number of rounds. What keeps a surface wet only ever moves
to an earlier time, which is the safer one; what does not may also wait.
"""

from bisect import insort
from math import inf

from scheduler.solver.plan.cost import Stop, merged_stops, surface_cost
from scheduler.solver.plan.openings import neighbours
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.plan.rules import surface_fits


def group_into_rounds(plan: Plan) -> None:
    """Move single visits as long as that makes fewer rounds."""
    for _ in range(plan.problem.settings.local_search.round_passes):
        moved = False
        for later in (False, True):
            for stop in plan.stops():
                moved |= _join(plan, stop, later=later)
        if not moved:
            break
    plan.recount()


def _join(plan: Plan, stop: Stop, *, later: bool) -> bool:
    """Move one visit beside another of its zone, if that saves a round."""
    if later and plan.problem.jobs[stop.job].affects_dryness:
        return False
    own = _rounds_by(plan, stop, stop)
    if not own:
        return False  # in the midst of a round
    spared: dict[int, float] = {}
    # What else a move can save at the most: all that the shift costs, and all that
    # the surface's visits change of a published roster.
    most = plan.gang_shift_costs[plan.problem.lanes[stop.lane].gang_shift].total
    most += plan.surface_costs[plan.problem.jobs[stop.job].surface].changes_cost
    for moved in _beside(plan, stop, later=later):
        if not _has_room(plan, moved, stop) or _rounds_by(plan, moved, stop) >= own:
            continue
        if moved.start not in spared:
            spared[moved.start] = _spared(plan, stop, moved)
        if spared[moved.start] + most < -LEAST_GAIN:
            continue
        if plan.change((stop,), (moved,), least_gain=-LEAST_GAIN):
            return True
    return False


def _rounds_by(plan: Plan, stop: Stop, but: Stop) -> int:
    """Count the rounds that a visit adds to a shift in which another is left out."""
    before, after = neighbours(plan.by_lane[stop.lane], stop, but)
    if before is None or after is None:
        first, second = (before, stop) if after is None else (stop, after)
        return first is None or _parted(plan, first, second)
    parted = _parted(plan, before, stop) + _parted(plan, stop, after)
    return parted - _parted(plan, before, after)


def _has_room(plan: Plan, stop: Stop, but: Stop) -> bool:
    """Whether visits before and after leave time for one, and for the walks."""
    problem = plan.problem
    job = problem.jobs[stop.job]
    for own in problem.lanes[stop.lane].lanes_by_unit:
        before, after = neighbours(merged_stops(plan.by_lane, own), stop, but)
        if before is not None:
            ahead = problem.jobs[before.job]
            if plan.end(before) + problem.walk(ahead, job) > stop.start:
                return False
        if after is not None:
            walk = problem.walk(job, problem.jobs[after.job])
            if plan.end(stop) + walk > after.start:
                return False
    return True


def _parted(plan: Plan, here: Stop, there: Stop) -> bool:
    """Whether two visits of a shift, one after the other, are in different rounds."""
    jobs = plan.problem.jobs
    if jobs[here.job].zone != jobs[there.job].zone:
        return True
    return (
        there.start - plan.end(here)
        > plan.problem.settings.local_search.round_pause_min
    )


def _spared(plan: Plan, stop: Stop, moved: Stop) -> float:
    """Give what a move spares the surface; less than nothing if it may not be."""
    problem, index = plan.problem, plan.problem.jobs[stop.job].surface
    stops = [one for one in plan.by_surface[index] if one != stop]
    insort(stops, moved)
    surface = problem.surfaces[index]
    if not surface_fits(problem, surface, stops):
        return -inf
    return (
        plan.surface_costs[index].curing_cost
        - surface_cost(problem, surface, stops).curing_cost
    )


def _beside(plan: Plan, stop: Stop, *, later: bool) -> list[Stop]:
    """Find places next to visits of the same zone, the earlier ones first."""
    problem, jobs = plan.problem, plan.problem.jobs
    job = jobs[stop.job]
    lanes = list(problem.lanes_for(job, stop.start, stop.start))
    most = problem.settings.local_search.round_lanes
    if len(lanes) > most:
        near = problem.travel[job.zone]
        lanes.sort(key=lambda one: (one.index != stop.lane, near[one.home], one.index))
    found: set[Stop] = set()
    for lane in lanes[:most]:
        low, high = problem.start_range(job, lane)
        low, high = (stop.start + 1, high) if later else (low, min(high, stop.start))
        for other in plan.by_lane[lane.index]:
            there = jobs[other.job]
            if there.zone != job.zone or other == stop:
                continue
            after = other.start + there.duration + problem.walk(there, job)
            before = other.start - problem.walk(job, there) - job.duration
            for start in (before, after):
                if low <= start <= high:
                    found.add(stop._replace(start=start, lane=lane.index))
    return sorted(found - {stop})
