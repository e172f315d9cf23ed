"""Which limits of the water keep a visit away, and the words for them."""

from copy import copy

import numpy as np

from models.records import Limit
from scheduler.solver.explain.words import SiteWords, supply
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.water import SupplyLedger
from scheduler.solver.problem.problem import Job


def refused_by(
    plan: Plan, job: Job, start: int, own: Stop | None
) -> dict[int, tuple[Limit, ...]]:
    """Limits that each point in reach would break, were the job done at a minute.

    Parameters
    ----------
    own : Stop or None
        A stop that would no longer draw.

    Returns
    -------
    dict
        By point; the key is -1 for a job that draws no water.
    """
    if job.draws is None:
        return {-1: ()}
    drawn = None if own is None else plan.draw(own)
    if own is not None and drawn is not None:
        plan.water.change(own.point, drawn, -1)
    draw = (start + job.draws[0], start + job.draws[1], job.flow_units)
    found = {p: _refused_at(plan.water.points[p], draw) for p in job.points}
    if own is not None and drawn is not None:
        plan.water.change(own.point, drawn, 1)
    return found


def _refused_at(point: SupplyLedger, draw: tuple[int, int, int]) -> tuple[Limit, ...]:
    first, last, _ = draw
    point.change(draw, 1)
    fits: dict[Limit, bool] = {
        "water_flow": point.flow_fits(first, last),
        "water_allotment": point.allotment_fits(first, last),
        "tank_empty": point.tank_fits(),
    }
    point.change(draw, -1)
    return tuple(limit for limit, fit in fits.items() if not fit)


class WaterWords:
    """Says what a point has left and what a visit would have needed."""

    def __init__(self, plan: Plan, say: SiteWords) -> None:
        self.plan, self.say = plan, say

    def flow(self, job: Job, point: SupplyLedger, start: int) -> str:
        """Say what of the flow is left."""
        assert job.draws is not None
        first, last = start + job.draws[0], start + job.draws[1]
        free = int((point.free[first:last] - point.drawn[first:last]).min())
        return (
            f"{supply(point.supply)} has {self.say.flow(max(0, free))} left at "
            f"{self.say.at(first)}; {self.say.flow(job.flow_units)} are needed"
        )

    def allotment(self, job: Job, point: SupplyLedger, start: int) -> str:
        """Say what of the day's litres is left."""
        first, need = _first_and_need(job, start)
        day = next(((a, b) for a, b in point.days if a <= first < b), (first, first))
        left = (point.allotment or 0) - int(point.drawn[day[0] : day[1]].sum())
        return (
            f"{supply(point.supply)} has {self.say.litres(max(0, left))} left of the "
            f"{self.say.litres(point.allotment or 0)} of {self.say.local(first):%a}; "
            f"{self.say.litres(need)} are needed"
        )

    def tank(self, job: Job, point: SupplyLedger, start: int) -> str:
        """Say what the tank holds and from when on it holds enough."""
        first, need = _first_and_need(job, start)
        held = int(point.levels()[max(0, first - 1)])
        words = (
            f"{supply(point.supply)} holds {self.say.litres(max(0, held))} "
            f"at {self.say.at(first)}; "
            f"{self.say.litres(need)} are needed"
        )
        if held >= need:
            return f"{words}, and other visits wait for the same water"
        alone = copy(point)  # as it would fill if nobody drew from it
        alone.drawn = point.drawn.copy()
        alone.drawn[first:] = 0
        enough = np.flatnonzero(alone.levels()[first:] >= need)
        if not len(enough):
            return f"{words}, which it never holds again in the plan"
        return (
            f"{words}, there from {self.say.at(first + int(enough[0]))} at the soonest"
        )


def _first_and_need(job: Job, start: int) -> tuple[int, int]:
    """First minute of a draw, and all it takes."""
    assert job.draws is not None
    return start + job.draws[0], job.flow_units * (job.draws[1] - job.draws[0])
