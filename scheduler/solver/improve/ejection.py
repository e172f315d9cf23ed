"""Room for what is dear: a duty takes the place of visits that can go elsewhere.

A cover laid a day late or a duty left out costs more than any neighbourhood in between
shows: no neighbourhood that holds both the time it ought to be done and the time it is
done now is small enough. Here it goes where it ought to be, what stands there is put
out and given a new place, and it all stands if the roster got cheaper.
"""

from collections.abc import Iterator

from scheduler.solver.improve.rewetting import insert_rewets
from scheduler.solver.improve.undo import back_to, standing
from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.plan.cost_drivers import costly_duties
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.plan.soaking import change_with_soaking
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job
from scheduler.solver.start.cheapest_place import assign_duties


def ejection_moves(plan: Plan) -> None:
    """Bring forward dear duties, one after another."""
    for job in dict.fromkeys(driver.job for driver in costly_duties(plan)):
        force_forward(plan, job)


def force_forward(plan: Plan, job: Job) -> None:
    """Bring one duty forward, in the place of others if need be."""
    current = plan.stop_of(job.index)
    for wished in list(_places(plan, job, current)):
        if _put_in(plan, wished, current):
            return


def _places(plan: Plan, job: Job, current: Stop | None) -> Iterator[Stop]:
    """Find places before today's: right away, or after any stop of a shift.

    Or as soon as its covers are there.
    """
    problem = plan.problem
    ends = {stop.job: plan.end(stop) for stop in plan.by_surface[job.surface]}
    if any(link.job not in ends for link in job.after):
        return
    begun = {stop.job: stop.start for stop in plan.by_surface[job.surface]}
    follows = (
        (begun if link.from_start else ends)[link.job] + link.min_gap
        for link in job.after
    )
    low = max([job.opens, *follows])
    high = job.latest - job.duration if current is None else current.start - 1
    if low > high:
        return
    others = [s for s in plan.by_surface[job.surface] if s != current]
    covers_from = plan.covers.earliest_start(job.index, others, low)
    lanes = list(problem.lanes_for(job, low + job.duration, high))
    settings = problem.settings.local_search
    lanes.sort(key=lambda lane: (max(low, lane.starts), lane.index))
    for lane in lanes[: settings.ejection_shifts]:
        starts = [max(low, lane.starts + problem.travel[lane.home][job.zone])]
        starts.append(max(covers_from, starts[0]))
        for stop in merged_stops(plan.by_lane, lane.sharing_people):
            walk = problem.walk(problem.jobs[stop.job], job)
            starts.append(plan.end(stop) + walk)
        starts = [_after_break(lane, job, s) for s in starts if s >= low]
        last = min(high, problem.start_range(job, lane)[1])
        for start in sorted({s for s in starts if s <= last})[
            : settings.ejection_places
        ]:
            yield Stop(start, job.index, lane.index, -1)


def _after_break(lane: Lane, job: Job, start: int) -> int:
    for a, b in lane.breaks:
        if start < b and start + job.duration > a:
            start = b
    return start


def _put_in(plan: Plan, wished: Stop, current: Stop | None) -> bool:
    """Put a job in, and what it puts out elsewhere, if that makes it all cheaper."""
    jobs, before = plan.problem.jobs, plan.cost
    out = _put_out(plan, wished, current)
    touched = dict.fromkeys(jobs[stop.job].surface for stop in (wished, *out))
    then = standing(plan)
    gone = [*([current] if current else []), *out]
    if not (plan.change(gone, [wished]) or change_with_soaking(plan, gone, wished)):
        return False
    assign_duties(plan, [job for s in out if not (job := jobs[s.job]).repeats])
    for surface in touched:
        rewet = plan.problem.surfaces[surface].rewet
        if rewet is not None:
            insert_rewets(plan, jobs[rewet])
    if plan.cost <= before - LEAST_GAIN:
        return True
    back_to(plan, then)
    return False


def _put_out(plan: Plan, wished: Stop, current: Stop | None) -> list[Stop]:
    """Find the stops that leave it no time, and what follows them on their surfaces."""
    problem = plan.problem
    jobs, job = problem.jobs, problem.jobs[wished.job]
    found: dict[Stop, None] = {}
    for stop in _beside(plan, wished):
        other = jobs[stop.job]
        before = stop.start < wished.start + job.duration + problem.walk(job, other)
        after = plan.end(stop) + problem.walk(other, job) > wished.start
        if before and after and stop != current:
            found[stop] = None
    for stop in list(found):
        waiting = set(jobs[stop.job].before)
        for later in plan.by_surface[jobs[stop.job].surface]:
            if later.job in waiting and later not in (current, wished):
                waiting.update(jobs[later.job].before)
                found[later] = None
    return list(found)


def _beside(plan: Plan, wished: Stop) -> list[Stop]:
    """Find all stops of its crew on that shift and of its surface."""
    problem = plan.problem
    own = merged_stops(plan.by_lane, problem.lanes[wished.lane].sharing_people)
    return sorted({*own, *plan.by_surface[problem.jobs[wished.job].surface]})
