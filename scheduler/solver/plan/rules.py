"""May these stops stand? One work unit, surface, rest or limit on hours at a time.

Water is asked for in ``water.py``. Everything here is hard: a roster that breaks one of
these rules is never made. Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from scheduler.solver.plan.cost import Stop, beyond_shift_min, merged_stops
from scheduler.solver.problem.lanes import Lane, UnitLimit
from scheduler.solver.problem.problem import Job, Problem, Surface


def stop_fits(problem: Problem, job: Job, lane: Lane, start: int) -> bool:
    """Whether a job may stand in a lane at a minute, by itself."""
    first, last = problem.start_range(job, lane)
    if not first <= start <= last or not job.allows(lane.index):
        return False
    end = start + job.duration
    return all(end <= a or start >= b for a, b in lane.breaks)


def is_at_work(problem: Problem, stop: Stop) -> bool:
    """Whether the crew of a stop is at work then: in its shift, and on no break."""
    lane, job = problem.lanes[stop.lane], problem.jobs[stop.job]
    opens = lane.starts + problem.travel[lane.home][job.zone]
    end = stop.start + job.duration
    return (
        opens <= stop.start
        and end <= lane.closes
        and not any(stop.start < b and a < end for a, b in lane.breaks)
    )


def lane_fits(problem: Problem, stops: Sequence[Stop]) -> bool:
    """Whether the stops of a lane, or of a unit in its lanes, leave time to walk."""
    jobs = problem.jobs
    for here, there in pairwise(stops):
        job = jobs[here.job]
        ready = here.start + job.duration + problem.walk(job, jobs[there.job])
        if there.start < ready:
            return False
    return True


def crews_fit(
    problem: Problem, lanes: Iterable[int], by_lane: Sequence[list[Stop]]
) -> bool:
    """Whether those who work in some lanes have time to walk, rest and hours left."""
    touched = [problem.lanes[i] for i in lanes]
    sequences = dict.fromkeys(own for lane in touched for own in lane.lanes_by_unit)
    units = sorted({unit for lane in touched for unit in lane.work_units})
    return (
        all(lane_fits(problem, merged_stops(by_lane, own)) for own in sequences)
        and all(rest_fits(problem, unit, by_lane) for unit in units)
        and all(hours_fit(problem, unit, by_lane) for unit in units)
    )


def surface_fits(problem: Problem, surface: Surface, stops: Sequence[Stop]) -> bool:
    """Whether a surface has one job at a time, each visit after what it follows.

    What has begun is not asked: it happened.
    """
    jobs = problem.jobs
    ends: dict[int, int] = {}
    starts: dict[int, int] = {}
    busy_until: dict[str, int] = {}  # by groups of jobs that may be beside each other
    cover_on = surface.covered_from
    for stop in stops:
        job = jobs[stop.job]
        end = stop.start + job.duration
        asked = stop.start >= problem.begun_until
        for group, until in busy_until.items():
            if asked and stop.start < until and (not group or group != job.group):
                return False
        busy_until[job.group] = max(end, busy_until.get(job.group, 0))
        if asked and job.repeats:
            if cover_on is None or stop.start < cover_on:
                return False
        elif asked and stop.job in ends:
            return False
        for link in job.after if asked else ():
            begun = starts if link.from_start else ends
            if link.job not in begun or stop.start < begun[link.job] + link.min_gap:
                return False
        ends.setdefault(stop.job, end)
        starts.setdefault(stop.job, stop.start)
        if job.covers:
            cover_on = end if cover_on is None else min(cover_on, end)
    return True


def rest_fits(problem: Problem, unit: int, by_lane: Sequence[list[Stop]]) -> bool:
    """Whether a work unit rests long enough between the shifts it works in."""
    jobs = problem.jobs
    free_from: int | None = None
    gang_shifts = (
        merged_stops(by_lane, lanes) for lanes in problem.gang_shifts_of_unit[unit]
    )
    worked = [stops for stops in gang_shifts if stops]
    for stops in sorted(worked, key=lambda own: own[0].start):
        if free_from is not None and stops[0].start < free_from:
            return False
        last = stops[-1]
        free_from = last.start + jobs[last.job].duration + problem.rest_min
    return True


def hours_fit(problem: Problem, unit: int, by_lane: Sequence[list[Stop]]) -> bool:
    """Whether a work unit's overtime and call-outs keep to each limit on its hours."""
    return not any(broken_limits(problem, unit, by_lane))


def broken_limits(
    problem: Problem, unit: int, by_lane: Sequence[list[Stop]]
) -> Iterator[UnitLimit]:
    """Yield the weeks, days and call-outs in which a work unit works too long."""
    for limit in problem.limits_of_unit[unit]:
        if beyond_shifts_min(problem, limit, by_lane) > limit.left_min:
            yield limit


def beyond_shifts_min(
    problem: Problem, limit: UnitLimit, by_lane: Sequence[list[Stop]]
) -> int:
    """Overtime and call-outs of a work unit in one week, day or call-out."""
    return sum(
        beyond_shift_min(problem, problem.lanes[own[0]], merged_stops(by_lane, own))
        for own in limit.gang_shifts
    )
