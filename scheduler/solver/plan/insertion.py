"""What one more visit would cost, tried at many minutes and with many crews.

What it does to its surface depends on the minute alone, and what it does to a crew on
what the crew does just before and after it: each is worked out once and no further
than needed. Plain ints of time are minutes from the start of the horizon.
"""

from bisect import bisect_right, insort
from collections.abc import Sequence

from scheduler.solver.plan.cost import (
    GangShiftCost,
    Stop,
    SurfaceCost,
    changes_cost,
    gang_shift_cost,
    gang_shift_total,
    surface_cost,
)
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job, Problem


class InsertionCost:
    """Prices one more visit of a job, allowed or not; the plan stays as it is."""

    def __init__(self, plan: Plan, job: Job) -> None:
        self.plan, self.job = plan, job
        self._by_start: dict[int, SurfaceCost] = {}

    def of_surface(self, start: int) -> SurfaceCost:
        """Cost of the surface with a visit of nobody yet at a minute."""
        if start not in self._by_start:
            problem, index = self.plan.problem, self.job.surface
            self._by_start[start] = surface_cost(
                problem, problem.surfaces[index], self._stops(start, -1)
            )
        return self._by_start[start]

    def _stops(self, start: int, lane: int) -> list[Stop]:
        stops = list(self.plan.by_surface[self.job.surface])
        insort(stops, Stop(start, self.job.index, lane, -1))
        return stops

    def of_roster(self, start: int, lane: Lane) -> float:
        """Cost of the whole roster with a visit of a lane at a minute."""
        plan = self.plan
        current = plan.surface_costs[self.job.surface]
        more = (
            self.of_surface(start).curing_cost
            - current.curing_cost
            + self.job.visit_cost
        )
        if (problem := plan.problem).published is not None:
            surface = problem.surfaces[self.job.surface]
            changes = changes_cost(problem, surface, self._stops(start, lane.index))
            more += changes - current.changes_cost
        stop = Stop(start, self.job.index, lane.index, -1)
        more += (
            gang_shift_with(plan, lane, stop).total
            - plan.gang_shift_costs[lane.gang_shift].total
        )
        return plan.cost + more


def gang_shift_with(plan: Plan, lane: Lane, stop: Stop) -> GangShiftCost:
    """Cost of a gang on a shift with one more stop of a lane, allowed or not."""
    problem, by_lane = plan.problem, plan.by_lane
    stops = by_lane[lane.index]
    if len(lane.gang_shift) == 1 and stops and not lane.shift.call_out_per_min:
        return _inserted(
            problem, lane, stops, plan.gang_shift_costs[lane.gang_shift], stop
        )
    of_gang_shift = {index: by_lane[index] for index in lane.gang_shift}
    of_gang_shift[lane.index] = sorted([*stops, stop])
    return gang_shift_cost(problem, lane.gang_shift, of_gang_shift)


def _inserted(
    problem: Problem,
    lane: Lane,
    stops: Sequence[Stop],
    before: GangShiftCost,
    stop: Stop,
) -> GangShiftCost:
    """Cost of a lane that has stops already with one more among them."""
    jobs = problem.jobs
    at, job = bisect_right(stops, stop), jobs[stop.job]
    ahead = jobs[stops[at - 1].job] if at else None
    to_it = problem.walk(ahead, job) if ahead else problem.travel[lane.home][job.zone]
    travel = before.travel_min + to_it
    ends = stop.start + job.duration
    if at < len(stops):
        behind, last = jobs[stops[at].job], stops[-1]
        travel += problem.walk(job, behind)
        travel -= (
            problem.walk(ahead, behind)
            if ahead
            else problem.travel[lane.home][behind.zone]
        )
        ends = last.start + jobs[last.job].duration
    return gang_shift_total(problem, lane, before.call_out_cost, ends, travel)
