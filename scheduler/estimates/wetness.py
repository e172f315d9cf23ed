"""When one surface is wet: water in its cover by the minute, what dry minutes cost.

All in whole units of a 60-millionth of a litre per m²: rates come in millionths of a
litre per m² and hour, so the loss of a minute is whole and a dry minute is a fact.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from models.records import DryingCurve, Flags, Floats, Stretch, SurfaceWork, WeightStep

Units = NDArray[np.int64]

_UNITS_PER_L = 60_000_000
_DRY_UNITS = 60  # a millionth of a litre per m² or less is dry


@dataclass(frozen=True, eq=False)
class Wetness:
    """One surface over the minutes of the horizon; none counts from ``stop_min`` on.

    Attributes
    ----------
    bare : array of bool
        Minutes in which the surface dries while nothing lies on it and nobody is there.
    bare_weight, covered_weight : array
        What a dry minute costs without and with the cover on.
    """

    work: SurfaceWork
    horizon_min: int
    stop_min: int
    bare: Flags
    bare_weight: Floats
    covered_weight: Floats
    _loss: Units
    _held: int
    _lasts: dict[int, int] = field(default_factory=dict)

    def full_until(self, wetted_min: int) -> int:
        """First dry minute of a cover full at a minute; the horizon if none is."""
        if self.work.curve is None:
            return self.horizon_min
        if wetted_min not in self._lasts:
            self._lasts[wetted_min] = self._dry_from(wetted_min, self._held)
        return self._lasts[wetted_min]

    def start_until(self) -> int:
        """First dry minute of what a cover reported on holds at minute 0."""
        if self.work.curve is None:
            return self.horizon_min
        begun = self.work.covered_from_min
        reserve = round(self.work.reserve_at_start_l_m2 * _UNITS_PER_L)
        if begun is None or begun > 0:
            reserve = 0
        return self._dry_from(0, min(self._held, reserve))

    def _dry_from(self, minute: int, reserve: int) -> int:
        """Play a reserve down; rain fills it no further than the cover holds."""
        left = reserve - np.concatenate(([0], np.cumsum(self._loss[minute:])))
        left -= np.maximum(0, np.maximum.accumulate(left - self._held))
        dry = np.flatnonzero(left <= _DRY_UNITS)
        return min(self.horizon_min, minute + int(dry[0]) if len(dry) else 10**9)

    def rain_wet(self, on_min: int) -> Flags:
        """Minutes in which rain alone keeps a cover wet that went on empty."""
        wet = np.zeros(self.horizon_min, np.bool_)
        if not (self._loss < 0).any():
            return wet
        reserve = 0
        for minute in range(max(0, on_min), self.horizon_min):
            wet[minute] = reserve > _DRY_UNITS
            reserve = min(self._held, max(0, reserve - int(self._loss[minute])))
        return wet


def wetness_of(work: SurfaceWork, horizon_min: int) -> Wetness:
    """Lay out a surface's minutes."""
    stop_min = max(0, min(horizon_min, work.ends_min))
    bare = flags_of(work.fresh, horizon_min)
    bare[stop_min:] = False
    return Wetness(
        work=work,
        horizon_min=horizon_min,
        stop_min=stop_min,
        bare=bare,
        bare_weight=_by_minute(work.fresh_weights, horizon_min),
        covered_weight=_by_minute(work.weights, horizon_min),
        _loss=_losses(work.curve, horizon_min),
        _held=round(work.curve.held_l_m2 * _UNITS_PER_L) if work.curve else 0,
    )


def flags_of(stretches: Iterable[Stretch], horizon_min: int) -> Flags:
    """Minutes of the horizon that lie in some stretch."""
    flags = np.zeros(horizon_min, np.bool_)
    for stretch in stretches:
        flags[max(0, stretch.from_min) : max(0, stretch.until_min)] = True
    return flags


def before(values: Floats) -> Floats:
    """Sum of all minutes before each one, the end included."""
    return np.concatenate(([0.0], np.cumsum(values)))


def _losses(curve: DryingCurve | None, horizon_min: int) -> Units:
    """Units lost in each minute; the last step goes on if the list ends early."""
    if curve is None:
        return np.zeros(horizon_min, np.int64)
    steps = np.rint(np.asarray(curve.loss_l_m2_h) * 1e6).astype(np.int64)
    index = np.arange(horizon_min) // curve.step_min
    return np.asarray(steps[np.minimum(index, len(steps) - 1)])


def _by_minute(steps: Sequence[WeightStep], horizon_min: int) -> Floats:
    """Weight of each minute; before the first step its value holds already."""
    weights = np.full(horizon_min, float(steps[0].per_min))
    for step in steps:
        weights[max(0, step.from_min) :] = step.per_min
    return weights
