"""The time axis of board and clocks: instants as shares of the week, days, nights."""

from datetime import UTC, date, datetime, time, timedelta

from models.local_clock import LocalClock
from models.records import Horizon, Record


class Mark(Record):
    """A day on the axis, from its local midnight (or the start) on."""

    left_pct: float
    width_pct: float
    words: str


class Axis:
    """Where an instant lies between the horizon's ends.

    Shares are of elapsed time, so a day of 23 or 25 hours is drawn as long as it is.
    """

    def __init__(self, horizon: Horizon, timezone: str) -> None:
        self._clock = LocalClock(timezone)
        # In UTC: differences within one zone would count the wall clock's hours.
        self.starts_at = horizon.starts_at.astimezone(UTC)
        self.ends_at = horizon.ends_at.astimezone(UTC)
        self.length_min = horizon.length_min

    def minute(self, at: datetime) -> float:
        """Minutes from the start of the week, kept inside it."""
        minutes = (at - self.starts_at).total_seconds() / 60
        return min(max(minutes, 0.0), float(self.length_min))

    def holds(self, at: datetime) -> bool:
        """Whether an instant lies in the week, its ends included."""
        return self.starts_at <= at <= self.ends_at

    def pct(self, at: datetime) -> float:
        """Share of the week that lies before an instant, in percent."""
        return round(100 * self.minute(at) / self.length_min, 3)

    def span(self, starts_at: datetime, ends_at: datetime, words: str) -> Mark:
        """Place a stretch on the axis."""
        left = self.pct(starts_at)
        width = round(self.pct(ends_at) - left, 3)
        return Mark(left_pct=left, width_pct=width, words=words)

    def days(self) -> tuple[Mark, ...]:
        """One mark a local day that has any part in the week."""
        marks = []
        for day in self._dates():
            starts, ends = self._at(day, time()), self._at(_next(day), time())
            words = self._clock.day(max(starts, self.starts_at))
            marks.append(self.span(starts, ends, words))
        return tuple(mark for mark in marks if mark.width_pct > 0)

    def nights(self, starts: time, ends: time) -> tuple[Mark, ...]:
        """Place the nights between two local clock times."""
        first = [_before(self._dates()[0]), *self._dates()]
        marks = (
            self.span(
                self._at(day, starts),
                self._at(day if starts < ends else _next(day), ends),
                "night",
            )
            for day in first
        )
        return tuple(mark for mark in marks if mark.width_pct > 0)

    def daily(self, clock: time) -> tuple[float, ...]:
        """Minutes of the week at which the wall clock shows a time, day by day."""
        instants = (self._at(day, clock) for day in self._dates())
        return tuple(self.minute(at) for at in instants if self.holds(at))

    def _dates(self) -> list[date]:
        first = self._clock.local(self.starts_at).date()
        last = self._clock.local(self.ends_at).date()
        return [first + timedelta(days=i) for i in range((last - first).days + 1)]

    def _at(self, day: date, clock: time) -> datetime:
        return self._clock.instant(day, clock)


def _next(day: date) -> date:
    return day + timedelta(days=1)


def _before(day: date) -> date:
    return day - timedelta(days=1)
