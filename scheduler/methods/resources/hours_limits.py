"""The most hours of gangs and parties, and what their shifts take of them.

Of a calendar week, of a day and of one call-out. A shift counts whole in the week and
on the day that it begins in; overtime and call-outs come on top.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, time, timedelta

from models.local_clock import WEEKDAYS, WeekClock
from models.records import (
    Crew,
    CrewShift,
    Horizon,
    HoursLimit,
    Rules,
    ShiftPattern,
    Site,
)
from scheduler.methods.resources.shifts import break_stretch, shift_id

_DAY = timedelta(days=1)


def hours_limits(
    site: Site, horizon: Horizon, shifts: Sequence[CrewShift]
) -> tuple[HoursLimit, ...]:
    """Every limit that the horizon meets, of each gang or each of its parties.

    Of days and call-outs only those that overtime and call-outs could break. Shifts
    count that lie in the week but before or after the horizon: a plan that begins on a
    Thursday knows what Monday's shift took.
    """
    clock = WeekClock(site.timezone, horizon)
    known = {shift.id: shift for shift in shifts}
    return tuple(
        limit.model_copy(update={"crew_id": hand})
        for crew in site.crews
        for limit in (
            *_weeks(site, crew, known.keys(), clock),
            *_days(site, crew, known, clock),
            *_call_outs(site, crew, shifts),
        )
        for hand in crew.hands
    )


def _weeks(
    site: Site, crew: Crew, known: Collection[str], clock: WeekClock
) -> Iterator[HoursLimit]:
    """Give the calendar weeks, Monday to Sunday; none without a limit."""
    most_h = site.rules.week_hours_max_h
    if most_h is None:
        return
    for monday in sorted({on - _DAY * on.weekday() for on in clock.days()}):
        begun = [one for i in range(7) for one in _begun(site, crew, monday + _DAY * i)]
        ids = {shift_id(crew.id, pattern, on) for pattern, on in begun}
        yield HoursLimit(
            kind="week",
            crew_id=crew.id,
            starts_min=clock.minute(monday, time()),
            shift_ids=tuple(sorted(ids.intersection(known))),
            regular_min=sum(_work_min(p, on, clock) for p, on in begun),
            most_min=round(60 * most_h),
        )


def _days(
    site: Site, crew: Crew, known: Mapping[str, CrewShift], clock: WeekClock
) -> Iterator[HoursLimit]:
    """Give the days on which overtime and call-outs could be too much."""
    for on in clock.days():
        begun = _begun(site, crew, on)
        ids = (shift_id(crew.id, pattern, on) for pattern, on in begun)
        own = [known[name] for name in sorted(ids) if name in known]
        limit = HoursLimit(
            kind="day",
            crew_id=crew.id,
            starts_min=clock.minute(on, time()),
            shift_ids=tuple(shift.id for shift in own),
            regular_min=sum(_work_min(p, on, clock) for p, on in begun),
            most_min=round(60 * site.rules.day_hours_max_h),
        )
        longest = (_longest_beyond_min(shift, site.rules) for shift in own)
        if sum(longest) > limit.left_min:
            yield limit


def _call_outs(
    site: Site, crew: Crew, shifts: Sequence[CrewShift]
) -> Iterator[HoursLimit]:
    """Give the stretches on call that are longer than a call-out may be."""
    most_min = round(60 * site.rules.call_out_max_h)
    for shift in shifts:
        on_call = shift.kind == "on_call" and shift.crew_id == crew.id
        if on_call and shift.ends_min - shift.starts_min > most_min:
            yield HoursLimit(
                kind="call_out",
                crew_id=crew.id,
                starts_min=shift.starts_min,
                shift_ids=(shift.id,),
                regular_min=0,
                most_min=most_min,
            )


def _begun(site: Site, crew: Crew, on: date) -> list[tuple[ShiftPattern, date]]:
    """List the patterns of a gang that begin on a local day."""
    patterns = {pattern.id: pattern for pattern in site.shifts}
    own = (patterns[name] for name in crew.shifts)
    return [(pattern, on) for pattern in own if WEEKDAYS[on.weekday()] in pattern.days]


def _longest_beyond_min(shift: CrewShift, rules: Rules) -> int:
    """Minutes of overtime, or of a call-out, at the most."""
    if shift.kind == "on_call":
        length_min = shift.ends_min - shift.starts_min
        return min(length_min, round(60 * rules.call_out_max_h))
    return shift.overtime_max_min


def _work_min(pattern: ShiftPattern, on: date, clock: WeekClock) -> int:
    """Minutes of a shift less its breaks; none of a stretch on call."""
    if pattern.on_call:
        return 0
    whole = clock.stretch(on, pattern.starts, pattern.ends)
    pauses = (break_stretch(item, pattern, on, clock) for item in pattern.breaks)
    return (
        whole.until_min
        - whole.from_min
        - sum(pause.until_min - pause.from_min for pause in pauses)
    )
