"""Where a roster hurts: what costs, by how much and when."""

from dataclasses import dataclass

from scheduler.solver.plan.cost import (
    late_minutes,
    merged_stops,
    price_of_lateness,
)
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job

_LOOK_BACK_MIN = 8 * 60
_DEAR = 0.3  # of what a surface costs on average


@dataclass(frozen=True)
class CostDriver:
    """Something that costs: a job that could have helped, and when."""

    cost: float
    job: Job
    start: int
    end: int


def cost_drivers(plan: Plan) -> list[CostDriver]:
    """Everything in a roster that costs, in a fixed order."""
    problem, found = plan.problem, []
    for surface in problem.surfaces:
        stops = plan.by_surface[surface.index]
        if plan.surface_costs[surface.index].total <= 0:
            continue
        done = {stop.job: stop.start for stop in stops}
        for dry in plan.surface_costs[surface.index].stretches:
            number = surface.rewet if dry.covered else surface.cover_job
            if number is None:
                number = next(
                    (j for j in surface.jobs if problem.jobs[j].protects), None
                )
            if number is not None and dry.cost > 0:
                start = dry.start - _LOOK_BACK_MIN // 2
                found.append(CostDriver(dry.cost, problem.jobs[number], start, dry.end))
        for job, late in late_minutes(problem, stops):
            if (price := price_of_lateness(job, late)) > 0:
                begun = [done[i] for i in (job.index, *(f.job for f in job.after))]
                start, end = min(begun) - _LOOK_BACK_MIN // 2, max(begun) + 60
                found.append(CostDriver(price, job, start, end))
        for number in surface.jobs:
            job = problem.jobs[number]
            if number not in done and job.missed_cost > 0:
                end = min(job.latest, max(job.due, job.earliest) + _LOOK_BACK_MIN)
                found.append(CostDriver(job.missed_cost, job, job.earliest, end))
    for gang_shift, cost in plan.gang_shift_costs.items():
        extra = cost.total - cost.travel_min * problem.travel_cost_per_min
        stops = merged_stops(plan.by_lane, gang_shift)
        if extra > 0 and stops:
            lane, job = problem.lanes[gang_shift[0]], problem.jobs[stops[-1].job]
            found.append(CostDriver(extra / 2, job, lane.starts, lane.closes))
    return found


def costly_duties(plan: Plan) -> list[CostDriver]:
    """List what hurts of duties, dearest first, without what hurts little.

    That is less than a share of what a surface costs on average.
    """
    found = [driver for driver in cost_drivers(plan) if not driver.job.repeats]
    least = _DEAR * plan.cost / max(1, len(plan.problem.surfaces))
    found = [driver for driver in found if driver.cost >= least]
    return sorted(found, key=lambda driver: (-driver.cost, driver.job.index))
