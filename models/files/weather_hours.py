"""Hours of weather as entries, and whether they follow one another through the plan."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.files.gather import Gatherer, Place
from models.files.local_time import LocalTime
from models.files.record_reader import Entry
from models.records import WeatherHour

HOUR = timedelta(hours=1)


@dataclass(frozen=True)
class WeatherHours:
    """What could be read of a weather file."""

    file: str
    wind_height_m: float
    entries: tuple[Entry[WeatherHour], ...]


@dataclass(frozen=True)
class Span:
    """The stretch the weather has to reach over."""

    starts_at: datetime
    ends_at: datetime


def check_hours(
    entries: Sequence[Entry[WeatherHour]], local: LocalTime, gather: Gatherer
) -> None:
    """Keep a problem for each hour that is not the one after the hour above it."""
    before: tuple[int, datetime] | None = None
    for row, entry in enumerate(entries):
        at = _at(entry)
        if at is None:
            continue

        def keep(
            found: str, wanted: str, hint: str = "", e: Entry[WeatherHour] = entry
        ) -> None:
            gather.add(e.place("time"), "time", found, wanted, hint)

        wall = local.wall(at)
        if (wall.minute, wall.second, wall.microsecond) != (0, 0, 0):
            keep(local.words(at), "a full hour")
            continue
        if before:
            # A row whose time could not be read still counts as an hour.
            due = before[1] + HOUR * (row - before[0])
            if before[1] < at < due or at == before[1]:
                keep(f"{local.words(at)} again", "each hour once")
            elif at < before[1]:
                keep(local.words(at), f"an hour after {local.words(before[1])}")
            elif at > due:
                missing = (at - due) // HOUR
                keep(
                    local.words(at), f"{local.words(due)}, the next hour",
                    f"{missing} {'hour is' if missing == 1 else 'hours are'} missing",
                )  # fmt: skip
        before = (row, at)


def check_reach(
    weather: WeatherHours, span: Span, local: LocalTime, gather: Gatherer
) -> None:
    """Keep a problem if the hours begin after the stretch or end before it does."""
    hours = [at for at in map(_at, weather.entries) if at]
    if not hours:
        return
    if min(hours) > span.starts_at or max(hours) + HOUR < span.ends_at:
        gather.add(
            Place(weather.file), "time",
            f"hours from {local.words(min(hours))} to {local.words(max(hours) + HOUR)}",
            f"hours from {local.words(span.starts_at)} to {local.words(span.ends_at)}",
            "from the first placing, or the start of the week, to the end of the week",
        )  # fmt: skip


def _at(entry: Entry[WeatherHour]) -> datetime | None:
    value = entry.values.get("at")
    return value if isinstance(value, datetime) else None
