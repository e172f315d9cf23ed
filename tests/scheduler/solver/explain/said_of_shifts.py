"""What is said of shifts and hours: who is on, who is able, who may work on."""

import re

from models.records import TASK_KINDS
from tests.scheduler.solver.explain.told import (
    DOING,
    LATER,
    NAME,
    TIME,
    Told,
    able,
    says,
)


@says(
    rf"no crew is on shift(?: from ({TIME}))?"
    rf"(?: until ({TIME}) \(({NAME})(, on call)?\))?"
)
def nobody(told: Told, match: re.Match[str]) -> None:
    since = told.at(match[1]) if match[1] else 0
    until = told.at(match[2]) if match[2] else told.work.horizon.length_min
    if told.all_along:
        assert since <= told.start, told.words
        assert told.end <= until, told.words
    told.touches(since, until)
    on = [s for s in told.on_between(since, until) if s.ends_min > max(0, since)]
    assert not on, f"{on} {told.words}"
    if match[2]:
        kind = "on_call" if match[4] else "shift"
        assert any(
            s.crew_id == match[3] and s.kind == kind and s.starts_min == until
            for s in told.work.shifts
        ), told.words


@says(
    rf"(?:{DOING}) takes (\d+) (?:person|people)(?: \(([\w, ]+)\))?; on "
    rf"(shift|call): ({NAME} \([^)]*\)(?:, {NAME} \([^)]*\))*)(, \d more)?"
)
def unable(told: Told, match: re.Match[str]) -> None:
    people, skills = int(match[1]), (match[2] or "").split(", ")
    tasks = [t for t in told.tasks if t.people == people]
    if match[2]:
        tasks = [t for t in tasks if list(t.skills) == skills]
    assert tasks, told.words
    kind = "shift" if match[3] == "shift" else "on_call"
    known = [s for s in told.work.shifts if s.kind == kind]
    there = [
        s
        for s in known
        if s.starts_min < told.end and s.ends_min + s.overtime_max_min > told.start
    ]
    if told.all_along:
        assert any(not any(able(s, task) for s in there) for task in tasks), told.words
    for name, number in re.findall(rf"({NAME}) \((\d+)", match[4]):
        assert any(s.crew_id == name and s.people == int(number) for s in known), (
            told.words
        )


@says(rf"({DOING}) takes (\d+) min(?: from ({TIME}))?")
def lasts(told: Told, match: re.Match[str]) -> None:
    kinds = {k for k, facts in TASK_KINDS.items() if facts.doing == match[1]}
    told.takes = [
        t for t in told.tasks if t.duration_min == int(match[2]) and t.kind in kinds
    ]
    assert told.takes, told.words
    if match[3]:
        assert any(t.earliest_min == told.at(match[3]) for t in told.takes)


@says(
    rf"({NAME}) finishes ({TIME})( with overtime)?"
    rf"(?: and (?:(nobody follows)|(nobody who follows can do it)|({NAME}) "
    rf"begins ({TIME})))?"
)
def finishes(told: Told, match: re.Match[str]) -> None:
    closes = told.at(match[2])
    mine = [
        s
        for s in told.by.shifts
        if s.crew_id == match[1] and s.ends_min + s.overtime_max_min == closes
    ]
    assert mine, told.words
    assert bool(match[3]) == bool(mine[0].overtime_max_min), told.words
    told.touches(mine[0].starts_min, closes)
    follow = [
        s
        for s in told.by.shifts
        if s.starts_min <= closes < s.ends_min + s.overtime_max_min
    ]
    if match[4]:
        assert not follow, told.words
    if match[5]:
        assert follow, told.words
        assert any(not any(able(s, task) for s in follow) for task in told.takes), (
            told.words
        )
    if match[6]:
        begins = told.at(match[7])
        assert any(s.crew_id == match[6] and s.starts_min == begins for s in follow), (
            told.words
        )


@says(
    rf"nobody works outdoors in the heat ban ({TIME})(?: to |–)"
    rf"({LATER})"
)
def too_hot(told: Told, match: re.Match[str]) -> None:
    first, last = told.at(match[1]), told.at(match[2], match[1][:3])
    assert any(
        (b.from_min, b.until_min) == (first, last) for b in told.work.heat_bans
    ), told.words
    assert first < told.end + told.longest, told.words
    # Who is to be half done when the gap begins has begun before it.
    assert last > told.start - told.longest, told.words


@says(
    rf"({NAME}(?:, {NAME})*)(?:, \d more crews)?(, on call,)? would lack the "
    rf"([\d.]+) h of rest between shifts"
)
def tired(told: Told, match: re.Match[str]) -> None:
    assert float(match[3]) * 60 == told.work.rest_min, told.words
    for name in match[1].split(", "):
        # Begun some time of the stretch, a visit comes too near to another shift.
        assert any(
            v.shift
            and v.shift.starts_min != s.starts_min
            and v.start - told.work.rest_min < told.end + told.longest
            and v.end + told.work.rest_min > told.start - told.longest
            for v in told.by.busy(name)
            for s in told.work.shifts
            if s.crew_id == name
        ), told.words


@says(
    rf"({NAME}) has (\d+) min left of the ([\d.]+) h "
    rf"of (work in the week from|work on|its call-out) \w+ \d+ \w+"
)
def hours(told: Told, match: re.Match[str]) -> None:
    kinds = {"work in the week from": "week", "work on": "day"}
    kind = kinds.get(match[4], "call_out")
    limits = [
        limit
        for limit in told.work.hours_limits
        if limit.kind == kind and abs(limit.most_min - float(match[3]) * 60) < 1
    ]
    assert limits, told.words
    most_min, regular_min = limits[0].most_min, limits[0].regular_min
    assert int(match[2]) <= most_min - regular_min, told.words
    assert int(match[2]) < told.longest + 8, told.words  # and the way to it
