"""Moves single visits by minutes, where the neighbourhoods only tell slots apart."""

from bisect import bisect_left

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.openings import lane_openings
from scheduler.solver.plan.plan import LEAST_GAIN, Plan


def shift_starts(plan: Plan) -> None:
    """Let each visit move within what its lane leaves, as long as that pays."""
    for _ in range(plan.problem.settings.local_search.shift_rounds):
        before = plan.cost
        for stop in plan.stops()[::-1]:
            if not plan.is_settled(stop):
                _shift_start(plan, stop)
        if plan.cost > before - LEAST_GAIN:
            return


def _shift_start(plan: Plan, stop: Stop) -> None:
    problem = plan.problem
    job, lane = problem.jobs[stop.job], problem.lanes[stop.lane]
    here = stop.start, stop.start
    spans = lane_openings(plan, job, lane, here, but=stop)
    span = next(((a, b) for a, b in spans if a <= stop.start <= b), None)
    if span is None:
        return
    now = stop
    for start in _candidates(plan, stop, *span):
        moved = now._replace(start=start)
        if start != now.start and plan.improve((now,), (moved,)):
            stops = plan.by_lane[lane.index]
            now = next(s for s in stops if s[:2] == moved[:2])
    if now == stop:
        plan.settle(stop)


def _candidates(plan: Plan, stop: Stop, low: int, high: int) -> list[int]:
    """Minutes at which the cost may bend: at most half a dozen."""
    problem = plan.problem
    job, lane = problem.jobs[stop.job], problem.lanes[stop.lane]
    bends = {low, high, job.due - job.duration, lane.ends - job.duration}
    if job.refills:
        stops = plan.by_surface[job.surface]
        at = stops.index(stop)
        dry_at = problem.surfaces[job.surface].minutes.dry_at
        earlier = [s for s in stops[:at] if problem.jobs[s.job].refills]
        if earlier:  # when what came before runs dry
            bends.add(dry_at[min(plan.end(earlier[-1]), problem.horizon)])
        else:
            bends.add(problem.surfaces[job.surface].minutes.dry_at_start)
        if at + 1 < len(stops):  # just late enough to last until the next visit
            lasting = bisect_left(dry_at, stops[at + 1].start)
            bends.add(lasting - job.duration)
    return sorted(minute for minute in bends if low <= minute <= high)
