"""Cost drivers: what a roster costs, where, and which work could have spared it.

Plain ints of time are minutes from the start of the horizon.
"""

from dataclasses import dataclass

from scheduler.solver.plan.cost import (
    late_minutes,
    merged_stops,
    price_of_lateness,
)
from scheduler.solver.plan.fallen import left_undone
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job


@dataclass(frozen=True)
class CostDriver:
    """Something that costs, a job that could have helped, and from when to when."""

    cost: float
    job: Job
    start: int
    end: int


def cost_drivers(plan: Plan) -> list[CostDriver]:
    """Everything in a roster that costs, in a fixed order."""
    problem, found = plan.problem, []
    settings = problem.settings.cost_drivers
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
                start = dry.start - settings.before_min
                found.append(CostDriver(dry.cost, problem.jobs[number], start, dry.end))
        for job, late in late_minutes(problem, stops):
            price = price_of_lateness(job, late)
            if price > 0 and done[job.index] >= problem.begun_until:
                begun = [done[i] for i in (job.index, *(f.job for f in job.after))]
                start = min(begun) - settings.before_min
                end = max(begun) + settings.late_after_min
                found.append(CostDriver(price, job, start, end))
        for job, fallen in left_undone(problem, surface, stops):
            due = max(job.due, job.opens)
            end = min(job.latest, due + settings.missed_after_min)
            price = job.missed_cost + sum(other.missed_cost for other in fallen)
            found.append(CostDriver(price, job, job.opens, end))
    for gang_shift, cost in plan.gang_shift_costs.items():
        extra = cost.total - cost.travel_min * problem.travel_cost_per_min
        stops = merged_stops(plan.by_lane, gang_shift)
        if extra > 0 and stops:
            lane, job = problem.lanes[gang_shift[0]], problem.jobs[stops[-1].job]
            found.append(CostDriver(extra / 2, job, lane.starts, lane.closes))
    return found


def costly_duties(plan: Plan) -> list[CostDriver]:
    """List the costly duties, dearest first: a share of a surface's average or more."""
    found = [driver for driver in cost_drivers(plan) if not driver.job.repeats]
    share = plan.problem.settings.cost_drivers.costly_share
    least = share * plan.cost / max(1, len(plan.problem.surfaces))
    found = [driver for driver in found if driver.cost >= least]
    return sorted(found, key=lambda driver: (-driver.cost, driver.job.index))
