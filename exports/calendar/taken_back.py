"""Entries that a crew's calendar had and has no more, shown as cancelled for a while.

A phone that is off when an entry vanishes from a file may keep it, alarm and all; one
that is told of the cancelling takes it away.
"""

from collections.abc import Collection, Iterable, Mapping

from exports.calendar.event import CalendarEntry
from exports.calendar.identity import of_taken_back, visit_uid
from exports.entry import TITLE_SIGNS
from exports.text import one_line, shorten
from models.local_clock import LocalClock
from models.records import TakenBack, Team, VisitIdentity


def taken_back_entries(
    taken_back: Iterable[tuple[VisitIdentity, TakenBack]],
    reader: Team,
    teams: Mapping[str, Team],
    clock: LocalClock,
    live: Collection[str],
) -> tuple[CalendarEntry, ...]:
    """Write the entries that a calendar had as cancelled.

    Parameters
    ----------
    taken_back : iterable
        Entries of all crews, with whose they were.
    reader : Team
        Whose calendar it is.
    teams : mapping
        Teams of the site by id; those that it has no more have no calendar either.
    clock : LocalClock
        Of the site.
    live : collection of str
        UIDs of what the calendar shows as planned: a visit that one pair of a gang
        hands to another is there still.
    """
    found: dict[str, CalendarEntry] = {}
    for one, entry in sorted(taken_back, key=lambda pair: pair[1].sequence):
        doer = teams.get(entry.told.crew_id)
        if doer is None or not reader.speaks_for(doer):
            continue
        uid = visit_uid(one, doer)
        if uid not in live:
            found[uid] = _entry(uid, one, entry, teams, clock)
    return tuple(found.values())


def _entry(
    uid: str,
    one: VisitIdentity,
    entry: TakenBack,
    teams: Mapping[str, Team],
    clock: LocalClock,
) -> CalendarEntry:
    told = entry.told
    return CalendarEntry(
        uid=uid,
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
