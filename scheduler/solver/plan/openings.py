"""Where one more job could still go: minutes that a lane and a surface leave open.

Plain ints of time are minutes from the start of the horizon.
"""

from bisect import bisect_left
from collections.abc import Iterator
from functools import reduce
from itertools import islice

from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job

Span = tuple[int, int]
"""First and last minute at which the job may start."""


def lane_openings(
    plan: Plan,
    job: Job,
    lane: Lane,
    near: Span | None = None,
    *,
    but: Stop | None = None,
    walks: bool = True,
) -> list[Span]:
    """Find the starts that a shift, its breaks, walks and other stops leave to a job.

    Parameters
    ----------
    near : Span or None
        Only openings that meet this one are looked for; None: all of the shift.
    but : Stop or None
        A stop that does not count.
    walks : bool
        False asks what there would be if nobody had to walk between jobs.
    """
    first, *others = (
        _between(plan, job, lane, merged_stops(plan.by_lane, lanes), near, but, walks)
        for lanes in lane.lanes_by_unit
    )
    spans = reduce(intersected, others, first)
    for a, b in lane.breaks:
        spans = list(_without(spans, a - job.duration + 1, b - 1))
    return spans


def _between(
    plan: Plan,
    job: Job,
    lane: Lane,
    stops: list[Stop],
    near: Span | None,
    but: Stop | None,
    walks: bool,
) -> list[Span]:
    """Find the starts that the stops of one work unit leave to a job."""
    problem = plan.problem
    first, last = problem.start_range(job, lane)
    near_first, near_last = near or (first, last)
    # What lies before two stops that begin before the stretch ends before it.
    at = max(0, bisect_left(stops, (near_first,)) - 2)
    spans: list[Span] = []
    low = first
    for stop in islice(stops, at, None):
        if stop == but:
            continue
        other = problem.jobs[stop.job]
        to, away = (
            (problem.walk(other, job), problem.walk(job, other)) if walks else (0, 0)
        )
        high = min(stop.start - away - job.duration, last)
        if low <= high and high >= near_first:
            spans.append((low, high))
        low = max(low, stop.start + other.duration + to)
        if low > near_last:
            return spans
    if low <= last and last >= near_first:
        spans.append((low, last))
    return spans


def surface_openings(
    plan: Plan, job: Job, covers_from: int | None = None
) -> list[Span]:
    """Find the starts that a job's links, other stops and free covers leave to it.

    Parameters
    ----------
    covers_from : int or None
        First minute at which it can have its covers; None: as the plan stands.
    """
    problem = plan.problem
    surface = problem.surfaces[job.surface]
    stops = plan.by_surface[job.surface]
    ends = {stop.job: plan.end(stop) for stop in reversed(stops)}
    starts = {stop.job: stop.start for stop in reversed(stops)}
    low, high = job.opens, job.latest - job.duration
    if not job.repeats and job.index in ends:
        return []
    for link in job.after:
        if link.job not in ends:
            return []
        begun = starts if link.from_start else ends
        low = max(low, begun[link.job] + link.min_gap)
    for follower in job.before:
        if follower in starts:
            link = next(f for f in problem.jobs[follower].after if f.job == job.index)
            lasts = 0 if link.from_start else job.duration
            high = min(high, starts[follower] - link.min_gap - lasts)
    if job.repeats:
        on = surface.covered_from
        if surface.cover_job in ends:
            laid = ends[surface.cover_job]
            on = laid if on is None else min(on, laid)
        if on is None:
            return []
        low = max(low, on)
    if covers_from is None:
        covers_from = plan.covers.earliest_start(job.index, stops, low)
    low = max(low, covers_from)
    if job.covers and surface.rewet in starts:
        high = min(high, starts[surface.rewet] - job.duration)
    return beside_others(plan, job, (low, high))


def beside_others(
    plan: Plan, job: Job, span: Span, but: Stop | None = None
) -> list[Span]:
    """Find the starts in a span that the other stops of a job's surface leave to it."""
    spans = [span] if span[0] <= span[1] else []
    for stop in plan.by_surface[job.surface]:
        if stop != but and not job.is_beside(plan.problem.jobs[stop.job]):
            busy = stop.start - job.duration + 1, plan.end(stop) - 1
            spans = list(_without(spans, *busy))
    return spans


def neighbours(
    stops: list[Stop], stop: Stop, but: Stop | None = None
) -> tuple[Stop | None, Stop | None]:
    """Find what comes before and after a visit, another one left out."""
    at = bisect_left(stops, stop)
    before = at - 1 if at and stops[at - 1] != but else at - 2
    while at < len(stops) and stops[at] in (stop, but):
        at += 1
    return (
        stops[before] if before >= 0 else None,
        stops[at] if at < len(stops) else None,
    )


def hull(spans: list[Span]) -> Span:
    """From the first to the last minute of spans in order; empty if there are none."""
    return (spans[0][0], spans[-1][1]) if spans else (0, -1)


def intersected(one: list[Span], other: list[Span]) -> list[Span]:
    """Minutes that lie in both lists of spans, each in order and without overlaps."""
    found: list[Span] = []
    at = other_at = 0
    while at < len(one) and other_at < len(other):
        low = max(one[at][0], other[other_at][0])
        high = min(one[at][1], other[other_at][1])
        if low <= high:
            found.append((low, high))
        if one[at][1] < other[other_at][1]:
            at += 1
        else:
            other_at += 1
    return found


def _without(spans: list[Span], first: int, last: int) -> Iterator[Span]:
    """Take the minutes from first to last out of the spans."""
    for low, high in spans:
        if last < low or first > high or first > last:
            yield low, high
            continue
        if low < first:
            yield low, first - 1
        if last < high:
            yield last + 1, high
