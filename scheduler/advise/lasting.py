"""How long a full cover lasts at worst, filled by day and filled by night."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from models.drying.reserve import dries_at_h
from models.records import Stretch, SurfaceWork
from scheduler.advise.wetness import flags_of


@dataclass(frozen=True)
class Lasting:
    """Shortest time to dry, in hours; None where no filling dries out in the plan."""

    day_h: float | None = None
    night_h: float | None = None


def lasting(
    surface: SurfaceWork,
    covered_min: int | None,
    horizon_min: int,
    nights: Sequence[Stretch],
) -> Lasting:
    """Fill the cover at every full hour that counts and see how long it lasts."""
    curve = surface.curve
    if curve is None or covered_min is None:
        return Lasting()
    minutes = np.arange(0, min(horizon_min, surface.ends_min), 60)
    minutes = minutes[minutes >= covered_min]
    if not len(minutes):
        return Lasting()
    dry_h = dries_at_h(
        minutes / 60,
        np.asarray(curve.loss_l_m2_h),
        curve.step_min / 60,
        curve.held_l_m2,
    )
    lasts_h = dry_h - minutes / 60
    dark = flags_of(nights, horizon_min)[minutes]

    def shortest(flags: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> float | None:
        least = float(np.min(lasts_h[flags], initial=np.inf))
        return None if least == np.inf else round(least, 1)

    return Lasting(day_h=shortest(~dark), night_h=shortest(dark))
