"""What is said of a visit that could be: it is allowed, and pays or does not."""

import re
from collections.abc import Iterator

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from tests.scheduler.solver.explain.told import NAME, TIME, Told, number, says


@says(
    rf"({NAME}) could (come|be called out) ({TIME})(?:(; no visit is planned)|, "
    rf"sooner than planned \(({TIME})\)|, but that would (?:cost ([\d,.]+) "
    rf"more than it saves|(save no more than it costs)))"
)
def could_come(told: Told, match: re.Match[str]) -> None:
    at = told.at(match[3])
    found = list(_changes(told, match[1], at, match[5]))
    assert found, f"not allowed: {told.words}"
    if match[6] or match[7]:
        more = number(match[6]) if match[6] else 0.0
        assert any(abs(cost - more) <= 0.06 for cost in found), told.words
    else:
        assert any(cost < 0 for cost in found), told.words


def _changes(told: Told, name: str, at: int, planned: str | None) -> Iterator[float]:
    """Cost of the roster with that visit, as far as the plan's rules allow it."""
    problem = prepare(told.work)
    lanes = [
        lane.index
        for lane in problem.lanes
        if lane.shift.crew_id == name and lane.starts <= at < lane.closes
    ]
    (surface,) = (
        one
        for one in problem.surfaces
        if one.work.surface_id == told.surface.surface_id
    )
    jobs = [problem.jobs[index] for index in surface.jobs]
    for job in jobs:
        own = [s for s in told.by.plan.by_surface[surface.index] if s.job == job.index]
        moved: list[list[Stop]] = [[one] for one in own]
        if not planned and (job.repeats or not own):
            moved.append([])
        for remove in moved:
            for lane in lanes:
                plan = Plan(problem)
                plan.place(s for s in told.by.plan.stops() if s not in remove)
                point = job.points[0] if job.points else -1
                if plan.change((), [Stop(at, job.index, lane, point)]):
                    yield plan.cost - told.by.plan.cost
