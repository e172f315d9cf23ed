"""When a surface is dry, given its visits: bare, or under a cover that ran out."""

from collections.abc import Sequence

import numpy as np

from scheduler.estimates.diary import Stay
from scheduler.estimates.wetness import Flags, Wetness


def dry_flags(
    wetness: Wetness, stays: Sequence[Stay], covered_min: int | None
) -> tuple[Flags, Flags]:
    """Minutes dry while bare, and dry under the cover."""
    horizon_min, stop_min = wetness.horizon_min, wetness.stop_min
    on = stop_min if covered_min is None else min(max(0, covered_min), stop_min)
    bare = wetness.bare.copy()
    bare[on:] = False
    thirsty = np.zeros(horizon_min, np.bool_)
    thirsty[on:stop_min] = True
    thirsty &= ~wetness.rain_wet(on)
    if covered_min is not None and covered_min <= 0:
        thirsty[: wetness.start_until()] = False
    for stay in stays:
        if not stay.task.protects:
            continue
        end = min(stay.end_min, horizon_min)
        bare[stay.start_min : end] = False
        thirsty[stay.start_min : end] = False
        if stay.task.seals:
            bare[end:] = False
            thirsty[end:] = False
        if stay.task.refills and end >= on:
            thirsty[end : wetness.full_until(end)] = False
    return bare, thirsty
