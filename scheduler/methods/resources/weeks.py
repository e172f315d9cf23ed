"""Calendar weeks of the crews: the hours their shifts take, and the most allowed."""

from collections.abc import Sequence
from datetime import date, time, timedelta

from models.local_clock import WEEKDAYS, WeekClock
from models.records import CrewShift, CrewWeek, Horizon, ShiftPattern, Site
from scheduler.methods.resources.shifts import break_stretch, shift_id

_DAY = timedelta(days=1)


def crew_weeks(
    site: Site, horizon: Horizon, shifts: Sequence[CrewShift]
) -> tuple[CrewWeek, ...]:
    """Every week, Monday to Sunday, that the horizon meets; none without a limit.

    Shifts count that lie in the week but before or after the horizon: a plan that
    begins on a Thursday knows what Monday's shift took.
    """
    most_h = site.rules.week_hours_max_h
    if most_h is None:
        return ()
    clock = WeekClock(site.timezone, horizon)
    mondays = sorted({on - _DAY * on.weekday() for on in clock.days()})
    planned = {shift.id for shift in shifts}
    patterns = {pattern.id: pattern for pattern in site.shifts}
    weeks = []
    for crew in site.crews:
        for monday in mondays:
            begun = [
                (patterns[name], on)
                for name in crew.shifts
                for on in (monday + _DAY * i for i in range(7))
                if WEEKDAYS[on.weekday()] in patterns[name].days
            ]
            ids = (shift_id(crew.id, pattern, on) for pattern, on in begun)
            week = CrewWeek(
                crew_id=crew.id,
                starts_min=clock.minute(monday, time()),
                shift_ids=tuple(sorted(planned.intersection(ids))),
                regular_min=sum(_work_min(p, on, clock) for p, on in begun),
                most_min=round(60 * most_h),
            )
            weeks += [week.model_copy(update={"crew_id": h}) for h in crew.hands]
    return tuple(weeks)


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
