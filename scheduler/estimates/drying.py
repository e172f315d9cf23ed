"""When a surface is dry, given its visits: bare, or under a cover that ran out."""

from collections.abc import Sequence

import numpy as np

from models.records import Flags, Floats
from scheduler.estimates.diary import Booking
from scheduler.estimates.wetness import Wetness

_LEAST_SHARE = 1e-9  # left where shares that make up the whole are added as floats


def dry_flags(
    wetness: Wetness, bookings: Sequence[Booking], covered_min: int | None
) -> tuple[Floats, Flags]:
    """Share dry of each minute while bare, and minutes dry under the cover."""
    horizon_min, stop_min = wetness.horizon_min, wetness.stop_min
    on = stop_min if covered_min is None else min(max(0, covered_min), stop_min)
    bare = np.where(wetness.bare, 1.0, 0.0)
    bare[on:] = 0.0
    left = np.ones(horizon_min)  # share of the surface that nobody keeps wet
    dried_out = np.zeros(horizon_min, np.bool_)
    dried_out[on:stop_min] = True
    dried_out &= ~wetness.rain_wet(on)
    if covered_min is not None and covered_min <= 0:
        dried_out[: wetness.start_until()] = False
    for booking in bookings:
        if not booking.task.protects:
            continue
        end = min(booking.end_min, horizon_min)
        kept_from_min = booking.start_min + booking.task.half_done_min
        kept_until = horizon_min if booking.task.strip else end
        left[kept_from_min:kept_until] -= booking.task.share_fraction
        dried_out[kept_from_min:end] = False
        if booking.task.seals:
            bare[end:] = 0.0
            dried_out[end:] = False
        if booking.task.refills and end >= on:
            dried_out[end : wetness.full_until(end)] = False
    bare *= np.where(left > _LEAST_SHARE, left, 0.0)
    return bare, dried_out
