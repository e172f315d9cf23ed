"""Where a roster hurts: what costs, by how much and when."""

from dataclasses import dataclass

from scheduler.solver.plan.cost import late_minutes, merged
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job

_LOOK_BACK_MIN = 8 * 60
_DEAR = 0.3  # of what a surface costs on average


@dataclass(frozen=True)
class Sore:
    """Something that costs: a job that could have helped, and when."""

    cost: float
    job: Job
    start: int
    end: int


def sores(plan: Plan) -> list[Sore]:
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
                number = next((j for j in surface.jobs if problem.jobs[j].guards), None)
            if number is not None and dry.cost > 0:
                start = dry.start - _LOOK_BACK_MIN // 2
                found.append(Sore(dry.cost, problem.jobs[number], start, dry.end))
        for job, late in late_minutes(problem, stops):
            if late * job.late_cost > 0:
                begun = [done[i] for i in (job.index, *(f.job for f in job.after))]
                start, end = min(begun) - _LOOK_BACK_MIN // 2, max(begun) + 60
                found.append(Sore(late * job.late_cost, job, start, end))
        for number in surface.jobs:
            job = problem.jobs[number]
            if number not in done and job.missed_cost > 0:
                end = min(job.latest, max(job.due, job.earliest) + _LOOK_BACK_MIN)
                found.append(Sore(job.missed_cost, job, job.earliest, end))
    for turn, cost in plan.turn_costs.items():
        extra = cost.total - cost.travel_min * problem.travel_cost
        stops = merged(plan.by_lane, turn)
        if extra > 0 and stops:
            lane, job = problem.lanes[turn[0]], problem.jobs[stops[-1].job]
            found.append(Sore(extra / 2, job, lane.starts, lane.closes))
    return found


def dear_duties(plan: Plan) -> list[Sore]:
    """List what hurts of duties, dearest first, without what hurts little.

    That is less than a share of what a surface costs on average.
    """
    found = [sore for sore in sores(plan) if not sore.job.repeats]
    least = _DEAR * plan.cost / max(1, len(plan.problem.surfaces))
    found = [sore for sore in found if sore.cost >= least]
    return sorted(found, key=lambda sore: (-sore.cost, sore.job.index))
