"""A roster in the making: stops by surface and by lane, cost, water and covers.

Every change is tried whole: either all of it stands and the exact new cost is known,
or nothing has happened. Plain ints of time are minutes from the start of the horizon.
"""

from bisect import insort
from collections.abc import Iterable, Iterator, Sequence
from operator import is_

from scheduler.solver.plan.cost import (
    GangShiftCost,
    Stop,
    SurfaceCost,
    gang_shift_cost,
    surface_cost,
)
from scheduler.solver.plan.covers import CoverLedger
from scheduler.solver.plan.rules import (
    crews_fit,
    is_at_work,
    stop_fits,
    surface_fits,
)
from scheduler.solver.plan.water import Draw, WaterLedger
from scheduler.solver.problem.problem import Problem

LEAST_GAIN = 1e-6  # costs are sums of decimals: less is noise


class Plan:
    """Stops that keep every rule, and what they cost.

    ``cost`` is carried along from change to change, but for noise exactly.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.by_surface: list[list[Stop]] = [[] for _ in problem.surfaces]
        self.by_lane: list[list[Stop]] = [[] for _ in problem.lanes]
        self.water = WaterLedger(problem)
        self.covers = CoverLedger(problem)
        self.surface_costs: list[SurfaceCost] = [
            surface_cost(problem, surface, ()) for surface in problem.surfaces
        ]
        self.gang_shift_costs: dict[tuple[int, ...], GangShiftCost] = {
            lane.gang_shift: gang_shift_cost(problem, lane.gang_shift, self.by_lane)
            for lane in problem.lanes
        }
        self._settled: dict[Stop, list[list[Stop]]] = {}
        self.cost = 0.0
        self.recount()
        if problem.begun:
            self.place(self._begun())

    def _begun(self) -> Iterator[Stop]:
        """Give what has begun; where it broke a crew's rules, as of no crew."""
        by_lane: list[list[Stop]] = [[] for _ in self.problem.lanes]
        for visit in self.problem.begun:
            stop = Stop(visit.start, visit.job, visit.lane, visit.point)
            if stop.lane >= 0 and not is_at_work(self.problem, stop):
                stop = stop._replace(lane=-1)
            if stop.lane >= 0:
                insort(by_lane[stop.lane], stop)
                if not crews_fit(self.problem, [stop.lane], by_lane):
                    by_lane[stop.lane].remove(stop)
                    stop = stop._replace(lane=-1)
            yield stop

    def recount(self) -> None:
        """Add up the cost anew; many small changes leave a trace of noise."""
        surfaces = sum(cost.total for cost in self.surface_costs)
        self.cost = surfaces + sum(
            cost.total for cost in self.gang_shift_costs.values()
        )
        if (published := self.problem.published) is not None:
            self.cost += published.change_cost * published.obsolete

    def stops(self) -> list[Stop]:
        """All stops in order of start, then job."""
        return sorted(stop for own in self.by_surface for stop in own)

    def end(self, stop: Stop) -> int:
        """Minute at which a stop ends."""
        return stop.start + self.problem.jobs[stop.job].duration

    def stop_of(self, job: int) -> Stop | None:
        """Find where a job stands; the first place of one that repeats."""
        own = self.by_surface[self.problem.jobs[job].surface]
        return next((stop for stop in own if stop.job == job), None)

    def draw(self, stop: Stop) -> Draw | None:
        """Say what a stop draws, if anything."""
        job = self.problem.jobs[stop.job]
        if job.draws is None:
            return None
        return stop.start + job.draws[0], stop.start + job.draws[1], job.flow_units

    def change(
        self,
        remove: Sequence[Stop],
        add: Sequence[Stop],
        *,
        least_gain: float | None = None,
    ) -> bool:
        """Take stops out and put others in, if that is allowed and costs no more.

        Parameters
        ----------
        remove, add : sequence of Stop
            The water point of an added stop is a wish; another is found if it has not
            the water.
        least_gain : float or None
            The change is undone if it gains less; None takes any cost.
        """
        problem = self.problem
        jobs, lanes = problem.jobs, problem.lanes
        if any(stop.start < problem.begun_until for stop in remove):
            return False
        if not all(
            stop_fits(problem, jobs[s.job], lanes[s.lane], s.start) for s in add
        ):
            return False
        touched_surfaces = sorted({jobs[s.job].surface for s in (*remove, *add)})
        touched_lanes = sorted({s.lane for s in (*remove, *add)})
        old_surfaces = [(i, self.by_surface[i]) for i in touched_surfaces]
        old_lanes = [(i, self.by_lane[i]) for i in touched_lanes]
        for i, stops in old_surfaces:
            self.by_surface[i] = list(stops)
        for i, stops in old_lanes:
            self.by_lane[i] = list(stops)
        for stop in remove:
            self.by_surface[jobs[stop.job].surface].remove(stop)
            self.by_lane[stop.lane].remove(stop)
        for stop in add:
            insort(self.by_surface[jobs[stop.job].surface], stop)
            insort(self.by_lane[stop.lane], stop)

        def undo() -> bool:
            for i, stops in old_surfaces:
                self.by_surface[i] = stops
            for i, stops in old_lanes:
                self.by_lane[i] = stops
            return False

        if not self._rules_hold(touched_surfaces, touched_lanes):
            return undo()
        covers = self.covers.changed({i: self.by_surface[i] for i in touched_surfaces})
        if covers is None:
            return undo()
        new_surfaces = [
            surface_cost(problem, problem.surfaces[i], self.by_surface[i])
            for i in touched_surfaces
        ]
        touched_gang_shifts = sorted({lanes[i].gang_shift for i in touched_lanes})
        new_gang_shifts = [
            gang_shift_cost(problem, gang_shift, self.by_lane)
            for gang_shift in touched_gang_shifts
        ]
        gain = sum(self.surface_costs[i].total for i in touched_surfaces)
        gain += sum(
            self.gang_shift_costs[gang_shift].total
            for gang_shift in touched_gang_shifts
        )
        gain -= sum(c.total for c in new_surfaces) + sum(
            c.total for c in new_gang_shifts
        )
        if least_gain is not None and gain < least_gain:
            return undo()
        booked = self._rebook(remove, add)
        if booked is None:
            return undo()
        for wished, given in zip(add, booked, strict=True):
            if wished != given:
                self._replace(wished, given)
        for i, surface_now in zip(touched_surfaces, new_surfaces, strict=True):
            self.surface_costs[i] = surface_now
        for gang_shift, gang_shift_now in zip(
            touched_gang_shifts, new_gang_shifts, strict=True
        ):
            self.gang_shift_costs[gang_shift] = gang_shift_now
        self.covers.keep(covers)
        for stop in remove:
            self._settled.pop(stop, None)
        self.cost -= gain
        return True

    def place(self, stops: Iterable[Stop]) -> None:
        """Put stops in as they are, whatever rules they break.

        A stop of lane -1 keeps its surface wet, but no crew of the plan busy.
        """
        problem = self.problem
        for stop in stops:
            insort(self.by_surface[problem.jobs[stop.job].surface], stop)
            if stop.lane >= 0:
                insort(self.by_lane[stop.lane], stop)
            draw = self.draw(stop)
            if draw is not None and stop.point >= 0:
                self.water.change(stop.point, draw, 1)
        self.covers.recount(dict(enumerate(self.by_surface)))
        for surface in problem.surfaces:
            own = self.by_surface[surface.index]
            self.surface_costs[surface.index] = surface_cost(problem, surface, own)
        for gang_shift in self.gang_shift_costs:
            cost = gang_shift_cost(problem, gang_shift, self.by_lane)
            self.gang_shift_costs[gang_shift] = cost
        self.recount()

    def settle(self, stop: Stop) -> None:
        """Note that a stop stands best where it is, as things are around it."""
        self._settled[stop] = self._around(stop)

    def is_settled(self, stop: Stop) -> bool:
        """Whether nothing has changed on its surface and for its crew since then."""
        then, now = self._settled.get(stop), self._around(stop)
        return then is not None and all(map(is_, then, now))

    def _around(self, stop: Stop) -> list[list[Stop]]:
        # A change makes new lists, so that the old ones tell what it was.
        surface = self.problem.jobs[stop.job].surface
        sharing_people = self.problem.lanes[stop.lane].sharing_people
        return [
            self.by_surface[surface],
            *(self.by_lane[lane] for lane in sharing_people),
        ]

    def improve(self, remove: Sequence[Stop], add: Sequence[Stop]) -> bool:
        """Change, if that makes the roster cheaper."""
        return self.change(remove, add, least_gain=LEAST_GAIN)

    def _rules_hold(self, surfaces: Iterable[int], lanes: Iterable[int]) -> bool:
        problem = self.problem
        return all(
            surface_fits(problem, problem.surfaces[i], self.by_surface[i])
            for i in surfaces
        ) and crews_fit(problem, lanes, self.by_lane)

    def _rebook(self, remove: Sequence[Stop], add: Sequence[Stop]) -> list[Stop] | None:
        """Change the water; the added stops with the points they got, or None."""
        problem = self.problem
        undo: list[tuple[int, Draw, int]] = []
        for stop in remove:
            draw = self.draw(stop)
            if draw is not None:
                self.water.change(stop.point, draw, -1)
                undo.append((stop.point, draw, 1))
        given: dict[Stop, Stop] = {}
        for stop in sorted(add):
            draw = self.draw(stop)
            if draw is None:
                given[stop] = stop._replace(point=-1)
                continue
            points = problem.jobs[stop.job].points
            if stop.point in points:
                points = (stop.point, *(p for p in points if p != stop.point))
            point = self.water.book(points, draw)
            if point is None:
                for where, what, sign in reversed(undo):
                    self.water.change(where, what, sign)
                return None
            undo.append((point, draw, -1))
            given[stop] = stop._replace(point=point)
        return [given[stop] for stop in add]

    def _replace(self, wished: Stop, given: Stop) -> None:
        for stops in (
            self.by_surface[self.problem.jobs[wished.job].surface],
            self.by_lane[wished.lane],
        ):
            stops.remove(wished)
            insort(stops, given)
