"""Instants as the clock on the site's wall shows them, always with its zone.

On the night of a clock change the abbreviation is all that tells the two 02:30 apart,
so it is never left out. Names of days are written here and not asked of the machine's
locale: the same roster gives the same words everywhere.
"""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = (
    "Jan", "Feb", "Mar", "Apr", "May", "Jun",
    "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
)  # fmt: skip


class WallClock:
    """Words for instants in one time zone."""

    def __init__(self, timezone: str) -> None:
        self.zone = ZoneInfo(timezone)

    def local(self, at: datetime) -> datetime:
        """Return the instant in the site's zone."""
        return at.astimezone(UTC).astimezone(self.zone)

    def time(self, at: datetime) -> str:
        """``03:10 CEST``."""
        local = self.local(at)
        return f"{local:%H:%M} {local.tzname()}"

    def day(self, at: datetime) -> str:
        """``Tue 4 May``."""
        local = self.local(at)
        return f"{_DAYS[local.weekday()]} {local.day} {_MONTHS[local.month - 1]}"

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


def minutes_between(starts_at: datetime, ends_at: datetime) -> int:
    """Whole minutes from one instant to another, clock changes included."""
    seconds = (ends_at.astimezone(UTC) - starts_at.astimezone(UTC)).total_seconds()
    return round(seconds / 60)


def duration(minutes: int) -> str:
    """``45 min``, ``2 h``, ``2 h 10 min`` or ``3 d 4 h``."""
    days, rest = divmod(minutes, 24 * 60)
    hours, left = divmod(rest, 60)
    parts = [(days, "d"), (hours, "h"), (0 if days else left, "min")]
    return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 min"
