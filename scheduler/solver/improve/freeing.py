"""Covers that lie on cured concrete, fetched for what waits bare for them.

Lifting gains nothing by itself, and laying cannot come first: no single visit shows
what both are worth. Here a cover is lifted as soon as people can, what waits for it is
laid, and it all stands if the roster got cheaper. Plain ints of time are minutes from
the start of the horizon.
"""

from scheduler.solver.improve.ejection import force_forward
from scheduler.solver.improve.rewetting import insert_rewets
from scheduler.solver.improve.undo import back_to, standing
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.cost_drivers import cost_drivers
from scheduler.solver.plan.covers import Need
from scheduler.solver.plan.openings import beside_others, intersected, lane_openings
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.problem.problem import Job
from scheduler.solver.start.cheapest_place import assign_duties


def fetch_covers(plan: Plan) -> None:
    """Lift sooner what bare surfaces wait for, the dearest first."""
    dear = sorted(cost_drivers(plan), key=lambda one: (-one.cost, one.job.index))
    bare = (one.job for one in dear if one.job.affects_dryness and not one.job.repeats)
    for surface in dict.fromkeys(job.surface for job in bare):
        for index in plan.covers.of_surface.get(surface, ()):
            _fetch_for(plan, plan.covers.needs[index])


def _fetch_for(plan: Plan, need: Need) -> None:
    """Try what holds the covers of a need, the soonest free first."""
    if need.laid_by is None:
        return
    job = plan.problem.jobs[need.laid_by]
    laid = plan.stop_of(need.laid_by)
    until = job.latest - job.duration if laid is None else laid.start
    if until <= job.opens or plan.covers.free_from(need, until) <= job.opens:
        return
    for holder in plan.covers.holders(need, job.opens, until):
        if holder.surface != need.surface and _fetch(plan, holder, need):
            return


def _fetch(plan: Plan, holder: Need, need: Need) -> bool:
    """Lift from one surface and lay on another, if that makes it all cheaper."""
    before, then = plan.cost, standing(plan)
    if _lift_sooner(plan, holder):
        _lay_soonest(plan, need)
        if plan.cost <= before - LEAST_GAIN:
            return True
    back_to(plan, then)
    return False


def _lift_sooner(plan: Plan, holder: Need) -> bool:
    """Do all that lifts a cover as soon as somebody can; False if none is sooner."""
    jobs = plan.problem.jobs
    moved = [_put_sooner(plan, jobs[index]) for index in _lifting(plan, holder)]
    return any(moved)


def _lifting(plan: Plan, holder: Need) -> list[int]:
    """Jobs with which a cover comes off, what goes before them first."""
    jobs, found = plan.problem.jobs, list(holder.lifted_by)
    for index in found:
        before = (link.job for link in jobs[index].after)
        found += [i for i in before if i not in found and jobs[i].task.facts.uncovers]
    return sorted(found, key=lambda index: (jobs[index].opens, index))


def _put_sooner(plan: Plan, job: Job) -> bool:
    """Give a job to whoever is free first, if that is sooner than it is done now."""
    problem, current = plan.problem, plan.stop_of(job.index)
    own = {stop.job: stop for stop in plan.by_surface[job.surface]}
    if any(link.job not in own for link in job.after):
        return False
    follows = (
        link.min_gap
        + (own[link.job].start if link.from_start else plan.end(own[link.job]))
        for link in job.after
    )
    low = max([job.opens, *follows])
    high = current.start - 1 if current else job.latest - job.duration
    mine = beside_others(plan, job, (low, high), current)
    places = sorted(
        (first, lane.index)
        for lane in problem.lanes_for(job, low + job.duration, high)
        if lane.shift.kind == "shift"
        for first, _ in intersected(
            lane_openings(plan, job, lane, (low, high), but=current), mine
        )
    )
    gone = (current,) if current else ()
    return any(
        plan.change(gone, (Stop(start, job.index, lane_index, -1),))
        for start, lane_index in places[: problem.settings.local_search.fetch_places]
    )


def _lay_soonest(plan: Plan, need: Need) -> None:
    """Bring a surface's laying forward, strip by strip, and what follows it."""
    problem = plan.problem
    surface = problem.surfaces[need.surface]
    own = [problem.jobs[index] for index in surface.jobs]
    for job in own:
        if job.strip or job.index == need.laid_by:
            force_forward(plan, job)
    assign_duties(plan, [job for job in own if not job.repeats])
    if surface.rewet is not None:
        insert_rewets(plan, problem.jobs[surface.rewet])
