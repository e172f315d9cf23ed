"""Brings late duties forward, to whoever is free first; neighbourhoods pass such by."""

from scheduler.solver.plan.cost import Stop, late_minutes
from scheduler.solver.plan.openings import lane_openings
from scheduler.solver.plan.plan import Plan


def bring_forward(plan: Plan) -> None:
    """Give each late duty to the crew that can begin it soonest, if that pays."""
    for surface in plan.problem.surfaces:
        late = {
            job.index
            for job, _ in late_minutes(plan.problem, plan.by_surface[surface.index])
        }
        for stop in [s for s in plan.by_surface[surface.index] if s.job in late]:
            _bring_forward(plan, stop)


def _bring_forward(plan: Plan, stop: Stop) -> None:
    problem = plan.problem
    job = problem.jobs[stop.job]
    near = job.earliest, stop.start - 1
    starts = [
        (low, lane.index)
        for lane in problem.lanes_for(job, *near)
        for low, _ in lane_openings(plan, job, lane, near, but=stop)
        if near[0] <= low <= near[1]
    ]
    for start, lane_index in sorted(starts):
        if plan.improve((stop,), (Stop(start, job.index, lane_index, stop.point),)):
            return
