"""Which limits of the water keep a visit away, and the words for them."""

from collections.abc import Iterator
from contextlib import contextmanager
from copy import copy

import numpy as np

from models.records import Limit
from scheduler.solver.explain.words import SiteWords, less, supply
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.water import Draw, SupplyLedger
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
        By point; the key is -1 for a job that draws no water, or finds no point.
    """
    if job.draws is None:
        return {-1: ()}
    if not job.points:
        return {-1: ("water_flow",)}
    draw = (start + job.draws[0], start + job.draws[1], job.flow_units)
    with _without(plan, own):
        return {p: _refused_at(plan.water.points[p], draw) for p in job.points}


@contextmanager
def _without(plan: Plan, own: Stop | None) -> Iterator[None]:
    """Leave out for a while what a stop draws."""
    drawn = None if own is None or own.point < 0 else plan.draw(own)
    if own is None or drawn is None:
        yield
        return
    plan.water.change(own.point, drawn, -1)
    try:
        yield
    finally:
        plan.water.change(own.point, drawn, 1)


def _refused_at(point: SupplyLedger, draw: Draw) -> tuple[Limit, ...]:
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
        self.words = {
            "water_flow": self._flow,
            "water_allotment": self._allotment,
            "tank_empty": self._tank,
        }

    def short(
        self, limit: Limit, job: Job, number: int, start: int, own: Stop | None
    ) -> str:
        """Say what a point lacks for a job at a minute.

        Parameters
        ----------
        number : int
            Of the point; -1 if there is none in reach.
        own : Stop or None
            Where the job stands now; the trial would move it.
        """
        if number < 0 or job.draws is None:
            return "no water point reaches it"
        draw = (start + job.draws[0], start + job.draws[1], job.flow_units)
        with _without(self.plan, own):
            return self.words[limit](self.plan.water.points[number], draw)

    def _flow(self, point: SupplyLedger, draw: Draw) -> str:
        first, last, flow = draw
        free = point.free[first:last] - point.drawn[first:last]
        at = first + int(np.argmax(free < flow))
        needed = self.say.flow(flow)
        left = less(self.say.flow(max(0, int(free[at - first]))), needed)
        return (
            f"{supply(point.supply)} has {left} left at {self.say.at(at)}; "
            f"{needed} are needed"
        )

    def _allotment(self, point: SupplyLedger, draw: Draw) -> str:
        first, last, flow = draw
        allotment = point.allotment or 0
        for a, b in point.days:
            need = flow * (min(b, last) - max(a, first))
            left = allotment - int(point.drawn[a:b].sum())
            if need > 0 and need > left:
                break
        needed = self.say.litres(need)
        return (
            f"{supply(point.supply)} has {less(self.say.litres(max(0, left)), needed)} "
            f"left of the {self.say.litres(allotment)} of "
            f"{self.say.local(max(a, first)):%a}; {needed} are needed"
        )

    def _tank(self, point: SupplyLedger, draw: Draw) -> str:
        first, last, flow = draw
        need, held = flow * (last - first), int(point.levels()[max(0, first - 1)])
        holds, needed = self.say.litres(max(0, held)), self.say.litres(need)
        if held < need:
            holds = less(holds, needed)
        words = (
            f"{supply(point.supply)} holds {holds} at {self.say.at(first)}; "
            f"{needed} are needed"
        )
        if held >= need:
            return f"{words}, and other visits wait for the same water"
        alone = copy(point)  # as it would fill if nobody drew from it
        alone.drawn = point.drawn.copy()
        alone.drawn[first:] = 0
        enough = np.flatnonzero(alone.levels()[first:] >= need)
        if not len(enough):
            return f"{words}, which it never holds again in the plan"
        soonest = self.say.at(first + int(enough[0]))
        return f"{words}, there from {soonest} at the earliest"
