"""Where a roster hurts: what costs, and what lies around it.

Windows are drawn around such sores, dear ones more often.
"""

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

from scheduler.solver.cost import late_minutes, merged
from scheduler.solver.lanes import Lane
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job

_LOOK_BACK_MIN = 8 * 60
_OVERRUN_MIN = 240
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


class Picker:
    """Draws windows around the sores of a roster.

    ``scale`` stretches them, once small ones gain no more.
    """

    def __init__(self, plan: Plan, rng: Random, scale: float = 1.0) -> None:
        self.plan, self.rng, self.scale = plan, rng, scale
        self.problem = plan.problem

    def spot(
        self, found: list[Sore], weights: list[float]
    ) -> tuple[Sore, Lane, int] | None:
        """Draw a sore, a shift that could have helped and a minute of it."""
        sore = self.rng.choices(found, weights)[0]
        lanes = [
            lane
            for lane in (self.problem.lanes[i] for i in sore.job.lanes)
            if lane.closes > sore.start - _LOOK_BACK_MIN // 2 and lane.starts < sore.end
        ]
        if not lanes:
            return None
        lane = self.rng.choice(lanes)
        low = max(lane.starts, sore.start)
        high = max(low, min(lane.closes, sore.end))
        return sore, lane, self.rng.randint(low, high)

    def lanes_within(self, start: int, end: int) -> list[int]:
        """Lanes that are at work in a stretch."""
        return [
            lane.index
            for lane in self.problem.lanes
            if lane.starts < end and lane.closes > start
        ]

    def clipped(self, start: int, end: int) -> tuple[int, int]:
        """Keep a stretch within what can be planned."""
        return max(0, start), min(end, self.problem.horizon + _OVERRUN_MIN)

    def stops_within(self, lanes: Iterable[int], start: int, end: int) -> int:
        """Count the stops of some lanes that begin in a stretch."""
        own = (self.plan.by_lane[lane] for lane in lanes)
        return sum(bisect_left(o, (end,)) - bisect_left(o, (start,)) for o in own if o)

    def surfaces_served(self, lanes: list[int], start: int, end: int) -> list[int]:
        """Surfaces with a stop of some lanes in a stretch, in the order of stops."""
        return list(self.stops_by_surface(lanes, start, end))

    def stops_by_surface(
        self, lanes: list[int], start: int, end: int
    ) -> dict[int, int]:
        """Count the stops of some lanes in a stretch, surface by surface."""
        jobs, found = self.problem.jobs, dict[int, int]()
        stops = sorted(
            stop
            for lane in lanes
            for stop in self.plan.by_lane[lane]
            if start <= stop.start and self.plan.end(stop) <= end
        )
        for stop in stops:
            index = jobs[stop.job].surface
            found[index] = found.get(index, 0) + 1
        return found

    def sore_surfaces(self, start: int, end: int) -> list[tuple[float, int]]:
        """Surfaces by what they cost in a stretch, dearest first."""
        found = []
        for surface in self.problem.surfaces:
            index = surface.index
            cost = self.plan.surface_costs[index]
            if cost.total <= 0:
                continue
            own = cost.late + cost.missed
            for dry in cost.stretches:
                if dry.start < end and dry.end > start:
                    own += dry.cost
            if own > 0:
                found.append((-own, index))
        return sorted(found)
