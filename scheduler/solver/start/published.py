"""Visits of a published roster, put back where they still fit.

Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Iterable

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.problem.problem import Job, Problem

_SAME_COST = 1e-4  # written down, costs are rounded


def place_published(plan: Plan, jobs: Iterable[Job]) -> bool:
    """Put in the published visits of some jobs that are not done, as far as they fit.

    Returns
    -------
    bool
        Whether all of them are in the roster now.
    """
    published = plan.problem.published
    if published is None:
        return False
    visits = (visit for job in jobs for visit in published.by_job.get(job.index, ()))
    waiting = sorted(
        Stop(visit.start, visit.job, visit.lane, visit.point)
        for visit in visits
        if not _is_done(plan, visit.job, visit.start, visit.lane)
    )
    if any(stop.lane < 0 for stop in waiting):
        waiting = [stop for stop in waiting if stop.lane >= 0]
    elif plan.change((), waiting):
        return True
    for stop in waiting:
        plan.change((), (stop,))
    return False


def place_published_visit(plan: Plan, job: Job) -> bool:
    """Put in the published visit of a job that is not done yet, if it fits."""
    published = plan.problem.published
    visits = () if published is None else published.by_job.get(job.index, ())
    return any(
        plan.change((), (Stop(visit.start, visit.job, visit.lane, visit.point),))
        for visit in visits
        if visit.lane >= 0
    )


def _is_done(plan: Plan, number: int, start: int, lane: int) -> bool:
    """Whether a job is done there, or anywhere if it is done but once."""
    job = plan.problem.jobs[number]
    return any(
        stop.job == number
        and (not job.repeats or (stop.start, stop.lane) == (start, lane))
        for stop in plan.by_surface[job.surface]
    )


def unchanged_published(problem: Problem) -> Plan | None:
    """Give the published roster itself, if all of it still fits at the same cost.

    Nothing that matters to it has happened then, and nobody has to be told anything.
    """
    published, plan = problem.published, Plan(problem)
    if published is None or published.obsolete:
        return None
    if not place_published(plan, problem.jobs):
        return None
    return plan if abs(plan.cost - published.cost) < _SAME_COST else None


def restore_published(plan: Plan) -> None:
    """Move visits to their published place wherever the roster gets no dearer by it.

    The search moves by minutes what may as well stay as it stands on people's sheets.
    """
    published = plan.problem.published
    if published is None:
        return
    for visit in published.visits:
        place = Stop(visit.start, visit.job, visit.lane, visit.point)
        surface = plan.problem.jobs[visit.job].surface
        own = [stop for stop in plan.by_surface[surface] if stop.job == visit.job]
        here = min(own, key=lambda stop: abs(stop.start - visit.start), default=None)
        if here is not None and here != place and visit.lane >= 0:
            plan.change((here,), (place,), least_gain=-LEAST_GAIN)
    plan.recount()
