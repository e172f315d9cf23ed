"""Water by the minute: may a draw be added to what is drawn already?

Flow of a point, allotment of a local day and level of a tank, counted exactly, in
whole millionths of a litre. What others take comes first: it takes its share of the
flow and empties the tank, though never below nothing.
"""

from collections.abc import Sequence
from copy import copy

import numpy as np
from numpy.typing import NDArray

from models.records import WaterSupply
from scheduler.solver.prepare import Problem, units_down, units_up

Units = NDArray[np.int64]

Draw = tuple[int, int, int]
"""First minute, minute after the last, flow in units per minute."""


class WaterPoint:
    """One supply and what is drawn from it."""

    def __init__(self, supply: WaterSupply, length: int) -> None:
        self.supply = supply
        self.taken = np.zeros(length, np.int64)
        for use in supply.taken:
            span = slice(max(0, use.from_min), max(0, use.until_min))
            self.taken[span] += units_up(use.flow_l_min)
        self.free = np.maximum(0, units_down(supply.flow_l_min) - self.taken)
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
        self.days = [
            (max(0, d.from_min), min(d.until_min, length)) for d in supply.days
        ]
        self.is_tank = supply.capacity_l is not None
        self._taps = bool(self.taken.any())

    def change(self, draw: Draw, sign: int) -> None:
        """Add (1) or take away (-1) a draw, without asking whether it fits."""
        first, last, flow = draw
        self.drawn[first:last] += sign * flow

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
        return not self.is_tank or bool((self.levels() >= 0).all())

    def levels(self) -> Units:
        """Level at the end of each minute; below zero where it is overdrawn."""
        capacity = units_down(self.supply.capacity_l or 0.0)
        start = min(capacity, units_down(self.supply.level_at_start_l))
        if self._taps:
            return self._levels_with_others(capacity, start)
        # What overflowed so far is the most that the uncapped level ever stood above.
        before = start + np.cumsum(self.arriving) - np.cumsum(self.drawn) + self.drawn
        over = np.maximum(0, np.maximum.accumulate(before - capacity))
        level: Units = before - over - self.drawn
        return level

    def _levels_with_others(self, capacity: int, start: int) -> Units:
        now, levels = start, []
        series = zip(
            self.arriving.tolist(), self.taken.tolist(), self.drawn.tolist(),
            strict=True,
        )  # fmt: skip
        for arriving, taken, drawn in series:
            now = min(capacity, now + arriving)
            now = max(min(now, 0), now - taken) - drawn
            levels.append(now)
        return np.asarray(levels, dtype=np.int64)


class WaterBook:
    """All supplies of a site."""

    def __init__(self, problem: Problem) -> None:
        ends = [problem.horizon, *(lane.closes for lane in problem.lanes)]
        self.points = [WaterPoint(s, max(ends) + 1) for s in problem.supplies]

    def change(self, point: int, draw: Draw, sign: int) -> None:
        """Add or take away a draw at a point."""
        self.points[point].change(draw, sign)

    def without(self, draws: Sequence[tuple[int, Draw]]) -> list[WaterPoint]:
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
