"""Visits of a place drawn together, so that a lead has a few rounds a shift.

Walking is cheap against dry concrete, so the search leaves visits of a zone scattered
where that costs next to nothing. Here single visits are moved next to another one of
their zone, of their own shift or of one that is at work then, where the roster gets no
dearer: cost first, then the number of rounds. What keeps a surface wet only ever moves
to an earlier time, which is the safer one; what does not may also wait.
"""

from itertools import pairwise

from scheduler.solver.cost import Stop
from scheduler.solver.openings import lane_openings
from scheduler.solver.plan import LEAST_GAIN, Plan

#: A longer pause is a walk of its own; an assumption, as for what phones show.
PAUSE_MIN = 10
_PASSES = 2


def gather(plan: Plan) -> None:
    """Move single visits as long as that makes fewer rounds."""
    for _ in range(_PASSES):
        moved = False
        for later in (False, True):
            for stop in plan.stops():
                moved |= _join(plan, stop, later=later)
        if not moved:
            break
    plan.recount()


def rounds_of(plan: Plan, stops: list[Stop]) -> int:
    """Count the rounds in a shift: runs of visits to a zone without a long pause."""
    jobs = plan.problem.jobs
    breaks = sum(
        jobs[here.job].zone != jobs[there.job].zone
        or there.start - plan.end(here) > PAUSE_MIN
        for here, there in pairwise(stops)
    )
    return breaks + bool(stops)


def _join(plan: Plan, stop: Stop, *, later: bool) -> bool:
    """Move one visit beside another of its zone, if that saves a round."""
    if later and plan.problem.jobs[stop.job].matters:
        return False
    here = plan.by_lane[stop.lane]
    if rounds_of(plan, here) == rounds_of(plan, [one for one in here if one != stop]):
        return False  # in the midst of a round
    return any(
        _saves_a_round(plan, stop, moved)
        and plan.change((stop,), (moved,), least_gain=-LEAST_GAIN)
        for moved in _beside(plan, stop)
        if (moved.start > stop.start) == later
    )


def _saves_a_round(plan: Plan, stop: Stop, moved: Stop) -> bool:
    saved = 0
    for lane in {stop.lane, moved.lane}:
        before = plan.by_lane[lane]
        after = [one for one in before if one != stop]
        after = sorted([*after, moved]) if lane == moved.lane else after
        saved += rounds_of(plan, before) - rounds_of(plan, after)
    return saved > 0


def _beside(plan: Plan, stop: Stop) -> list[Stop]:
    """Find free places next to visits of the same zone, the earlier ones first."""
    problem = plan.problem
    job = problem.jobs[stop.job]
    found: list[Stop] = []
    for index in job.lanes:
        lane, starts = problem.lanes[index], set[int]()
        if not lane.starts <= stop.start <= lane.closes:
            continue
        for other in plan.by_lane[index]:
            there = problem.jobs[other.job]
            if other != stop and there.zone == job.zone:
                starts.add(plan.end(other) + problem.walk(there, job))
                starts.add(other.start - problem.walk(job, there) - job.duration)
        if starts:
            own = stop if index == stop.lane else None
            spans = lane_openings(plan, job, lane, but=own)
            free = (s for s in starts if any(a <= s <= b for a, b in spans))
            found += [stop._replace(start=start, lane=index) for start in free]
    return sorted(one for one in found if one != stop)
