"""The one clock that people read: instants and minutes as the site's wall shows them.

Names of days and months are written here and not asked of the machine's locale, so that
the same folder gives the same words everywhere. Differences are of instants, not of
wall clocks: a night in which the clocks change is an hour shorter or longer.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property
from zoneinfo import ZoneInfo

import pendulum

from models.records import Horizon, Stretch

MIDNIGHT = time(0)
#: Monday first, as files and shift patterns name them.
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAYS = tuple(name.capitalize() for name in WEEKDAYS)
_MONTHS = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun",
    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip
_DAY = timedelta(days=1)
#: Beyond this a day's name comes round again.
_NAMES_TELL = timedelta(days=6)
#: A bare time of day this long after a list's end still says which day it means.
_SAME_NIGHT = timedelta(hours=12)


@dataclass(frozen=True)
class LocalClock:
    """The clock on the site's wall.

    A time that a spring change leaves out is taken as if the clock had not been changed
    yet, so it is carried past the change; one that an autumn change brings twice is the
    first of the two.
    """

    timezone: str

    @cached_property
    def zone(self) -> ZoneInfo:
        """The rules of the site's time zone."""
        return pendulum.timezone(self.timezone)

    def local(self, at: datetime) -> datetime:
        """Return an instant in the site's zone."""
        return at.astimezone(UTC).astimezone(self.zone)

    def instant(self, on: date, clock: time) -> datetime:
        """Return the instant, in UTC, at which the wall shows a date and a time."""
        return datetime.combine(on, clock, self.zone).astimezone(UTC)

    def time(self, at: datetime) -> str:
        """``03:10 CEST``; on the night of a change its zone tells two 02:30 apart."""
        local = self.local(at)
        return f"{local:%H:%M} {local.tzname()}"

    def weekday(self, at: datetime) -> str:
        """``Tue``."""
        return _DAYS[self.local(at).weekday()]

    def day(self, at: datetime) -> str:
        """``Tue 4 May``."""
        local = self.local(at)
        return f"{self.weekday(at)} {local.day} {_MONTHS[local.month - 1]}"

    def day_time(self, at: datetime) -> str:
        """``Tue 4 May 03:10 CEST``."""
        return f"{self.day(at)} {self.time(at)}"

    def span(self, starts_at: datetime, ends_at: datetime) -> str:
        """``Tue 4 May 02:50–03:20 CEST``, or both in full where day or zone differ."""
        starts, ends = self.local(starts_at), self.local(ends_at)
        if starts.date() != ends.date():
            return f"{self.day_time(starts_at)} to {self.day_time(ends_at)}"
        if starts.tzname() != ends.tzname():
            return f"{self.day_time(starts_at)} to {self.time(ends_at)}"
        return f"{self.day(starts_at)} {starts:%H:%M}–{ends:%H:%M} {ends.tzname()}"


class ShortTimes:
    """Words for a list about one stretch of days: the zone is said once, above it.

    Where the clocks change on the way every time keeps its zone, and where a name of a
    day could mean two of them its date stands beside it.

    Attributes
    ----------
    note : str
        What to say once, above the list: ``all times CEST``.
    """

    def __init__(
        self, clock: LocalClock, starts_at: datetime, ends_at: datetime
    ) -> None:
        self._clock, self._starts_at, self._ends_at = clock, starts_at, ends_at
        first, last = (clock.local(at).tzname() for at in (starts_at, ends_at))
        self._zone_name = first if first == last else None
        self.note = (
            f"all times {first}"
            if first == last
            else f"clocks change: {first}, then {last}"
        )

    def time(self, at: datetime) -> str:
        """``03:10``; with its day where that may be doubted."""
        days = {self._clock.day(end) for end in (self._starts_at, self._ends_at)}
        far = at - self._ends_at > _SAME_NIGHT
        if far or self._clock.day(at) not in days:
            return self.day_time(at)
        return f"{self._time(at)}{self._zone(at)}"

    def day_time(self, at: datetime) -> str:
        """``Tue 03:10``."""
        return f"{self._day(at)} {self._time(at)}{self._zone(at)}"

    def span(self, starts_at: datetime, ends_at: datetime) -> str:
        """``Tue 02:50–03:20``, or both with their days where these or zones differ."""
        starts, ends = self._clock.local(starts_at), self._clock.local(ends_at)
        if starts.date() != ends.date() or starts.tzname() != ends.tzname():
            return f"{self.day_time(starts_at)} to {self.day_time(ends_at)}"
        times = f"{self._time(starts_at)}–{self._time(ends_at)}"
        return f"{self._day(starts_at)} {times}{self._zone(ends_at)}"

    def _day(self, at: datetime) -> str:
        far = max(abs(at - self._starts_at), abs(at - self._ends_at)) > _NAMES_TELL
        return self._clock.day(at) if far else self._clock.weekday(at)

    def _time(self, at: datetime) -> str:
        return f"{self._clock.local(at):%H:%M}"

    def _zone(self, at: datetime) -> str:
        name = self._clock.local(at).tzname()
        return "" if name == self._zone_name else f" {name}"


@dataclass(frozen=True)
class WeekClock:
    """The wall's clock against the whole minutes of a horizon.

    Minutes may lie outside the horizon, negative before it.
    """

    timezone: str
    horizon: Horizon

    @cached_property
    def wall(self) -> LocalClock:
        """The same clock, asked of instants."""
        return LocalClock(self.timezone)

    def minute(self, on: date, clock: time) -> int:
        """Minute at which the wall shows a date and a time."""
        return self.horizon.minute(self.wall.instant(on, clock))

    def local(self, minute: int) -> datetime:
        """Local date and time of a minute."""
        return self.wall.local(self.horizon.at(minute))

    def stretch(self, on: date, starts: time, ends: time) -> Stretch:
        """Minutes between two clock times; an end not after the start is tomorrow's."""
        until = on if ends > starts else on + _DAY
        return Stretch(
            from_min=self.minute(on, starts), until_min=self.minute(until, ends)
        )

    def days(self, until_min: int | None = None) -> tuple[date, ...]:
        """Local days that the horizon touches, after the one whose night reaches in."""
        last_min = (self.horizon.length_min if until_min is None else until_min) - 1
        first, last = self.local(0).date() - _DAY, self.local(max(0, last_min)).date()
        return tuple(first + _DAY * count for count in range((last - first).days + 1))

    def words(self, minute: int) -> str:
        """``Thu 18:00``, with its zone where the wall shows it twice."""
        return f"{_DAYS[self.local(minute).weekday()]} {self._time(minute)}"

    def day_words(self, minute: int) -> str:
        """``Thu 6 May``."""
        return self.wall.day(self.horizon.at(minute))

    def span(self, from_min: int, until_min: int) -> str:
        """``Thu 18:00–19:30``, or both with their days where these differ."""
        starts = self.words(from_min)
        days = (self.local(until_min).date() - self.local(from_min).date()).days
        if days == 0:
            return f"{starts}–{self._time(until_min)}"
        if days >= 7:  # the same weekday again
            return f"{starts} to {self.day_words(until_min)} {self._time(until_min)}"
        return f"{starts} to {self.words(until_min)}"

    def _time(self, minute: int) -> str:
        at = self.local(minute)
        twice = at.replace(fold=0).utcoffset() != at.replace(fold=1).utcoffset()
        return f"{at:%H:%M} {at.tzname()}" if twice else f"{at:%H:%M}"


def minutes_between(starts_at: datetime, ends_at: datetime) -> int:
    """Whole minutes from one instant to another, clock changes included."""
    seconds = (ends_at.astimezone(UTC) - starts_at.astimezone(UTC)).total_seconds()
    return round(seconds / 60)
