"""Hours of weather as entries, and whether they follow one another through the plan."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.errors import Place, Problem
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.records import Weather, WeatherHour

HOUR = timedelta(hours=1)


@dataclass(frozen=True)
class WeatherHours:
    """What could be read of a weather file.

    ``late`` says that it begins too late, which is no matter where somebody else has
    the hours before.
    """

    file: str
    wind_height_m: float
    entries: tuple[RawEntry[WeatherHour], ...]
    late: Problem | None = None

    def record(self) -> Weather:
        """Give the hours that could be read; at least two, and one after the other."""
        hours = (entry.record for entry in self.entries)
        return Weather(
            wind_height_m=self.wind_height_m,
            hours=tuple(hour for hour in hours if hour is not None),
        )


@dataclass(frozen=True)
class Span:
    """The stretch the weather has to reach over."""

    starts_at: datetime
    ends_at: datetime


def check_hours(
    entries: Sequence[RawEntry[WeatherHour]],
    local: LocalTime,
    problems: ProblemCollector,
) -> None:
    """Refuse each hour that is not the one after the hour above it.

    One slip is one problem: after a row that does not follow, the next may go on from
    it, or as if it had been in order, or as if it were not there.
    """
    due: tuple[datetime, ...] = ()  # the likeliest first
    seen: set[datetime] = set()
    for entry in entries:
        at = _at(entry)
        in_its_place = tuple(hour + HOUR for hour in due)
        if at is None:
            due = (*in_its_place, *due)
            continue
        fault = _fault(at, due, seen, local)
        if fault:
            entry.refuse(problems, "time", *fault)
            not_there = due if at in seen else ()
            due = (*in_its_place, *not_there, at + HOUR)
        else:
            due = (at + HOUR,)
        seen.add(at)


def _fault(
    at: datetime, due: tuple[datetime, ...], seen: set[datetime], local: LocalTime
) -> tuple[str, str, str] | None:
    """Say what is found, what is expected and how to mend it; None if it is due.

    Full on the site's clock, or in UTC, which some zones miss by half an hour.
    """
    if all(
        (t.minute, t.second, t.microsecond) != (0, 0, 0) for t in (local.wall(at), at)
    ):
        return local.words(at), "a full hour", ""
    if not due or at in due:
        return None
    if at in seen:
        return f"duplicate hour, {local.words(at)}", "", ""
    if at < due[0]:
        return local.words(at), f"an hour after {local.words(due[0] - HOUR)}", ""
    missing = (at - due[0]) // HOUR
    hint = f"{missing} {'hour is' if missing == 1 else 'hours are'} missing"
    return local.words(at), f"{local.words(due[0])}, the next hour", hint


def check_reach(
    weather: WeatherHours, span: Span, local: LocalTime, problems: ProblemCollector
) -> Problem | None:
    """Refuse hours that end before the stretch does; those that begin late, give back.

    Returns
    -------
    Problem or None
        What to say of hours that begin after the stretch, if nobody has those before.
    """
    hours = [at for at in map(_at, weather.entries) if at]
    if not hours:
        return None
    problem = Problem(
        Place(weather.file), "time",
        f"hours from {local.words(min(hours))} to {local.words(max(hours) + HOUR)}",
        f"hours from {local.words(span.starts_at)} to {local.words(span.ends_at)}",
        "From the first placing, or the start of the week, to the end of the week",
    )  # fmt: skip
    if max(hours) + HOUR < span.ends_at or len(hours) == 1:
        problems.keep(problem)
        return None
    return problem if min(hours) > span.starts_at else None


def _at(entry: RawEntry[WeatherHour]) -> datetime | None:
    value = entry.values.get("at")
    return value if isinstance(value, datetime) else None
