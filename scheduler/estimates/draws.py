"""Whether a zone's water points can give what a visit draws, and who gives it.

Flow by the minute, allotment by the day, level of a tank. Others take theirs first. A
tank is judged by the least it holds from a minute on, so what fits here fits anyhow.
"""

from collections.abc import Sequence

import numpy as np

from models.records import Flags, Floats, WaterNeed, WaterSupply

#: Litres a minute; sums of even flows over a week stay far below. [L]
_SLACK_L = 1e-6


class Point:
    """One water point and what is drawn from it by the minute."""

    def __init__(self, supply: WaterSupply, horizon_min: int) -> None:
        self.supply = supply
        self._taken = np.zeros(horizon_min)
        for use in supply.taken:
            self._taken[max(0, use.from_min) : max(0, use.until_min)] += use.flow_l_min
        self._free = np.maximum(0.0, supply.flow_l_min - self._taken)
        self._drawn = np.zeros(horizon_min)
        self._arriving = np.full(horizon_min, float(supply.refill_l_min))
        for delivery in supply.deliveries:
            if 0 <= delivery.at_min < horizon_min:
                self._arriving[delivery.at_min] += delivery.litres_l
        allotted_l = supply.daily_allotment_l
        self._allotted_l = np.inf if allotted_l is None else allotted_l
        self._left = np.full(horizon_min, self._allotted_l)
        self._least = np.full(horizon_min, np.inf)
        self._fill_up()

    def gives(self, need: WaterNeed, first: int, last: int) -> Flags:
        """Tell for each start, ``last`` included, whether the need can be drawn."""
        length = len(self._free)
        begins = np.arange(first, last + 1) + need.from_min
        ends = begins + (need.until_min - need.from_min)
        inside = ends <= length
        begins, ends = np.minimum(begins, length - 1), np.minimum(ends, length)
        short = self._free - self._drawn < need.flow_l_min - _SLACK_L
        shorts = np.concatenate(([0], np.cumsum(short)))
        wanted_l = need.litres_l - _SLACK_L
        return np.asarray(
            inside
            & (shorts[ends] == shorts[begins])
            & (self._left[begins] >= wanted_l)
            & (self._left[ends - 1] >= wanted_l)
            & (self._least[begins] >= wanted_l)
        )

    def draw(self, need: WaterNeed, start: int) -> None:
        """Draw it, from a start at which it is given."""
        begins, ends = start + need.from_min, start + need.until_min
        self._drawn[begins:ends] += need.flow_l_min
        for day in self.supply.days:
            span = slice(max(0, day.from_min), day.until_min)
            drawn_l = self._drawn[span].sum()
            self._left[span] = self._allotted_l - drawn_l
        self._fill_up()

    def _fill_up(self) -> None:
        """Play the tank through, and take from its end the least it will hold."""
        capacity_l = self.supply.capacity_l
        if capacity_l is None:
            return
        level_l = min(capacity_l, self.supply.level_at_start_l)
        levels = (
            self._with_others(level_l, capacity_l)
            if self._taken.any()
            else self._alone(level_l, capacity_l)
        )
        self._least = np.minimum.accumulate(levels[::-1])[::-1]

    def _alone(self, level_l: float, capacity_l: float) -> Floats:
        """Levels at the end of each minute; what arrives in a full tank runs over."""
        gone = np.cumsum(self._drawn) - self._drawn
        brim = level_l + np.cumsum(self._arriving) - gone
        over = np.maximum(0.0, np.maximum.accumulate(brim - capacity_l))
        return np.asarray(brim - over - self._drawn)

    def _with_others(self, level_l: float, capacity_l: float) -> Floats:
        """Levels where others take theirs first, though never below nothing."""
        levels = np.empty(len(self._drawn))
        flows = zip(
            self._arriving.tolist(),
            self._taken.tolist(),
            self._drawn.tolist(),
            strict=True,
        )
        for minute, (arriving, taken, drawn) in enumerate(flows):
            level_l = min(capacity_l, level_l + arriving)
            level_l = max(min(level_l, 0.0), level_l - taken) - drawn
            levels[minute] = level_l
        return levels


class Draws:
    """The points that a zone reaches, nearest first."""

    def __init__(self, supplies: Sequence[WaterSupply], horizon_min: int) -> None:
        self._points = [Point(supply, horizon_min) for supply in supplies]

    def gives(self, need: WaterNeed, first: int, last: int) -> Flags:
        """Tell for each start whether some point gives the need."""
        given = [point.gives(need, first, last) for point in self._points]
        return np.asarray(np.any(given, axis=0))

    def draw(self, need: WaterNeed, start: int) -> str:
        """Draw from the nearest point that gives it; return its id."""
        for point in self._points:
            if point.gives(need, start, start)[0]:
                point.draw(need, start)
                return point.supply.id
        raise ValueError(f"no water for a draw of {need.litres_l:g} L at {start} min")
