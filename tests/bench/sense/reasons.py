"""Rule 14: reasons that cannot be true, held against shifts and their own figures."""

import re
from collections.abc import Iterator
from datetime import time

from models.local_clock import WEEKDAYS
from models.records import Reason
from scheduler.audit.replayed.windows import CrewWindow
from tests.bench.sense.verdict import Case, Verdict, counted
from tests.bench.sense.week import Week

_SHORT_MIN = 5
_SOON_MIN = 30
_WANTS = re.compile(
    r"wants ([\d,.]+) (m²|ft²).*?; ([\d,.]+) \2(?: of [\d,.]+ \2)? (?:is|are) free"
)
_NOBODY = re.compile(
    r"no crew is on shift from (\w{3}) (\d\d:\d\d) until (?:(\w{3}) )?(\d\d:\d\d)"
)
_NOBODY_FOLLOWS = re.compile(
    r"finishes (?:(\w{3}) )?(\d\d:\d\d)[^,;]* and nobody follows"
)
_TOO_FEW = re.compile(r"takes (\d+) people; on shift: ")


def false_reasons(week: Week) -> Verdict:
    """14: gaps are told whole, and no reason is refuted by shifts or its figures."""
    gaps, missed = week.roster.gaps, week.roster.missed
    cases = [*_of_gaps(week), *_of_missed(week)]
    return counted("14", "reasons that cannot be true", cases, len(gaps) + len(missed))


def _of_gaps(week: Week) -> Iterator[Case]:
    minute = week.roster.horizon.minute
    for gap in week.roster.gaps:
        first, until = minute(gap.starts_at), minute(gap.ends_at)
        where = f"{week.label(gap.surface_id)} {week.span(first, until)}"
        told = [(minute(r.starts_at), minute(r.ends_at)) for r in gap.reasons]
        ends = [first, *(end for _, end in told)]
        if not told or ends[-1] != until or [a for a, _ in told] != ends[:-1]:
            yield Case(1, f"{where}: the reasons do not tell all of the gap")
        for reason in gap.reasons:
            if refuted := _refuted(week, reason):
                yield Case(2, f"{refuted}: {where}: “{reason.words[:140]}”")


def _refuted(week: Week, reason: Reason) -> str:
    """Say what speaks against a reason; empty if nothing does."""
    minute = week.roster.horizon.minute
    first, until = minute(reason.starts_at), minute(reason.ends_at)
    if refuted := _by_figures(reason.words):
        return refuted
    if reason.limit == "no_crew_on_shift":
        return _on_shift(week, first, until)
    if too_few := _TOO_FEW.search(reason.words):
        return _enough(week, int(too_few[1]), first, until)
    if follows := _NOBODY_FOLLOWS.search(reason.words):
        ends = _near(week, follows[1], follows[2], until)
        return _on_shift(week, ends + _SHORT_MIN, ends + _SOON_MIN)
    return ""


def _of_missed(week: Week) -> Iterator[Case]:
    for missed in week.roster.missed:
        task = week.tasks[missed.task_id]
        refuted = _by_figures(missed.words)
        if not refuted and (nobody := _NOBODY.search(missed.words)):
            first = _near(week, nobody[1], nobody[2], task.earliest_min)
            until = _near(week, nobody[3] or nobody[1], nobody[4], first + 60)
            refuted = _on_shift(week, first, until if until > first else first)
        if refuted:
            where = f"{task.full_title}, {week.label(missed.surface_id)}"
            yield Case(1, f"{refuted}: {where}: “{missed.words[:140]}”")


def _by_figures(words: str) -> str:
    wants = _WANTS.search(words)
    if wants is None or _number(wants[3]) < _number(wants[1]):
        return ""
    return f"{wants[3]} free is enough for {wants[1]}"


def _number(text: str) -> float:
    return float(text.replace(",", ""))


def _gangs(week: Week) -> Iterator[CrewWindow]:
    for window in week.windows:
        if window.crew.id == window.crew.gang_id and not window.pattern.on_call:
            yield window


def _on_shift(week: Week, first: int, until: int) -> str:
    """Name a gang that is on shift between two minutes, if one is."""
    for window in _gangs(week):
        both = min(window.ends_min, until) - max(window.starts_min, first)
        if both > _SHORT_MIN:
            hours = week.span(window.starts_min, window.ends_min)
            return f"{window.crew.name} are on shift {hours}"
    return ""


def _enough(week: Week, people: int, first: int, until: int) -> str:
    """Name a gang of so many that is on shift all of the time, if one is."""
    for window in _gangs(week):
        there = window.starts_min <= first and until <= window.ends_min
        if there and window.crew.people >= people:
            return f"{window.crew.name} are {window.crew.people}"
    return ""


def _near(week: Week, day: str | None, clock: str, minute: int) -> int:
    """Minute at which a weekday and time of day lie nearest to another minute."""
    hour, past = map(int, clock.split(":"))
    days = [
        one
        for one in week.clock.days()
        if day is None or WEEKDAYS[one.weekday()] == day.lower()
    ]
    at = (week.clock.minute(one, time(hour, past)) for one in days)
    return min(at, key=lambda one: abs(one - minute), default=minute)
