"""Times as people say them: ``03:10``, ``Tue 07:40`` or a full date.

A time that the clocks skip or show twice is refused with both readings of it.
"""

import re
from datetime import date, datetime, time, timedelta
from typing import Literal

from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ValueRefused
from models.local_clock import WEEKDAYS, LocalClock

_SAID = re.compile(r"(?:([A-Za-z]{3,9})\.?[ ,]+)?(\d{1,2}:\d{2})")
_NAIVE = re.compile(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2})?")
_DAY = timedelta(days=1)
WANTED = 'a time such as 03:10, "Tue 07:40" or "2027-05-04 03:10"'

#: Which of the days that a spoken time may mean: the last one up to another time, the
#: next one after it, or the nearest.
Toward = Literal["back", "ahead", "near"]


def read_spoken(
    text: str, local: LocalTime, near: datetime, toward: Toward
) -> datetime:
    """Read a time that somebody said, as an instant in UTC.

    Parameters
    ----------
    text : str
        As written.
    near : datetime
        The time that it is said at, or that it is about.
    toward : str
        Which day is meant where none is named, or only its weekday.

    Raises
    ------
    ValueRefused
        If it is no time, or is no or two moments of the site's clock.
    """
    said = _SAID.fullmatch(text.strip())
    if said is None:
        try:
            return local.instant(text)
        except ValueRefused as no:
            if _NAIVE.fullmatch(text.strip()) and (wall := _wall(text)):
                _require_one(wall, local)
            raise ValueRefused(WANTED, no.hint) from None
    weekday, clock = said[1], _clock(said[2])
    walls = _walls(local.wall(near).date(), weekday, clock)
    wall = _meant(walls, local.wall(near), toward)
    _require_one(wall, local)
    return local.of_wall(wall)


def is_spoken(text: str) -> bool:
    """Say whether a time names no date."""
    return _SAID.fullmatch(text.strip()) is not None


def _wall(text: str) -> datetime | None:
    try:
        return datetime.fromisoformat(text.strip())
    except ValueError:
        return None


def _clock(text: str) -> time:
    try:
        return time.fromisoformat(text.zfill(5))
    except ValueError:
        raise ValueRefused(WANTED, "No such hour") from None


def _walls(around: date, weekday: str | None, clock: time) -> list[datetime]:
    """Give the moments on the wall that may be meant, a week to either side."""
    wanted = None
    if weekday is not None:
        names = [name for name in WEEKDAYS if weekday.casefold()[:3] == name]
        if not names:
            raise ValueRefused(WANTED, f"Days are {', '.join(WEEKDAYS)}")
        wanted = WEEKDAYS.index(names[0])
    days = (around + _DAY * count for count in range(-7, 8))
    return [
        datetime.combine(day, clock)
        for day in days
        if wanted is None or day.weekday() == wanted
    ]


def _meant(walls: list[datetime], near: datetime, toward: Toward) -> datetime:
    if toward == "back":
        return max(wall for wall in walls if wall <= near)
    if toward == "ahead":
        return min(wall for wall in walls if wall > near)
    return min(walls, key=lambda wall: abs(wall - near))


def _require_one(wall: datetime, local: LocalTime) -> None:
    """Refuse a time on the wall that is no or two moments, with both readings."""
    clock = LocalClock(local.timezone)
    first, second = (wall.replace(tzinfo=clock.zone, fold=fold) for fold in (0, 1))
    before, after = first.utcoffset(), second.utcoffset()
    if before is None or after is None or before == after:
        return
    readings = [f"{at:%Y-%m-%d %H:%M}{at:%z}" for at in (first, second)]
    if before > after:
        wanted = " or ".join(f"'{one[:-2]}:{one[-2:]}'" for one in readings)
        hint = "The clocks are put back that night and show it twice; write one in full"
        raise ValueRefused(wanted, hint)
    real = sorted(clock.local(at) for at in (first, second))
    wanted = " or ".join(f"'{at:%Y-%m-%d %H:%M}' ({at.tzname()})" for at in real)
    raise ValueRefused(wanted, "The clocks are put forward that night and skip it")
