"""Which limit of the water keeps a visit away, with amounts and times."""

from copy import copy

import numpy as np

from models.records import Limit
from scheduler.solver.cost import Stop
from scheduler.solver.openings import Span
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job, Lane
from scheduler.solver.water import WaterPoint
from scheduler.solver.words import SiteWords, supply

_TRIES = 5  # starts tried in each opening


class WaterReasons:
    """Tries draws at the points of a plan; leaves them as they were."""

    def __init__(self, plan: Plan, say: SiteWords) -> None:
        self.plan, self.say = plan, say

    def why(
        self, job: Job, openings: list[tuple[Lane, Span]], own: Stop | None
    ) -> tuple[Limit, str] | None:
        """Name the limit that refuses every start; None if some start has water."""
        assert job.draws is not None
        draw = None if own is None else self.plan.draw(own)
        if own is not None and draw is not None:
            self.plan.water.change(own.point, draw, -1)
        found = self._refused(job, openings)
        if own is not None and draw is not None:
            self.plan.water.change(own.point, draw, 1)
        return found

    def _refused(
        self, job: Job, openings: list[tuple[Lane, Span]]
    ) -> tuple[Limit, str] | None:
        reasons: list[tuple[Limit, str]] = []
        for _, (low, high) in openings:
            for start in np.unique(np.linspace(low, high, _TRIES, dtype=int)).tolist():
                for index in job.points:
                    reason = self._at(job, self.plan.water.points[index], start)
                    if reason is None:
                        return None
                    reasons.append(reason)
        return reasons[0] if reasons else None

    def _at(self, job: Job, point: WaterPoint, start: int) -> tuple[Limit, str] | None:
        assert job.draws is not None
        first, last = start + job.draws[0], start + job.draws[1]
        name, need = supply(point.supply), job.flow_units * (last - first)
        free = point.free[first:last] - point.drawn[first:last]
        point.change((first, last, job.flow_units), 1)
        flows = point.flow_fits(first, last)
        allowed = point.allotment_fits(first, last)
        filled = point.tank_fits()
        point.change((first, last, job.flow_units), -1)
        if not flows:
            words = (
                f"{name} has {self.say.flow(max(0, int(free.min())))} left at "
                f"{self.say.at(first)}; {self.say.flow(job.flow_units)} are needed"
            )
            return "water_flow", words
        if not allowed:
            return "water_allotment", self._allotment_words(point, first, need)
        if not filled:
            return "tank_empty", self._tank_words(point, first, need)
        return None

    def _allotment_words(self, point: WaterPoint, first: int, need: int) -> str:
        day = next(((a, b) for a, b in point.days if a <= first < b), (first, first))
        left = (point.allotment or 0) - int(point.drawn[day[0] : day[1]].sum())
        return (
            f"{supply(point.supply)} has {self.say.litres(max(0, left))} left of the "
            f"{self.say.litres(point.allotment or 0)} of {self.say.local(first):%a}; "
            f"{self.say.litres(need)} are needed"
        )

    def _tank_words(self, point: WaterPoint, first: int, need: int) -> str:
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
