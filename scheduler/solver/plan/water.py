"""Water by the minute: whether a draw may be added to what is drawn already.

Flow of a point, allotment of a local day and level of a tank, counted exactly, in
whole millionths of a litre. What others take comes first: it takes its share of the
flow and empties the tank, though never below nothing.
Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Sequence
from copy import copy
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from models.records import WaterSupply
from scheduler.solver.problem.problem import Problem, units_down, units_up

Units = NDArray[np.int64]

Draw = tuple[int, int, int]
"""First minute, minute after the last, flow in units per minute."""


class SupplyLedger:
    """One supply and what is drawn from it.

    What was drawn before ``since`` has happened: a tank that the book has below
    nothing then had water that nobody wrote down, and is empty at that minute.
    """

    def __init__(self, supply: WaterSupply, length: int, since: int = 0) -> None:
        self.supply = supply
        self.since = since
        self.taken = np.zeros(length, np.int64)
        for use in supply.taken:
            span = slice(max(0, use.from_min), max(0, use.until_min))
            self.taken[span] += units_up(use.flow_l_min)
        self.free = np.maximum(0, units_down(supply.flow_l_min) - self.taken)
        for out in supply.closed:
            self.free[max(0, out.from_min) : max(0, out.until_min)] = 0
        self.drawn = np.zeros(length, np.int64)
        self.arriving = np.full(length, units_down(supply.refill_l_min), np.int64)
        for delivery in supply.deliveries:
            if 0 <= delivery.at_min < length:
                self.arriving[delivery.at_min] += units_down(delivery.litres_l)
        self.allotment = (
            None
            if supply.daily_allotment_l is None
            else units_down(supply.daily_allotment_l)
        )
        self.days = [(max(0, day.from_min), day.until_min) for day in supply.days]
        self.is_tank = supply.capacity_l is not None
        edges = np.flatnonzero(np.diff(self.taken > 0)) + 1
        cuts = {0, *edges.tolist(), min(since, length), length}
        self._spans = list(pairwise(sorted(cuts)))
        #: Levels that are sure, after all draws; arrays that are never changed.
        self._at_least: Units | None = None
        self._before: tuple[Draw, Units | None] | None = None

    def change(self, draw: Draw, sign: int) -> None:
        """Add (1) or take away (-1) a draw, without asking whether it fits."""
        first, last, flow = draw
        self.drawn[first:last] += sign * flow
        if sign < 0:  # there can only be more water
            if self._before is not None and self._before[0] == draw:
                self._at_least = self._before[1]
            self._before = None
            return
        self._before = draw, self._at_least
        if self._at_least is not None:  # what overflows less, there may be less short
            self._at_least = self._at_least.copy()
            self._at_least[first:] -= (last - first) * flow

    def fits(self, first: int, last: int) -> bool:
        """Whether what is drawn is allowed, after changes between two minutes."""
        return (
            self.flow_fits(first, last)
            and self.allotment_fits(first, last)
            and self.tank_fits()
        )

    def flow_fits(self, first: int, last: int) -> bool:
        """Whether the point's flow bears the draws between two minutes."""
        return bool((self.drawn[first:last] <= self.free[first:last]).all())

    def allotment_fits(self, first: int, last: int) -> bool:
        """Whether the days between two minutes stay within their allotment."""
        if self.allotment is None:
            return True
        return all(
            self.drawn[a:b].sum() <= self.allotment
            for a, b in self.days
            if a < last and first < b
        )

    def tank_fits(self) -> bool:
        """Whether the tank never runs empty."""
        if not self.is_tank:
            return True
        if self._at_least is None or self._at_least[self.since :].min() < 0:
            self._at_least = self.levels()
        return bool(self._at_least[self.since :].min() >= 0)

    def levels(self) -> Units:
        """Level at the end of each minute; below zero where it is overdrawn.

        What arrives fits or overflows; then others take, though never below nothing;
        then the draws.
        """
        capacity = units_down(self.supply.capacity_l or 0.0)
        now = min(capacity, units_down(self.supply.level_at_start_l))
        levels = np.empty_like(self.drawn)
        for first, last in self._spans:
            span = slice(first, last)
            if first == self.since:
                now = max(0, now)
            if self.taken[first]:
                levels[span] = self._with_others(first, last, now, capacity)
            else:
                arrived = now + np.cumsum(self.arriving[span])
                before = arrived - np.cumsum(self.drawn[span]) + self.drawn[span]
                # What has overflowed is the most that the uncapped level stood above.
                over = np.maximum(0, np.maximum.accumulate(before - capacity))
                levels[span] = before - over - self.drawn[span]
            now = int(levels[last - 1])
        return levels

    def _with_others(self, first: int, last: int, now: int, capacity: int) -> list[int]:
        levels = []
        for minute in range(first, last):
            now = min(capacity, now + int(self.arriving[minute]))
            now = max(min(now, 0), now - int(self.taken[minute]))
            now -= int(self.drawn[minute])
            levels.append(now)
        return levels


class WaterLedger:
    """All supplies of a site."""

    def __init__(self, problem: Problem) -> None:
        ends = [problem.horizon, *(lane.closes for lane in problem.lanes)]
        length, since = max(ends) + 1, problem.begun_until
        self.points = [SupplyLedger(s, length, since) for s in problem.supplies]

    def change(self, point: int, draw: Draw, sign: int) -> None:
        """Add or take away a draw at a point."""
        self.points[point].change(draw, sign)

    def without(self, draws: Sequence[tuple[int, Draw]]) -> list[SupplyLedger]:
        """Copy the supplies as they are but for some draws."""
        points = [copy(point) for point in self.points]
        for point in points:
            point.drawn = point.drawn.copy()
        for index, draw in draws:
            points[index].change(draw, -1)
        return points

    def book(self, points: Sequence[int], draw: Draw) -> int | None:
        """Add a draw at the first of some points where it fits; None if nowhere."""
        for point in points:
            self.points[point].change(draw, 1)
            if self.points[point].fits(draw[0], draw[1]):
                return point
            self.points[point].change(draw, -1)
        return None
