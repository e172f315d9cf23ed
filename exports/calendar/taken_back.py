"""Entries that a crew's calendar had and has no more, shown as cancelled for a while.

A phone that is off when an entry vanishes from a file may keep it, alarm and all; one
that is told of the cancelling takes it away.
"""

from collections.abc import Mapping

from exports.calendar.event import CalendarEntry
from exports.calendar.identity import of_taken_back, visit_uid
from exports.entry import TITLE_SIGNS
from exports.text import one_line, shorten
from models.local_clock import LocalClock
from models.records import TakenBack, Team, VisitIdentity


def taken_back_entry(
    one: VisitIdentity, entry: TakenBack, teams: Mapping[str, Team], clock: LocalClock
) -> CalendarEntry:
    """Write an entry that a crew had as cancelled, with what became of the visit."""
    told = entry.told
    return CalendarEntry(
        uid=visit_uid(one, told.crew_id),
        title=shorten(f"CANCELLED {told.what}", TITLE_SIGNS),
        text=_became(one, entry, teams, clock),
        place=told.place,
        categories=("cancelled",),
        starts_at=told.starts_at,
        ends_at=told.ends_at,
        revision=of_taken_back(one, entry),
    )


def _became(
    one: VisitIdentity, entry: TakenBack, teams: Mapping[str, Team], clock: LocalClock
) -> str:
    if one.state == "cancelled":
        return "No longer planned."
    when = clock.day_time(one.told.starts_at)
    if one.told.crew_id == entry.told.crew_id:
        return f"Now part of a round, {when}."
    team = teams.get(one.told.crew_id)
    return f"Now done by {one_line(team.name) if team else 'another crew'}, {when}."
