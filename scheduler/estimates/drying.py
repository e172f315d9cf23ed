"""When a surface is dry, given its visits: bare, or under a cover that ran out."""

from collections.abc import Sequence

import numpy as np

from models.records import Flags
from scheduler.estimates.diary import Booking
from scheduler.estimates.wetness import Wetness


def dry_flags(
    wetness: Wetness, bookings: Sequence[Booking], covered_min: int | None
) -> tuple[Flags, Flags]:
    """Minutes dry while bare, and dry under the cover."""
    horizon_min, stop_min = wetness.horizon_min, wetness.stop_min
    on = stop_min if covered_min is None else min(max(0, covered_min), stop_min)
    bare = wetness.bare.copy()
    bare[on:] = False
    dried_out = np.zeros(horizon_min, np.bool_)
    dried_out[on:stop_min] = True
    dried_out &= ~wetness.rain_wet(on)
    if covered_min is not None and covered_min <= 0:
        dried_out[: wetness.start_until()] = False
    for booking in bookings:
        if not booking.task.protects:
            continue
        end = min(booking.end_min, horizon_min)
        bare[booking.start_min : end] = False
        dried_out[booking.start_min : end] = False
        if booking.task.seals:
            bare[end:] = False
            dried_out[end:] = False
        if booking.task.refills and end >= on:
            dried_out[end : wetness.full_until(end)] = False
    return bare, dried_out
