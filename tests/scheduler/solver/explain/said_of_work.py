"""What is said of other work: what crews do, where they walk, what comes first."""

import re

from models.records import TASK_KINDS
from tests.scheduler.solver.explain.told import (
    DOING,
    LATER,
    NAME,
    TIME,
    Told,
    Visit,
    says,
)


@says(
    rf"({NAME}) (on break|is placing P9|on (Slab S\d) \(([^)]+)\)) until ({TIME})"
    rf"(?:, then (?:(\d+) jobs?)?(?:(?: and )?other work)?"
    rf"(?:(?: and )?a break)? until ({TIME}))?"
)
def busy(told: Told, match: re.Match[str]) -> None:
    name, until = match[1], told.at(match[5])
    visits = told.by.busy(name)
    own = [shift for shift in told.work.shifts if shift.crew_id == name]
    pauses = [pause for shift in own for pause in shift.pauses]
    if not match[3]:
        said = [b for s in own for b in (s.busy if "placing" in match[2] else s.breaks)]
        found = [(b.from_min, b.until_min) for b in said if b.until_min == until]
    else:
        found = [
            (v.start, v.end)
            for v in visits
            if v.end == until
            and f"Slab {v.surface_id}" == match[3]
            and v.task.full_title.lower() == match[4]
        ]
    assert found, told.words
    told.touches(*found[0])
    if match[7]:
        over = told.at(match[7])
        later = [v for v in visits if found[0][0] <= v.start and v.end <= over]
        ends = {v.end for v in later} | {b.until_min for b in pauses}
        assert over in ends, told.words
        assert len(later) >= int(match[6] or 0), told.words
        told.touches(found[0][0], over)


@says(r"(\d+) more crews(?: are not free)?")
def others(told: Told, match: re.Match[str]) -> None:
    names = {s.crew_id for s in told.work.shifts}
    assert int(match[1]) < len(names), told.words


@says(rf"({NAME}) begins ({TIME}) and walks (\d+) min")
def walks_in(told: Told, match: re.Match[str]) -> None:
    begins, walk = told.at(match[2]), int(match[3])
    zones = told.work.zone_ids
    to = zones.index(told.surface.zone_id)
    assert any(
        s.crew_id == match[1]
        and s.starts_min == begins
        and told.work.travel_min[zones.index(s.home_zone)][to] == walk
        for s in told.work.shifts
    ), told.words
    told.touches(begins, begins + walk)


@says(
    rf"({NAME}) is free ({TIME})(?: to |–)({LATER}), too short with the "
    rf"walks"
)
def too_short(told: Told, match: re.Match[str]) -> None:
    first, last = told.at(match[2]), told.at(match[3], match[2][:3])
    visits = told.by.busy(match[1])
    assert not any(v.start < last and v.end > first for v in visits), told.words
    assert any(v.start == last for v in visits), told.words
    ways = 2 * max(map(max, told.work.travel_min))
    assert last - first < told.longest + ways, told.words
    told.touches(first, last)


@says(rf"({NAME}) has to be on (Slab S\d) by ({TIME})")
def awaited(told: Told, match: re.Match[str]) -> None:
    by = told.at(match[3])
    assert any(
        v.start == by and f"Slab {v.surface_id}" == match[2]
        for v in told.by.busy(match[1])
    ), told.words
    told.touches(by - max(map(max, told.work.travel_min)), by)


@says(rf"({NAME}) walks over until ({TIME})")
def walks_over(told: Told, match: re.Match[str]) -> None:
    arrives = told.at(match[2])
    to = told.work.zone_ids.index(told.surface.zone_id)
    assert any(v.end + _walk(told, v, to) == arrives for v in told.by.busy(match[1])), (
        told.words
    )
    told.touches(arrives - 1, arrives)


@says(rf"({DOING}) takes (\d+) min and must be over by ({TIME})")
def over_by(told: Told, match: re.Match[str]) -> None:
    by = told.at(match[3])
    ends = [min(t.latest_min, told.surface.ends_min) for t in told.tasks]
    assert by in ends, told.words
    assert told.end + int(match[2]) > by, told.words


@says(rf"({DOING}) takes (\d+) min; ([\w ,]+) begins there ({TIME})")
def begins_there(told: Told, match: re.Match[str]) -> None:
    at = told.at(match[4])
    assert any(
        v.surface_id == told.surface.surface_id
        and v.start == at
        and v.task.full_title.lower() == match[3]
        for v in told.by.visits
    ), told.words
    told.touches(at - int(match[2]), at)


@says(rf"([\w ,]+) goes on there until ({TIME})")
def goes_on(told: Told, match: re.Match[str]) -> None:
    end = told.at(match[2])
    assert any(
        v.surface_id == told.surface.surface_id
        and v.end == end
        and v.task.full_title.lower() == match[1]
        for v in told.by.visits
    ), told.words


@says(rf"({DOING}) begins ({TIME}) and is half done by ({TIME})")
def half_done(told: Told, match: re.Match[str]) -> None:
    begins, half = told.at(match[2]), told.at(match[3])
    assert begins < told.end <= half, told.words
    assert any(
        v.surface_id == told.surface.surface_id
        and v.start == begins
        and half == v.start + (v.end - v.start) // 2
        and TASK_KINDS[v.task.kind].doing == match[1]
        for v in told.by.visits
    ), told.words


@says(rf"({DOING}) is not allowed before ({TIME})")
def not_yet(told: Told, match: re.Match[str]) -> None:
    at = told.at(match[2])
    assert any(t.earliest_min == at for t in told.tasks), told.words
    assert at > told.start, told.words


@says(
    rf"([\w ,]+) comes first, and (?:(nobody does that)|is over ({TIME})|the "
    rf"wait after it is over ({TIME}))"
)
def after(told: Told, match: re.Match[str]) -> None:
    ids = {t.id for t in told.tasks if t.full_title.lower() == match[1]}
    done = [v for v in told.by.visits if v.task.id in ids]
    assert ids, told.words
    if match[2]:
        assert not done, told.words
    if match[3]:
        assert any(v.end == told.at(match[3]) for v in done), told.words
        assert told.at(match[3]) > told.start, told.words


@says(r"no task is planned that could keep it wet then")
def no_task(told: Told, match: re.Match[str]) -> None:
    del match
    assert not any(
        t.protects and t.earliest_min < told.end and t.latest_min > told.start
        and not any(v.task.id == t.id for v in told.by.visits)
        for t in told.surface.tasks
    ), told.words  # fmt: skip


def _walk(told: Told, visit: Visit, to: int) -> int:
    if visit.surface_id == told.surface.surface_id:
        return 0
    zone = told.by.surfaces[visit.surface_id].zone_id
    return told.work.travel_min[told.work.zone_ids.index(zone)][to]
