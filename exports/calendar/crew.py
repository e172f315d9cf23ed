"""A crew's calendar: its visits, short ones grouped into rounds, with alarms.

What a lead needs at a glance stands in title and place; the text below says the rest,
one fact a line. Telephone numbers stay out: whoever holds the address of a feed can
read it.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta
from itertools import chain

from exports.calendar.event import Happening
from exports.calendar.ics_file import Window, ics_file
from exports.calendar.identity import uid
from exports.entry import Entry, most_telling
from exports.kinds import VERBS
from exports.notices import PLANNING_AID
from exports.rounds import Round, rounds
from models.local_clock import LocalClock, minutes_between
from models.quantities import duration
from models.records import Roster, Site, TaskKind

#: Within it a time of day needs no date to be understood.
SOON = timedelta(hours=18)


def crew_calendar(
    site: Site,
    roster: Roster,
    entries: Iterable[Entry],
    crew_id: str,
    published_at: datetime,
    window: Window | None = None,
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
    published_at : datetime
        Instant of publication, passed in: same roster, same bytes.
    window : Window or None
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
    own = (entry for entry in entries if teams[entry.crew_id].takes_in(teams[crew_id]))
    happenings = [_happening(site, clock, each, crew_id) for each in rounds(own)]
    name = f"{teams[crew_id].name} · {site.name}"
    return ics_file(site, name, happenings, published_at, window or Window())


def _happening(site: Site, clock: LocalClock, walk: Round, crew_id: str) -> Happening:
    by = _by(clock, walk.start_by_at, walk.starts_at)
    places = {entry.place for entry in walk.entries}
    return Happening(
        # A round is known by its first visit: it may grow or shrink behind it.
        uid=uid(site.name, "visit", walk.first.visit_id),
        title=f"{walk.title} · start by {by}",
        text="\n".join(_lines(clock, walk, crew_id)),
        place=walk.first.place if len(places) == 1 else walk.first.zone_words,
        categories=tuple(
            dict.fromkeys(
                (*(_kind(entry) for entry in walk.entries), walk.first.zone_id)
            )
        ),
        starts_at=walk.starts_at,
        ends_at=walk.ends_at,
        alarms_min=max(entry.alarms_min for entry in walk.entries),
    )


def _by(clock: LocalClock, by_at: datetime, starts_at: datetime) -> str:
    return (clock.time if by_at - starts_at < SOON else clock.day_time)(by_at)


def _lines(clock: LocalClock, walk: Round, crew_id: str) -> list[str]:
    minutes = minutes_between(walk.starts_at, walk.ends_at)
    late = " (planned late)" if walk.most_pressing.late else ""
    lines = [f"START BY {clock.day_time(walk.start_by_at)}{late}"]
    if len(walk.entries) == 1:
        lines += _single(walk.first)
    else:
        lines += [_listed(clock, entry) for entry in walk.entries]
    people = max(entry.people for entry in walk.entries)
    whole = walk.first.crew_id == crew_id
    materials = _once(entry.materials for entry in walk.entries)
    tools = _once(entry.tools for entry in walk.entries)
    cautions = most_telling(_once(entry.cautions for entry in walk.entries))
    lines += [
        f"WHEN {clock.span(walk.starts_at, walk.ends_at)}, {duration(minutes)}",
        *_clock_change(clock, walk),
        f"PEOPLE {people}" + ("" if whole else f", with all of {walk.first.crew_name}"),
        *_labelled("BRING", materials + tools),
        *_steps(walk),
        *_labelled("WRITE DOWN", _once(entry.log_fields for entry in walk.entries)),
        *(f"MIND {caution}" for caution in cautions),
        "FOUND DRY OR NOT POSSIBLE: tell whoever answers for curing, at once.",
        PLANNING_AID,
    ]
    return lines


def _single(entry: Entry) -> list[str]:
    return [
        f"RESERVE {entry.reserve_words}",
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


def _clock_change(clock: LocalClock, walk: Round) -> tuple[str, ...]:
    ends_at = max(walk.ends_at, walk.start_by_at)
    before, after = clock.local(walk.starts_at), clock.local(ends_at)
    if before.utcoffset() == after.utcoffset():
        return ()
    return (f"CLOCKS CHANGE on the way: {before.tzname()}, then {after.tzname()}",)


def _steps(walk: Round) -> Iterator[str]:
    """Yield each kind of work's steps once, under its verb where kinds differ."""
    firsts: dict[TaskKind, Entry] = {}
    for entry in walk.entries:
        firsts.setdefault(entry.kind, entry)
    for kind, entry in firsts.items():
        if len(firsts) > 1 and entry.steps:
            yield f"{VERBS[kind]}:"
        for number, step in enumerate(entry.steps, start=1):
            yield f"{number}. {step}"


def _once(texts: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """Every text of the visits once, in their order."""
    return tuple(dict.fromkeys(chain.from_iterable(texts)))


def _labelled(label: str, texts: tuple[str, ...]) -> tuple[str, ...]:
    return (f"{label} {', '.join(texts)}",) if texts else ()


def _kind(entry: Entry) -> str:
    return entry.kind.replace("_", " ")
