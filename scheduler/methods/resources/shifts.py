"""Crew shifts by weekday from their patterns, in the minutes of the horizon."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from types import MappingProxyType

from models.local_clock import WEEKDAYS, WeekClock
from models.records import (
    Break,
    BusyStretch,
    CrewShift,
    Horizon,
    ShiftPattern,
    Site,
    Stretch,
    Team,
)
from scheduler.methods.resources.more_breaks import more_breaks
from scheduler.methods.resources.stretches import clip

Busy = Mapping[str, Sequence[BusyStretch]]
"""Other work of gangs and parties by their id."""


def crew_shifts(
    site: Site, horizon: Horizon, busy: Busy = MappingProxyType({})
) -> tuple[CrewShift, ...]:
    """Every shift and call-out stretch of every gang and party in the horizon."""
    clock = WeekClock(site.timezone, horizon)
    patterns = {pattern.id: pattern for pattern in site.shifts}
    found = [
        shift
        for team in site.teams
        for name in team.shifts
        for on in clock.days()
        if (shift := _shift(site, team, patterns[name], on, clock, busy))
    ]
    return tuple(sorted(found, key=lambda s: (s.starts_min, s.crew_id, s.id)))


def pattern_days(pattern: ShiftPattern, clock: WeekClock) -> list[date]:
    """Local days on which a pattern begins, the day before the horizon included."""
    return [on for on in clock.days() if WEEKDAYS[on.weekday()] in pattern.days]


def _shift(
    site: Site,
    team: Team,
    pattern: ShiftPattern,
    on: date,
    clock: WeekClock,
    busy: Busy,
) -> CrewShift | None:
    if WEEKDAYS[on.weekday()] not in pattern.days:
        return None
    length_min = clock.horizon.length_min
    whole = clock.stretch(on, pattern.starts, pattern.ends)
    part = clip(whole, 0, length_min)
    if part is None:
        return None
    costs = site.costs
    paid_min, per_min = round(60 * costs.call_out_min_h), costs.call_out_hour / 60
    overtime_min = 0 if pattern.on_call else team.overtime_max_min
    own = [
        break_stretch(item, pattern, on, clock)
        for item in _own_breaks(site, team, pattern)
    ]
    closes_min, on_call = whole.until_min + overtime_min, pattern.on_call
    more = more_breaks(whole, closes_min, own, site.rules, on_call=on_call)
    breaks = (clip(b, 0, min(closes_min, length_min)) for b in (*own, *more))
    return CrewShift(
        id=shift_id(team.id, pattern, on),
        crew_id=team.id,
        crew_name=team.name,
        hands=team.hands,
        part_of=(
            "" if team.id == team.gang_id else shift_id(team.gang_id, pattern, on)
        ),
        kind="on_call" if pattern.on_call else "shift",
        people=team.people,
        skills=team.skills,
        home_zone=team.home_zone,
        starts_min=part.from_min,
        ends_min=part.until_min,
        overtime_max_min=min(overtime_min, length_min - part.until_min),
        breaks=tuple(sorted((b for b in breaks if b), key=lambda b: b.from_min)),
        busy=tuple(
            one
            for one in busy.get(team.id, ())
            if one.from_min < closes_min and one.until_min > part.from_min
        ),
        call_out_cost=costs.call_out + paid_min * per_min if pattern.on_call else 0,
        call_out_paid_min=paid_min if pattern.on_call else 0,
        call_out_per_min=per_min if pattern.on_call else 0,
    )


def shift_id(crew_id: str, pattern: ShiftPattern, on: date) -> str:
    """Name a crew's shift that begins on a local day."""
    return f"{crew_id}/{pattern.id}/{on.isoformat()}"


def _own_breaks(site: Site, team: Team, pattern: ShiftPattern) -> tuple[Break, ...]:
    """Give the breaks of a pattern as one of its gangs takes them in its turn."""
    gangs = [crew.id for crew in site.crews if pattern.id in crew.shifts]
    by_min = gangs.index(team.gang_id) * pattern.break_stagger_min
    return tuple(
        Break(starts=_later(item.starts, by_min), ends=_later(item.ends, by_min))
        for item in pattern.breaks
    )


def _later(clock: time, by_min: int) -> time:
    hours, minutes = divmod(clock.hour * 60 + clock.minute + by_min, 60)
    return time(hours % 24, minutes)


def break_stretch(
    item: Break, pattern: ShiftPattern, on: date, clock: WeekClock
) -> Stretch:
    """Begin by the clock and last its length, whatever the clock does then."""
    begins_on = on if item.starts >= pattern.starts else on + timedelta(days=1)
    starts = datetime.combine(begins_on, item.starts)
    ends = datetime.combine(begins_on, item.ends)
    if ends <= starts:
        ends += timedelta(days=1)
    from_min = clock.minute(begins_on, item.starts)
    length_min = round((ends - starts).total_seconds() / 60)
    return Stretch(from_min=from_min, until_min=from_min + length_min)
