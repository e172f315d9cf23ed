"""An EPW file: a typical year of hours, laid onto the calendar of the plan.

Field order, missing-value codes and what an hour means are those of the "EnergyPlus
Weather File (EPW) Data Dictionary" of the EnergyPlus auxiliary programs' manual
(read). Hours run from 1 to 24 and name the end of the hour, in standard time all year;
temperature, humidity, wind and sky are those at that moment, radiation and rain those
of the hour before it. The months come from different years, so only month, day and
hour count; 29 February takes the weather of the 28th where the file has none. Wind is
taken as measured 10 m above ground, the usual height of weather stations, unless
``site.toml`` gives another ``wind_height``.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from math import inf, isfinite
from pathlib import Path

from models.errors import Place
from models.files.formats.open_file import read_bytes
from models.files.inputs.weather_hours import HOUR, Span, WeatherHours
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import read_entry
from models.files.reading.row_tables import WEATHER
from models.wording import say

WIND_HEIGHT_M = 10.0
_HEADER_LINES = 8
#: Curing may run on beyond the plan; a whole year of weather can follow it.
_BEYOND = timedelta(days=14)

Hour = tuple[int, int, int]  # month, day, hour 1 to 24


@dataclass(frozen=True)
class _Field:
    """A field of a data line.

    Values at or above ``missing`` are its code for none; ``factor`` leads to the unit
    of a bare number in ``weather.csv``, ``most`` is the highest value kept.
    """

    title: str
    index: int
    missing: float
    factor: float = 1.0
    most: float = inf
    needed: bool = True


#: Taken at the hour named, then those of the hour that begins then.
_AT_HOUR = {
    "air_temperature": _Field("dry bulb temperature", 6, 99.9),
    "humidity": _Field("relative humidity", 8, 999, most=100),  # up to 110 allowed
    "wind": _Field("wind speed", 21, 999),
    "cloud": _Field("total sky cover", 22, 99, factor=10, needed=False),
}
_AFTER_HOUR = {
    "solar": _Field("global horizontal radiation", 13, 9999),
    "rain": _Field("liquid precipitation depth", 33, 999, needed=False),
}


@dataclass(frozen=True)
class _Line:
    number: int
    cells: tuple[str, ...]


def read_epw(
    path: Path,
    site_height_m: float | None,
    span: Span,
    local: LocalTime,
    problems: ProblemCollector,
) -> WeatherHours | None:
    """Read the hours of a stretch, and of some days after it as far as they go.

    Returns None, with the problem kept, if the file is no EPW file.
    """
    data = read_bytes(path, problems)
    if data is None:
        return None
    # Only numbers are used; the names in the header are in anybody's encoding.
    lines = [line.split(",") for line in data.decode("latin-1").splitlines()]
    offset = _offset(path.name, lines, problems)
    if offset is None:
        return None
    hours = _hours(lines)
    # The last full hour of the file's own clock that is not after the start.
    wall = (span.starts_at + offset).replace(minute=0, second=0, microsecond=0)
    entries = []
    while wall - offset < span.ends_at + _BEYOND:
        at = wall - offset
        place, raw, lacks = _read_hour(path.name, hours, wall)
        if lacks and at >= span.ends_at:
            break
        for title, found in lacks.values():
            problems.add(place, title, found, "a value for every hour of the plan")
        raw["time"] = at
        entries.append(
            read_entry(
                WEATHER,
                raw,
                partial(_same, place),
                local,
                problems,
                absent=frozenset(lacks),
            )
        )
        wall += HOUR
    height_m = WIND_HEIGHT_M if site_height_m is None else site_height_m
    return WeatherHours(path.name, height_m, tuple(entries))


def _offset(
    name: str, lines: list[list[str]], problems: ProblemCollector
) -> timedelta | None:
    """Return the file's distance from UTC, if its header is that of hourly EPW."""
    if not lines or lines[0][0].strip().upper() != "LOCATION":
        found = repr(",".join(lines[0])[:40]) if lines else ""
        wanted = "an EPW file, which begins with LOCATION"
        problems.add(Place(name, 1), "", found, wanted)
        return None
    for number, line in enumerate(lines[:_HEADER_LINES], start=1):
        per_hour = line[2].strip() if len(line) > 2 else ""
        if line[0].strip().upper() == "DATA PERIODS" and per_hour != "1":
            found = f"{per_hour or 'no'} records an hour"
            problems.add(Place(name, number), "DATA PERIODS", found, "1 record an hour")
            return None
    text = lines[0][8].strip() if len(lines[0]) > 8 else ""
    hours = _number(text)
    if hours is None or not -12 <= hours <= 14:
        problems.add(
            Place(name, 1), "LOCATION", say(text), "hours from UTC as its ninth field"
        )
        return None
    return timedelta(hours=hours)


def _hours(lines: list[list[str]]) -> dict[Hour, _Line]:
    """Find the data lines by month, day and hour; the first year of several counts."""
    hours: dict[Hour, _Line] = {}
    for number, line in enumerate(lines[_HEADER_LINES:], start=_HEADER_LINES + 1):
        named = [_number(cell) for cell in line[1:4]]
        month, day, hour = (
            int(value) if value else 0 for value in (*named, 0, 0, 0)[:3]
        )
        hours.setdefault((month, day, hour), _Line(number, tuple(line)))
    return hours


def _read_hour(
    name: str, hours: Mapping[Hour, _Line], wall: datetime
) -> tuple[Place, dict[str, object], dict[str, tuple[str, str]]]:
    """Return the values at an hour of the file's clock under our own words.

    The third part names what is needed and missing: our word to title and what stands
    in its place.
    """
    before = wall - HOUR
    raw: dict[str, object] = {}
    lacks: dict[str, tuple[str, str]] = {}
    ending = _line(hours, (before.month, before.day, before.hour + 1))
    beginning = _line(hours, (wall.month, wall.day, wall.hour + 1))
    for line, fields in ((ending, _AT_HOUR), (beginning, _AFTER_HOUR)):
        for key, field in fields.items():
            value, found = _value(line, field)
            if value is not None:
                raw[key] = value
            elif field.needed:
                lacks[key] = (field.title, found or f"no line for {wall:%m-%d %H:00}")
    return Place(name, ending.number if ending else 0), raw, lacks


def _line(hours: Mapping[Hour, _Line], hour: Hour) -> _Line | None:
    if hour[:2] == (2, 29) and hour not in hours:
        hour = (2, 28, hour[2])
    return hours.get(hour)


def _value(line: _Line | None, field: _Field) -> tuple[float | None, str]:
    if line is None:
        return None, ""
    text = line.cells[field.index].strip() if field.index < len(line.cells) else ""
    value = _number(text)
    if value is None:
        return None, say(text) or "an empty field"
    if value >= field.missing:
        return None, f"{text}, the code for a missing value"
    return min(value * field.factor, field.most), text


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if isfinite(value) else None


def _same(place: Place, key: str) -> Place:
    del key  # a line is found by its number alone
    return place
