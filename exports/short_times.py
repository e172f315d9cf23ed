"""Times for a list about one stretch of days: day and clock, the zone said once.

Where the clocks change on the way every time keeps its zone, and where a name of a day
could mean two of them its date stands beside it.
"""

from datetime import datetime, timedelta

from exports.wall_clock import WallClock

#: Beyond this a day's name comes round again.
_NAMES_TELL = timedelta(days=6)


class ShortTimes:
    """Words for instants between two others.

    Attributes
    ----------
    note : str
        What to say once, above the list: ``all times CEST``.
    """

    def __init__(
        self, clock: WallClock, starts_at: datetime, ends_at: datetime
    ) -> None:
        self._clock, self._starts_at, self._ends_at = clock, starts_at, ends_at
        first, last = (clock.local(at).tzname() for at in (starts_at, ends_at))
        self._zone_name = first if first == last else None
        self.note = (
            f"all times {first}" if first == last else f"clocks change: {first}, {last}"
        )

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
        day = self._clock.day(at)
        far = max(abs(at - self._starts_at), abs(at - self._ends_at)) > _NAMES_TELL
        return day if far else day[:3]

    def _time(self, at: datetime) -> str:
        return f"{self._clock.local(at):%H:%M}"

    def _zone(self, at: datetime) -> str:
        name = self._clock.local(at).tzname()
        return "" if name == self._zone_name else f" {name}"
