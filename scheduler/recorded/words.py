"""How a record says times, amounts and where they are known from."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from exports.text import one_line
from models.local_clock import LocalClock
from models.quantities import Units, show
from models.records import Entry

BY_CLOCK = "by the clock"
NOBODY = "planned, nobody wrote"
UNKNOWN = "unknown"


@dataclass(frozen=True)
class Words:
    """Words of one record; the zone of its times is said once, at its head."""

    clock: LocalClock
    units: Units
    starts_at: datetime
    ends_at: datetime

    @cached_property
    def _zone(self) -> str | None:
        first, last = (
            self.clock.local(at).tzname() for at in (self.starts_at, self.ends_at)
        )
        return first if first == last else None

    @property
    def zone_note(self) -> str:
        """``all times CEST``."""
        if self._zone is not None:
            return f"all times {self._zone}"
        return "clocks change: each time with its zone"

    def when(self, at: datetime) -> str:
        """``Tue 4 May 03:10``."""
        local = self.clock.local(at)
        zone = "" if local.tzname() == self._zone else f" {local.tzname()}"
        return f"{self.clock.day(at)} {local:%H:%M}{zone}"

    def span(self, starts_at: datetime, ends_at: datetime) -> str:
        """``Tue 4 May 03:10 to 05:20``."""
        if self.clock.day(starts_at) != self.clock.day(ends_at):
            return f"{self.when(starts_at)} to {self.when(ends_at)}"
        day = self.clock.day(ends_at)
        return f"{self.when(starts_at)} to {self.when(ends_at).removeprefix(day + ' ')}"

    def show(self, kind: str, value: float) -> str:
        """Say a quantity in the site's units."""
        return show(kind, value, self.units)

    def written(self, entry: Entry) -> str:
        """``written by AK, Tue 4 May 03:15 (entry 12)``."""
        late = ", late" if entry.late else ""
        who = one_line(entry.by)
        when = self.when(entry.written_at)
        return f"written by {who}, {when}{late} (entry {entry.number})"


def counted(count: int, word: str) -> str:
    """``1 visit``, ``3 visits``."""
    return f"{count} {word}{'' if count == 1 else 's'}"


def some(words: Sequence[str], most: int = 3) -> str:
    """Name the first few, and how many more there are."""
    more = len(words) - most
    return ", ".join(words[:most]) + (f" and {more} more" if more > 0 else "")
