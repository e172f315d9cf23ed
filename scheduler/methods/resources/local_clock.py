"""Local clock times as minutes of the horizon, right through clock changes."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from models.records import Horizon, Stretch

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class LocalClock:
    """The site's wall clock against the horizon.

    A local time that a spring change skips is taken as if the clock had not been
    changed yet; one that an autumn change repeats is the first of the two.
    """

    timezone: str
    horizon: Horizon

    def minute(self, on: date, clock: time) -> int:
        """Minute of the horizon at a local date and time; may lie outside it."""
        local = datetime.combine(on, clock, ZoneInfo(self.timezone))
        # Two instants of one zone would be subtracted by their wall clocks.
        return self.horizon.minute(local.astimezone(UTC))

    def dates(self) -> tuple[date, ...]:
        """Local days of the horizon, and the one before, whose night reaches in."""
        zone = ZoneInfo(self.timezone)
        first = self.horizon.starts_at.astimezone(zone).date() - _DAY
        last = self.horizon.ends_at.astimezone(zone).date()
        return tuple(first + _DAY * i for i in range((last - first).days + 1))

    def stretch(self, on: date, starts: time, ends: time) -> Stretch:
        """From one clock time to the next other one; past midnight if not later."""
        until = on if ends > starts else on + _DAY
        return Stretch(
            from_min=self.minute(on, starts), until_min=self.minute(until, ends)
        )

    def words(self, minute: int) -> str:
        """Weekday and clock time of a minute, such as ``Thu 18:00``."""
        local = self.horizon.at(minute).astimezone(ZoneInfo(self.timezone))
        return f"{WEEKDAYS[local.weekday()].capitalize()} {local:%H:%M}"


#: As shift patterns name them, Monday first.
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
