"""How long a full cover lasts at worst, and how often that calls for somebody."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from models.records import Stretch, SurfaceWork
from scheduler.estimates.wetness import flags_of, wetness_of

#: Within this a cover is inspected anyhow, so one that lasts it needs nobody more.
#: Common practice, no source. [h]
_SHIFT_H = 8.0


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
    if surface.curve is None or covered_min is None:
        return Lasting()
    wetness = wetness_of(surface, horizon_min)
    dark = flags_of(nights, horizon_min)
    by_day: list[int] = []
    by_night: list[int] = []
    for minute in range(0, wetness.stop_min, 60):
        if minute < covered_min:
            continue
        dry_min = wetness.full_until(minute)
        if dry_min < horizon_min:
            (by_night if dark[minute] else by_day).append(dry_min - minute)
    return Lasting(day_h=_hours(by_day), night_h=_hours(by_night))


def visits_per_shift(surface: SurfaceWork, lasts: Lasting) -> int:
    """Count how often in a shift a wetting runs out, or steam is read, at worst."""
    every_h = [hours for hours in (lasts.day_h, lasts.night_h) if hours]
    every_h += [
        (task.latest_min - task.earliest_min) / 60
        for task in surface.tasks
        if task.kind == "steam_watch"
    ]
    return max(1, ceil(_SHIFT_H / min(every_h, default=_SHIFT_H)))


def _hours(minutes: list[int]) -> float | None:
    return round(min(minutes) / 60, 1) if minutes else None
