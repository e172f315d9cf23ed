"""Local days and clock times of the site on the axis of whole minutes.

Instants count, not wall clocks: a shift through a clock change is an hour shorter or
longer. A time that a spring change leaves out is carried past it; of one that an
autumn change brings twice, the first is meant.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from models.records import Horizon

MIDNIGHT = time(0)
#: Written here and not asked of the machine's locale.
DAY_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True)
class SiteClock:
    """The site's timezone over its horizon."""

    timezone: str
    horizon: Horizon

    def minute(self, day: date, clock: time) -> int:
        """Minute from the horizon start at which a local clock shows a time."""
        local = datetime.combine(day, clock, ZoneInfo(self.timezone))
        return self.horizon.minute(local.astimezone(UTC))

    def local(self, minute: int) -> datetime:
        """Local date and time of a minute."""
        return self.horizon.at(minute).astimezone(ZoneInfo(self.timezone))

    def stretch(self, day: date, starts: time, ends: time) -> tuple[int, int]:
        """Minutes between two clock times; an end not after the start is tomorrow's."""
        last = day if ends > starts else day + timedelta(days=1)
        return self.minute(day, starts), self.minute(last, ends)

    def days(self, until_min: int | None = None) -> Iterator[date]:
        """Yield local days from the one before the horizon to the last it touches."""
        day = self.local(0).date() - timedelta(days=1)
        last = self.local(max(0, (until_min or self.horizon.length_min) - 1)).date()
        while day <= last:
            yield day
            day += timedelta(days=1)

    def words(self, minute: int) -> str:
        """Weekday and time, with the offset where the clock shows it twice."""
        at = self.local(minute)
        text = f"{DAY_NAMES[at.weekday()]} {at:%H:%M}"
        twice = at.replace(fold=0).utcoffset() != at.replace(fold=1).utcoffset()
        return f"{text} (UTC{at:%z})" if twice else text

    def day_words(self, minute: int) -> str:
        """Weekday and date."""
        at = self.local(minute)
        return f"{DAY_NAMES[at.weekday()]} {at:%Y-%m-%d}"

    def span(self, from_min: int, until_min: int) -> str:
        """Two times; the day of the second only where it is another."""
        starts, ends = self.words(from_min), self.words(until_min)
        days = (self.local(until_min).date() - self.local(from_min).date()).days
        if days == 0:
            return f"{starts} to {ends[4:]}"
        if days >= 7:  # the same weekday again
            return f"{starts} to {self.day_words(until_min)} {ends[4:]}"
        return f"{starts} to {ends}"
