"""A crew's calendar: its visits, short ones grouped into rounds, with alarms.

What a lead needs at a glance stands in title and place; the text below says the rest,
one fact a line. Telephone numbers stay out: whoever holds the address of a feed can
read it.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from itertools import chain

from exports.calendar.event import CalendarEntry
from exports.calendar.ics_file import FeedRange, ics_file
from exports.calendar.identity import of_visit, uid, visit_uid
from exports.calendar.taken_back import taken_back_entries
from exports.entry import MAX_CAUTIONS, Entry
from exports.handed import Handed
from exports.notices import PLANNING_AID
from exports.rounds import Round, rounds
from exports.text import one_line
from models.local_clock import LocalClock, minutes_between
from models.quantities import duration
from models.records import TASK_KINDS, Roster, Site, TaskKind, Team

#: Of a round; more would hide the work below them.
MAX_BREACHES = 4
#: Within it a time of day needs no date to be understood.
SOON = timedelta(hours=18)


def crew_calendar(
    site: Site,
    roster: Roster,
    entries: Iterable[Entry],
    crew_id: str,
    handed: Handed,
    feed_range: FeedRange | None = None,
) -> bytes:
    """Write the calendar one crew lead subscribes to.

    Parameters
    ----------
    site, roster : Site, Roster
        The site and the roster the entries come from.
    entries : iterable of Entry
        Of all crews; only those that all of ``crew_id`` works in are written.
    crew_id : str
        The gang, or a party: its calendar holds what its whole gang does too.
    handed : Handed
        As which issue, or as a draft.
    feed_range : FeedRange or None
        What part is shown; None for three days back and a fortnight ahead.

    Returns
    -------
    bytes
        An ``.ics`` file.

    Raises
    ------
    ValueError
        If the site has no such crew.
    """
    teams = {team.id: team for team in site.teams}
    if crew_id not in teams:
        raise ValueError(f"no crew {crew_id!r} on {site.name}")
    clock = LocalClock(roster.timezone)
    reader = teams[crew_id]
    own = (entry for entry in entries if reader.speaks_for(teams[entry.crew_id]))
    shown = [
        _calendar_entry(site, clock, each, teams[each.first.crew_id], reader, handed)
        for each in rounds(own)
    ]
    live = {entry.uid for entry in shown}
    gone = taken_back_entries(handed.taken_back, reader, teams, clock, live)
    name = f"{teams[crew_id].name} · {site.name}"
    return ics_file(site, name, (*shown, *gone), handed, feed_range or FeedRange())


def _who(doer: Team, reader: Team) -> str:
    """Say who does it, where that is not just the reader of the calendar."""
    if doer.id == reader.id:
        return ""
    return doer.party_name or f"with all of {one_line(doer.name)}"


def _calendar_entry(
    site: Site,
    clock: LocalClock,
    one_round: Round,
    doer: Team,
    reader: Team,
    handed: Handed,
) -> CalendarEntry:
    who = _who(doer, reader)
    first = one_round.first
    identity = handed.of_visit.get(first.visit_id)
    by = _by(clock, one_round.start_by_at, one_round.starts_at)
    places = {entry.place for entry in one_round.entries}
    return CalendarEntry(
        # A round is known by its first visit: it may grow or shrink behind it.
        uid=visit_uid(identity, doer)
        if identity
        else uid(site.name, "visit", first.visit_id),
        title=f"{one_round.title} · start by {by}",
        text="\n".join(_lines(clock, one_round, who)),
        place=one_round.first.place if len(places) == 1 else one_round.first.zone_words,
        categories=tuple(
            dict.fromkeys(
                (
                    *(_kind(entry) for entry in one_round.entries),
                    one_round.first.zone_id,
                )
            )
        ),
        starts_at=one_round.starts_at,
        ends_at=one_round.ends_at,
        alarms_min=max(entry.alarms_min for entry in one_round.entries),
        revision=of_visit(identity) if identity else None,
    )


def _by(clock: LocalClock, by_at: datetime, starts_at: datetime) -> str:
    return (clock.time if by_at - starts_at < SOON else clock.day_time)(by_at)


def _lines(clock: LocalClock, one_round: Round, who: str) -> list[str]:
    span = clock.span(one_round.starts_at, one_round.ends_at)
    long = duration(minutes_between(one_round.starts_at, one_round.ends_at))
    late = " (planned late)" if one_round.most_pressing.late else ""
    lines = [f"START BY {clock.day_time(one_round.start_by_at)}{late}"]
    if len(one_round.entries) == 1:
        lines += _single(one_round.first)
    else:
        lines += [_listed(clock, entry) for entry in one_round.entries]
    people = max(entry.people for entry in one_round.entries)
    materials = _once(entry.materials for entry in one_round.entries)
    tools = _once(entry.tools for entry in one_round.entries)
    cautions = _once(entry.cautions for entry in one_round.entries)
    noted = _once(entry.log_fields for entry in one_round.entries)
    lines += [
        f"WHEN {span}, {long}",
        *_clock_change(clock, one_round),
        f"PEOPLE {people}" + (f", {who}" if who else ""),
        *_labelled("BRING", materials + tools),
        *_breaches(one_round),
        *(f"CAUTION {caution}" for caution in cautions[:MAX_CAUTIONS]),
        *_steps(one_round),
        *_labelled("RECORD", noted),
        "DRY, OR CANNOT BE DONE: call the person responsible for curing at once.",
        PLANNING_AID,
    ]
    return lines


def _single(entry: Entry) -> list[str]:
    return [
        f"WATER LEFT {entry.reserve_words}"
        if entry.reserve_words
        else f"STATE {entry.state_words}",
        f"WHERE {entry.place}",
        *_labelled("WATER", (entry.water_words,) if entry.water_words else ()),
    ]


def _listed(clock: LocalClock, entry: Entry) -> str:
    facts = [
        f"{clock.time(entry.starts_at)} {entry.title}",
        f"start by {_by(clock, entry.start_by_at, entry.starts_at)}",
        entry.water_words,
    ]
    return "– " + ", ".join(fact for fact in facts if fact)


def _clock_change(clock: LocalClock, one_round: Round) -> tuple[str, ...]:
    ends_at = max(one_round.ends_at, one_round.start_by_at)
    before, after = clock.local(one_round.starts_at), clock.local(ends_at)
    if before.utcoffset() == after.utcoffset():
        return ()
    return (
        f"CLOCK CHANGE during this round: {before.tzname()}, then {after.tzname()}",
    )


def _breaches(one_round: Round) -> Iterator[str]:
    """Yield what is dangerous before what is to be minded on any day."""
    told = _once(entry.breaches for entry in one_round.entries)
    yield from (f"CAUTION {words}" for words in told[:MAX_BREACHES])
    if len(told) > MAX_BREACHES:
        left = len(told) - MAX_BREACHES
        yield f"CAUTION {left} more temperatures outside their limits: see the board"


def _steps(one_round: Round) -> Iterator[str]:
    """Yield each kind of work's steps once, under its verb where kinds differ."""
    firsts: dict[TaskKind, Entry] = {}
    for entry in one_round.entries:
        firsts.setdefault(entry.kind, entry)
    for kind, entry in firsts.items():
        if len(firsts) > 1 and entry.steps:
            yield f"{TASK_KINDS[kind].verb}:"
        for number, step in enumerate(entry.steps, start=1):
            yield f"{number}. {step}"


def _once(texts: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """Every text of the visits once, in their order."""
    return tuple(dict.fromkeys(chain.from_iterable(texts)))


def _labelled(label: str, texts: tuple[str, ...]) -> tuple[str, ...]:
    return (f"{label} {', '.join(texts)}",) if texts else ()


def _kind(entry: Entry) -> str:
    return TASK_KINDS[entry.kind].verb.lower()
