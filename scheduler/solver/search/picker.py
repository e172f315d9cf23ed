"""What is needed to choose a neighbourhood: who is at work, who is served, what costs.

Plain ints of time are minutes from the start of the horizon.
"""

from bisect import bisect_left
from collections.abc import Iterable
from random import Random

from scheduler.solver.plan.cost_drivers import CostDriver
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.lanes import Lane


class Picker:
    """Looks up in a roster what neighbourhoods are chosen by.

    Attributes
    ----------
    scale : float
        Stretches the neighbourhoods, once small ones gain no more.
    """

    def __init__(self, plan: Plan, rng: Random, scale: float = 1.0) -> None:
        self.plan, self.rng, self.scale = plan, rng, scale
        self.problem, self.settings = plan.problem, plan.problem.settings

    def spot(
        self, found: list[CostDriver], weights: list[float]
    ) -> tuple[CostDriver, Lane, int] | None:
        """Draw a cost driver, a shift that could have helped and a minute of it."""
        driver = self.rng.choices(found, weights)[0]
        before_min = self.settings.cost_drivers.before_min
        lanes = [
            lane
            for lane in (self.problem.lanes[i] for i in driver.job.lanes)
            if lane.closes > driver.start - before_min and lane.starts < driver.end
        ]
        if not lanes:
            return None
        lane = self.rng.choice(lanes)
        low = max(lane.starts, driver.start)
        high = max(low, min(lane.closes, driver.end))
        return driver, lane, self.rng.randint(low, high)

    def lanes_within(self, start: int, end: int) -> list[int]:
        """Lanes that are at work in a stretch."""
        return [
            lane.index
            for lane in self.problem.lanes
            if lane.starts < end and lane.closes > start
        ]

    def clipped(self, start: int, end: int) -> tuple[int, int]:
        """Keep a stretch within what can be planned."""
        last = self.problem.horizon + self.settings.random.overrun_min
        return max(0, start), min(end, last)

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

    def costly_surfaces(self, start: int, end: int) -> list[int]:
        """Surfaces by what they cost in a stretch, dearest first."""
        found = []
        for surface in self.problem.surfaces:
            index = surface.index
            cost = self.plan.surface_costs[index]
            if cost.total <= 0:
                continue
            own = cost.late_cost + cost.missed_cost
            for dry in cost.stretches:
                if dry.start < end and dry.end > start:
                    own += dry.cost
            if own > 0:
                found.append((-own, index))
        return [index for _, index in sorted(found)]
