"""What changed since the issue before, in words for all that is handed out."""

from collections import Counter
from collections.abc import Callable, Iterator
from datetime import datetime

from exports.text import one_line
from models.local_clock import LocalClock, minutes_between
from models.quantities import duration
from models.records import ChangeKind, ChangeList, Record, Site, Told, VisitChange

#: What became of visits, as counted in a sentence; the order is that of the sentence.
COUNTED: dict[ChangeKind, str] = {
    "kept": "kept",
    "moved": "moved",
    "given": "given to another crew",
    "added": "added",
    "dropped": "dropped",
}


class ChangeLine(Record):
    """A change as a crew that it concerns reads it.

    Attributes
    ----------
    when, what : str
        As it is now; of a visit that is not the crew's any more, as it was.
    change : str
        What is other than it was.
    """

    when: str
    what: str
    change: str


class CrewChanges(Record):
    """All that a crew has to hear of, in order of time."""

    crew: str
    lines: tuple[ChangeLine, ...]


def heading(changes: ChangeList) -> str:
    """Say since when, ``Changed since issue 4``."""
    return f"Changed since issue {changes.since}"


def summary(changes: ChangeList) -> str:
    """``42 visits kept, 3 moved, 1 dropped``."""
    counts = Counter(change.kind for change in changes.changes)
    parts = [f"{counts[kind]} {COUNTED[kind]}" for kind in COUNTED if counts[kind]]
    if not parts:
        return "no visits"
    number, words = parts[0].split(" ", 1)
    visits = "visit" if number == "1" else "visits"
    return ", ".join((f"{number} {visits} {words}", *parts[1:]))


def crew_changes(site: Site, changes: ChangeList) -> tuple[CrewChanges, ...]:
    """List what each crew has to hear of; crews of which nothing changed are left out.

    A visit given to another crew stands with both.
    """
    clock, names = LocalClock(site.timezone), crew_names(site)
    told = (told for c in changes.changes for told in (c.was, c.now) if told)
    # Those that the site has no more, too.
    crews = dict.fromkeys((*names, *(each.crew_id for each in told)))
    found = (
        CrewChanges(
            crew=names.get(crew_id, crew_id),
            lines=tuple(_lines(changes, crew_id, names, clock)),
        )
        for crew_id in crews
    )
    return tuple(crew for crew in found if crew.lines)


def crew_names(site: Site) -> dict[str, str]:
    """Names of crews by id."""
    return {team.id: one_line(team.name) for team in site.teams}


def _lines(
    changes: ChangeList, crew_id: str, names: dict[str, str], clock: LocalClock
) -> Iterator[ChangeLine]:
    for change in changes.changes:
        if change.now and change.now.crew_id == crew_id:
            told, say = change.now, was_words
        elif change.was and change.was.crew_id == crew_id:
            told, say = change.was, gone_words
        else:
            continue
        if words := say(change, names, _beside(told.starts_at, clock)):
            yield ChangeLine(
                when=clock.day_time(told.starts_at), what=told.what, change=words
            )


def _beside(beside_at: datetime, clock: LocalClock) -> Callable[[datetime], str]:
    """Say times beside another one: without the day where it is that one's."""

    def time(at: datetime) -> str:
        local, beside = clock.local(at), clock.local(beside_at)
        same = (local.date(), local.tzname()) == (beside.date(), beside.tzname())
        return f"{local:%H:%M}" if same else clock.day_time(at)

    return time


def was_words(
    change: VisitChange, names: dict[str, str], time: Callable[[datetime], str]
) -> str:
    """Say to the crew that has a visit now how it was; empty where nothing is news.

    A limit that is later than it was is none: whoever keeps to the old one is in time.
    """
    was, now = change.was, change.now
    if now is None:
        return ""
    if was is None:
        return "new"
    parts = []
    if was.crew_id != now.crew_id:
        parts.append(names.get(was.crew_id, was.crew_id))
    if was.starts_at != now.starts_at:
        parts.append(time(was.starts_at))
    elif now.start_by_at < was.start_by_at:
        parts.append(f"start by {time(was.start_by_at)}")
    parts += _other(was, now)
    return f"was {', '.join(parts)}" if parts else ""


def _other(was: Told, now: Told) -> Iterator[str]:
    """Yield what else was other."""
    if _minutes(was) != _minutes(now):
        yield duration(_minutes(was))
    if was.people != now.people:
        yield f"{was.people} {'person' if was.people == 1 else 'people'}"
    if was.water != now.water:
        yield was.water or "no water"
    if was.what != now.what:
        yield was.what
    if was.place != now.place and was.water == now.water:
        yield was.place


def _minutes(told: Told) -> int:
    return minutes_between(told.starts_at, told.ends_at)


def gone_words(
    change: VisitChange, names: dict[str, str], time: Callable[[datetime], str]
) -> str:
    """Say to the crew that had a visit what became of it."""
    now = change.now
    if now is None:
        return "dropped"
    return f"now {names.get(now.crew_id, now.crew_id)}, {time(now.starts_at)}"
