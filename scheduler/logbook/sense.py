"""What cannot be true of an entry: against the clock, the pour and other entries."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from models.local_clock import LocalClock
from models.quantities import show
from models.records import (
    TASK_KINDS,
    CrewOut,
    Entry,
    IssueHead,
    NewEntry,
    Pour,
    WaterOut,
    WorkDone,
    WorkFailed,
    WorkStarted,
)
from scheduler.logbook.kinds import KINDS, spoken
from scheduler.logbook.known import Known, placing_starts

#: Written so long after it happened, an entry is late: a shift has its own to hand in
#: by the end of the next one (assumption).
LATE_AFTER = timedelta(hours=12)
#: Further off than that it is a slip of the pen (assumption).
FAR = timedelta(days=31)
#: Checks before the pour, soaking, mixing and bunds begin no sooner (assumption).
PREPARED_FOR = timedelta(days=3)
#: A pond of 200 mm, the deepest that covers know of. [L/m²]
MOST_L_M2 = 200.0
#: Areas are paced out; more than that over is another surface. [-]
AREA_OVER_FACTOR = 1.1


class Objection(NamedTuple):
    """What is wrong with a column of a row, and how to mend it."""

    key: str
    found: str
    wanted: str
    hint: str = ""


def is_late(happened_at: datetime, now: datetime, newest: IssueHead | None) -> bool:
    """Say whether an entry was written late.

    That is more than ``LATE_AFTER`` after it happened, or after an issue was published
    that could not know of it.
    """
    unknown_to_issue = newest is not None and happened_at < newest.published_at
    return unknown_to_issue or now - happened_at > LATE_AFTER


def objections(
    entry: NewEntry, others: Sequence[NewEntry], known: Known, now: datetime
) -> Iterator[Objection]:
    """Tell what cannot be true of an entry.

    Parameters
    ----------
    others : sequence of NewEntry
        All other entries that stand, those handed in with it too.
    """
    clock = LocalClock(known.site.timezone)
    if entry.happened_at > now:
        wanted = f"a time up to now, {clock.day_time(now)}"
        yield Objection("at", clock.day_time(entry.happened_at), wanted)
        return
    if now - entry.happened_at > FAR:
        wanted = f"a time after {clock.day_time(now - FAR)}"
        hint = "Is the date right?"
        yield Objection("at", clock.day_time(entry.happened_at), wanted, hint)
        return
    yield from _against_the_pour(entry, others, known, clock)
    yield from _only_once(entry, others)
    yield from _stretch(entry, known, now, clock)
    yield from _amounts(entry, known)


def _against_the_pour(
    entry: NewEntry, others: Sequence[NewEntry], known: Known, clock: LocalClock
) -> Iterator[Objection]:
    pour = _pour_of(entry, known)
    if pour is None:
        return
    starts_at = placing_starts(pour, others)
    if entry.kind == "placing_started":
        if abs(entry.happened_at - starts_at) > FAR:
            wanted = f"a time near {clock.day_time(starts_at)}, as planned"
            yield Objection("at", clock.day_time(entry.happened_at), wanted)
        return
    begun = any(o.kind == "placing_started" and o.about == pour.id for o in others)
    if entry.kind in {"slipped", "cancelled"}:
        if begun:
            found = f"{spoken(entry.kind)} of a pour that has begun"
            hint = "Withdraw its placing-started first, if that was wrong"
            yield Objection("what", found, "an entry about a pour to come", hint)
        return
    first = starts_at - _before(entry)
    if entry.happened_at < first:
        hint = (
            f"placing of {pour.id} began then, as reported"
            if begun
            else f"If it began sooner, say so first: placing-started {pour.id}"
        )
        wanted = f"a time from {clock.day_time(first)} on, after placing began"
        yield Objection("at", clock.day_time(entry.happened_at), wanted, hint)


def _pour_of(entry: NewEntry, known: Known) -> Pour | None:
    about = KINDS[entry.kind].about
    if about == "surface" and entry.about in known.surfaces:
        return known.pours.get(known.surfaces[entry.about].pour_id)
    return known.pours.get(entry.about) if about == "pour" else None


def _before(entry: NewEntry) -> timedelta:
    """Say how long before its pour an entry may lie."""
    values = entry.values
    if isinstance(values, WorkStarted | WorkDone | WorkFailed):
        facts = TASK_KINDS[values.work]
        if values.work == "soak" or not (facts.on_cover or facts.lays):
            return PREPARED_FOR
    return timedelta(0)


def _only_once(entry: NewEntry, others: Sequence[NewEntry]) -> Iterator[Objection]:
    if not KINDS[entry.kind].once:
        return
    for other in others:
        if (other.kind, other.about) == (entry.kind, entry.about):
            number = other.number if isinstance(other, Entry) else None
            hint = f"To put it right: --correct {number}" if number else ""
            found = f"{spoken(entry.kind)} of {entry.about} a second time"
            where = f"entry {number} alone" if number else "one row of it"
            yield Objection("what", found, where, hint)
            return


def _stretch(
    entry: NewEntry, known: Known, now: datetime, clock: LocalClock
) -> Iterator[Objection]:
    values = entry.values
    if isinstance(values, CrewOut | WaterOut):
        for key, at in (("from", values.starts_at), ("to", values.ends_at)):
            if at is not None and abs(at - now) > FAR:
                wanted = f"a time within {FAR.days} days of now"
                yield Objection(key, clock.day_time(at), wanted, "Is the date right?")
    if isinstance(values, CrewOut) and values.people is not None:
        team = next(team for team in known.site.teams if team.id == entry.about)
        if values.people > team.people:
            wanted = f"at most {team.people}, as many as {team.id} has"
            yield Objection("people", f"{values.people}", wanted)


def _amounts(entry: NewEntry, known: Known) -> Iterator[Objection]:
    surface = known.surfaces.get(entry.about)
    if surface is None:
        return
    units = known.site.units
    area_m2 = getattr(entry.values, "area_m2", None)
    litres_l = getattr(entry.values, "litres_l", None)
    if area_m2 is not None and area_m2 > AREA_OVER_FACTOR * surface.area_m2:
        wanted = f"at most {show('area', surface.area_m2, units)}, the whole of it"
        yield Objection("area", show("area", area_m2, units), wanted)
    if litres_l is not None and litres_l > MOST_L_M2 * surface.area_m2:
        most_l = MOST_L_M2 * surface.area_m2
        wanted = f"at most {show('volume', most_l, units)}, a pond over all of it"
        yield Objection("litres", show("volume", litres_l, units), wanted)
