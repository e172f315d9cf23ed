"""Short visits close in time and place, as one round: a phone shows a handful a shift.

Eight rewets of one zone in one walk are one thing to go and do. Visits that need
hands for longer (laying, spraying, fogging, lifting) stay alone: each has steps of
its own. Every visit keeps its line on the shift sheet.
"""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime, timedelta

from exports.entry import TITLE_SIGNS, Entry
from exports.text import shorten
from models.records import TASK_KINDS, Record

#: A longer pause is a walk of its own; a longer round outlives the alarm it began
#: with; a longer list does not fit a phone's screen. Assumptions.
PAUSE = timedelta(minutes=10)
LONGEST = timedelta(minutes=90)
MAX_VISITS = 8
#: Of a title; the zone needs the rest.
MOST_COUNT_SIGNS = 23


class Round(Record):
    """Visits of one crew, done in one go; most rounds hold a single one."""

    entries: tuple[Entry, ...]

    @property
    def first(self) -> Entry:
        """The visit it begins with."""
        return self.entries[0]

    @property
    def starts_at(self) -> datetime:
        """When its first visit begins."""
        return self.first.starts_at

    @property
    def ends_at(self) -> datetime:
        """When its last visit ends."""
        return self.entries[-1].ends_at

    @property
    def most_pressing(self) -> Entry:
        """The visit whose latest start leaves least room from the planned one."""
        return min(self.entries, key=lambda entry: entry.start_by_at - entry.starts_at)

    @property
    def start_by_at(self) -> datetime:
        """Latest start of the round at which no visit in it comes late."""
        pressing = self.most_pressing
        return self.starts_at + (pressing.start_by_at - pressing.starts_at)

    @property
    def title(self) -> str:
        """``ROUND Quay slab: 5 × RE-WET``, at most 40 visible signs."""
        if len(self.entries) == 1:
            return self.first.title
        kinds = Counter(entry.kind for entry in self.entries)
        counts = ", ".join(
            f"{n} × {TASK_KINDS[kind].verb}" for kind, n in kinds.items()
        )
        if len(counts) > MOST_COUNT_SIGNS:
            counts = f"{len(self.entries)} visits"
        room = TITLE_SIGNS - len("ROUND : ") - len(counts)
        return f"ROUND {shorten(self.first.zone_name, room)}: {counts}"


def rounds(entries: Iterable[Entry]) -> tuple[Round, ...]:
    """Group visits into rounds, in order of start, then crew.

    A visit joins the round before it if it is of the same crew, shift and zone, both
    are short kinds of work, it starts within ten minutes of the other's end, and the
    round still ends within an hour and a half.
    """
    groups: list[list[Entry]] = []
    open_of_crew: dict[str, list[Entry]] = {}
    for entry in sorted(entries, key=lambda e: (e.starts_at, e.crew_id, e.visit_id)):
        group = open_of_crew.get(entry.crew_id)
        if group is None or not _joins(group, entry):
            group = open_of_crew[entry.crew_id] = []
            groups.append(group)
        group.append(entry)
    return tuple(Round(entries=tuple(group)) for group in groups)


def _joins(group: list[Entry], entry: Entry) -> bool:
    last = group[-1]
    return (
        len(group) < MAX_VISITS
        and all(TASK_KINDS[kind].in_rounds for kind in (last.kind, entry.kind))
        and (last.shift_id, last.zone_id) == (entry.shift_id, entry.zone_id)
        and entry.starts_at - last.ends_at <= PAUSE
        and entry.ends_at - group[0].starts_at <= LONGEST
    )
