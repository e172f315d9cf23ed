"""Drying by the minute: how long each wetting keeps a cover wet, what dry time costs.

All in whole units of a 60-millionth of a litre per m², so that a dry minute is a fact
and not a matter of rounding. Rates come rounded to a millionth of a litre per m² and
hour; the loss of one minute is then a whole number of units.
"""

from array import array
from collections import deque
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from models.records import DryingCurve, SurfaceWork, WeightStep

Units = NDArray[np.int64]
Floats = NDArray[np.float64]
Table = TypeVar("Table")

UNITS_PER_L = 60_000_000
MICROLITRE = 60  # in units; a millionth of a litre per m² or less is dry


class TableCache:
    """Keeps tables that several surfaces share, made once.

    A site has a few kinds of cover under one sky, and many surfaces.
    """

    def __init__(self) -> None:
        self._made: dict[Hashable, Any] = {}

    def table(self, key: Hashable, make: Callable[[], Table]) -> Table:
        """Give what was made for a key, or make it."""
        if key not in self._made:
            self._made[key] = make()
        table: Table = self._made[key]
        return table


@dataclass(frozen=True, eq=False)
class Drying:
    """How a cover dries, whatever lies under it and whenever it is laid.

    Attributes
    ----------
    loss : array of int
        Units lost in each minute.
    held : int
        Units that a full cover holds.
    rain_reserve : array of int or None
        Reserve of a cover that starts empty and that nobody wets; None without rain.
    dry_at : array of int
        First dry minute after a wetting that ends at each minute.
    """

    loss: Units
    held: int
    rain_reserve: Units | None
    dry_at: "array[int]"


@dataclass(frozen=True, eq=False)
class SurfaceMinutes:
    """One surface's clocks over the minutes 0 to H of the horizon.

    Attributes
    ----------
    dry_at : array of int
        First dry minute after a wetting that ends at minute *e*; H if there is none.
    dry_at_start : int
        The same for what the cover holds at minute 0.
    covered_sum, fresh_sum : array of float
        Cost of all minutes before *m* were they dry under the cover (rain that fills
        an empty cover taken off), or dry and bare.
    covered_count, fresh_count : array of int
        The same, counting minutes.
    counted_until : int
        Minutes from here on cost nothing.
    """

    dry_at: "array[int]"
    dry_at_start: int
    covered_sum: "array[float]"
    fresh_sum: "array[float]"
    covered_count: "array[int]"
    fresh_count: "array[int]"
    counted_until: int
    _rained_on: tuple[Drying, Floats] | None
    _late_rain: dict[int, tuple[int, list[float], list[int]]] = field(
        default_factory=dict
    )

    def late_rain(self, cover_min: int) -> tuple[int, list[float], list[int]] | None:
        """Minutes wrongly taken as rain-wet if the cover goes on at a minute.

        The sums above let rain fill the cover from minute 0 on; a cover that goes on
        while it rains has missed the first of it. Returns the minute at which the two
        meet again and prefix sums from ``cover_min`` of the cost and the number of
        minutes that are dry all the same; None where there is no difference.
        """
        if self._rained_on is None:
            return None
        reserve = self._rained_on[0].rain_reserve
        assert reserve is not None
        if not 0 <= cover_min < len(reserve) - 1 or not reserve[cover_min]:
            return None
        if cover_min not in self._late_rain:
            self._late_rain[cover_min] = self._play_late_rain(cover_min)
        return self._late_rain[cover_min]

    def _play_late_rain(self, cover_min: int) -> tuple[int, list[float], list[int]]:
        assert self._rained_on is not None
        drying, weights = self._rained_on
        assert drying.rain_reserve is not None
        reserve, minute = 0, cover_min
        cost, count = [0.0], [0]
        while minute < len(weights) and reserve != drying.rain_reserve[minute]:
            dry = reserve <= MICROLITRE < drying.rain_reserve[minute]
            counts = dry and minute < self.counted_until
            weight = float(weights[minute]) if counts else 0.0
            cost.append(cost[-1] + weight)
            count.append(count[-1] + counts)
            reserve = min(drying.held, max(0, reserve - int(drying.loss[minute])))
            minute += 1
        return minute, cost, count


def units(l_m2: float) -> int:
    """Whole units of an amount of water."""
    return round(l_m2 * UNITS_PER_L)


def surface_minutes(
    work: SurfaceWork, horizon_min: int, cache: TableCache | None = None
) -> SurfaceMinutes:
    """Work out a surface's clocks for every minute of the horizon.

    Parameters
    ----------
    cache : Alike or None
        Holds what other surfaces of the site share with this one.
    """
    table = (cache or TableCache()).table
    counted_until = max(0, min(horizon_min, work.ends_min))
    counted = np.arange(horizon_min) < counted_until
    bare = np.zeros(horizon_min, bool)
    for stretch in work.fresh:
        bare[max(0, stretch.from_min) : max(0, stretch.until_min)] = True
    bare &= counted
    weight = weights_by_minute(work.weights, horizon_min)
    fresh_weight = weights_by_minute(work.fresh_weights, horizon_min)
    drying: Drying | None = None
    raining: DryingCurve | None = None
    if work.curve is None:  # nothing dries out under it
        dry_at = table(None, lambda: array("i", [horizon_min]) * (horizon_min + 1))
        dry_at_start = horizon_min
        thirsty = np.zeros(horizon_min, bool)
    else:
        curve = work.curve
        drying = table(curve, lambda: _drying(curve, horizon_min))
        dry_at = drying.dry_at
        dry_at_start = _dry_from(drying.loss, drying.held, _reserve_at_start(work))
        thirsty = counted
        if drying.rain_reserve is not None:
            raining = curve
            thirsty = counted & (drying.rain_reserve[:-1] <= MICROLITRE)
    dries = raining, counted_until if work.curve is not None else 0
    fresh = tuple(np.flatnonzero(np.diff(bare, prepend=False, append=False)).tolist())
    return SurfaceMinutes(
        dry_at=dry_at,
        dry_at_start=dry_at_start,
        covered_sum=table(
            ("covered sum", dries, work.weights),
            lambda: _prefix(np.where(thirsty, weight, 0.0)),
        ),
        fresh_sum=table(
            ("fresh sum", fresh, work.fresh_weights if fresh else ()),
            lambda: _prefix(np.where(bare, fresh_weight, 0.0)),
        ),
        covered_count=table(("count", dries), lambda: _prefix_count(thirsty)),
        fresh_count=table(("fresh count", fresh), lambda: _prefix_count(bare)),
        counted_until=counted_until,
        _rained_on=(drying, weight) if drying is not None and raining else None,
    )


def _drying(curve: DryingCurve, horizon_min: int) -> Drying:
    loss = loss_by_minute(curve, horizon_min)
    held = units(curve.held_l_m2)
    rain = _rain_reserve(loss, held) if (loss < 0).any() else None
    return Drying(loss, held, rain, dry_minutes(loss, held))


def weights_by_minute(steps: Sequence[WeightStep], horizon_min: int) -> Floats:
    """Cost of each minute; before the first step its value holds already."""
    weights = np.full(horizon_min, float(steps[0].per_min))
    for step in steps:
        weights[max(0, step.from_min) :] = step.per_min
    return weights


def loss_by_minute(curve: DryingCurve, horizon_min: int) -> Units:
    """Units lost in each minute; the last step goes on if the list ends early."""
    steps = np.rint(np.asarray(curve.loss_l_m2_h) * 1e6).astype(np.int64)
    index = np.arange(horizon_min) // curve.step_min
    return np.asarray(steps[np.minimum(index, len(steps) - 1)])


def dry_minutes(loss: Units, held: int) -> "array[int]":
    """First dry minute for a wetting at each minute from 0 to the end, H included.

    While it falls, a reserve that was full at *e* stands at
    ``held - (D[m] - min(D[e..m]))``, with *D* the running sum of loss: rain fills it
    no further than ``held``. The least *D* of the stretch is kept in a queue.
    """
    length = len(loss)
    total = [0, *np.cumsum(loss).tolist()]
    falls = held - MICROLITRE  # dry once this much has gone
    if not (loss < 0).any():
        found = np.searchsorted(total, np.asarray(total) + falls, side="left")
        return _ints(np.minimum(found, length))
    dry_at = array("i")
    least: deque[int] = deque()
    reached, pushed = 0, 0
    for wetted in range(length + 1):
        while least and least[0] < wetted:
            least.popleft()
        reached = max(reached, wetted)
        while True:
            while pushed <= reached:
                while least and total[least[-1]] >= total[pushed]:
                    least.pop()
                least.append(pushed)
                pushed += 1
            if reached >= length or total[reached] - total[least[0]] >= falls:
                break
            reached += 1
        dry_at.append(reached)
    return dry_at


def _reserve_at_start(work: SurfaceWork) -> int:
    if work.covered_from_min is None or work.covered_from_min > 0:
        return 0
    return units(work.reserve_at_start_l_m2)


def _dry_from(loss: Units, held: int, reserve: int) -> int:
    """First dry minute of what is in the cover at minute 0."""
    now = min(reserve, held)
    for minute, lost in enumerate(loss.tolist()):
        if now <= MICROLITRE:
            return minute
        now = min(held, max(0, now - lost))
    return len(loss)


def _rain_reserve(loss: Units, held: int) -> Units:
    """Reserve of a cover that starts empty and that nobody wets."""
    reserve = [0]
    for lost in loss.tolist():
        reserve.append(min(held, max(0, reserve[-1] - lost)))
    return np.asarray(reserve, dtype=np.int64)


# Arrays of the standard library: as quick to look into as lists, at an eighth of the
# memory, which counts with a thousand surfaces.


def _ints(values: NDArray[np.int64]) -> "array[int]":
    return array("i", values.astype(np.intc).tobytes())


def _prefix(values: Floats) -> "array[float]":
    return array("d", np.concatenate(([0.0], np.cumsum(values))).tobytes())


def _prefix_count(flags: NDArray[np.bool_]) -> "array[int]":
    return _ints(np.concatenate(([0], np.cumsum(flags))))
