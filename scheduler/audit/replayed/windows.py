"""When each crew may work, counted from the site's shift patterns.

The solver was given a list of crew shifts; this list is made again from the patterns,
weekday by weekday in the site's timezone, so that a slip in either shows.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from itertools import takewhile
from math import ceil, hypot
from types import MappingProxyType

from models.local_clock import WEEKDAYS, WeekClock
from models.records import Rules, ShiftPattern, Site, Team, Zone
from models.records.site import STOREY_M
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.other_work import OtherWork


@dataclass(frozen=True)
class CrewWindow:
    """A gang, or a party of one, on one shift or on call for one stretch."""

    crew: Team
    pattern: ShiftPattern
    day: date
    starts_min: int
    ends_min: int
    breaks: tuple[tuple[int, int], ...]
    busy: tuple[OtherWork, ...] = ()

    @property
    def id(self) -> str:
        """Crew, pattern and the day it starts on."""
        return f"{self.crew.id}/{self.pattern.id}/{self.day}"

    @property
    def monday(self) -> date:
        """First day of the calendar week it starts in."""
        return self.day - timedelta(days=self.day.weekday())

    @property
    def closes_min(self) -> int:
        """Last minute of overtime; nobody stays on past a call-out stretch."""
        overtime = 0 if self.pattern.on_call else self.crew.overtime_max_min
        return self.ends_min + overtime

    def takes(self, start_min: int, end_min: int) -> bool:
        """Whether work between two minutes lies inside, breaks apart."""
        return self.starts_min <= start_min and end_min <= self.closes_min


def crew_windows(
    site: Site,
    clock: WeekClock,
    busy: Mapping[str, Sequence[OtherWork]] = MappingProxyType({}),
) -> tuple[CrewWindow, ...]:
    """Every shift and on-call stretch that touches the horizon, with its other work."""
    windows = [
        _with_other_work(window, busy.get(crew.id, ()))
        for crew in site.teams
        for day in clock.days()
        for window in day_windows(site, crew, day, clock)
        if window.ends_min > 0 and window.starts_min < clock.horizon.length_min
    ]
    return tuple(sorted(windows, key=lambda w: (w.starts_min, w.crew.id, w.id)))


def _with_other_work(window: CrewWindow, busy: Sequence[OtherWork]) -> CrewWindow:
    met = (
        one
        for one in busy
        if one.from_min < window.closes_min and one.until_min > window.starts_min
    )
    return replace(window, busy=tuple(met))


def day_windows(
    site: Site, crew: Team, day: date, clock: WeekClock
) -> Iterator[CrewWindow]:
    """Yield a crew's shifts and stretches on call that start on a local day."""
    patterns = {pattern.id: pattern for pattern in site.shifts}
    for pattern in (patterns[name] for name in crew.shifts):
        if WEEKDAYS[day.weekday()] in pattern.days:
            hours = clock.stretch(day, pattern.starts, pattern.ends)
            earlier = takewhile(lambda other: other.id != crew.gang_id, site.crews)
            turn = sum(pattern.id in other.shifts for other in earlier)
            breaks = _breaks(pattern, turn, day, clock)
            starts, ends = hours.from_min, hours.until_min
            window = CrewWindow(crew, pattern, day, starts, ends, breaks)
            beyond = _breaks_beyond(window, site.rules)
            yield replace(window, breaks=(*breaks, *beyond))


def _breaks_beyond(window: CrewWindow, rules: Rules) -> Iterator[tuple[int, int]]:
    """Yield breaks after so many hours without one, in overtime and on call.

    Minute by minute: nothing counts but how long it is since the last break.
    """
    at_work, pausing = 0, 0
    for minute in range(window.starts_min, window.closes_min):
        beyond = window.pattern.on_call or minute >= window.ends_min
        if any(starts <= minute < ends for starts, ends in window.breaks):
            at_work, pausing = 0, 0
        elif pausing:
            pausing -= 1
        elif beyond and at_work >= round(60 * rules.break_after_h):
            at_work, pausing = 0, rules.break_length_min
            rest_until = minute + rules.break_length_min
            following = (a for a, _ in window.breaks if a >= minute)
            ends = min(rest_until, window.closes_min, *following)
            if minute < ends:
                yield minute, ends
            pausing = max(0, pausing - 1)
        else:
            at_work += 1


def _breaks(
    pattern: ShiftPattern, turn: int, day: date, clock: WeekClock
) -> tuple[tuple[int, int], ...]:
    """List the breaks of the gang whose turn it is; ``turn`` gangs go before it.

    One before the start on the clock is after midnight. A break is due for its length,
    even in a night in which the clock is changed.
    """
    opens, whole_day = _minute_of_day(pattern.starts), 24 * 60
    midnight = datetime.combine(day, time())
    spans = []
    for pause in pattern.breaks:
        starts, ends = _minute_of_day(pause.starts), _minute_of_day(pause.ends)
        into_shift = (starts - opens) % whole_day + turn * pattern.break_stagger_min
        shown = midnight + timedelta(minutes=opens + into_shift)
        begins = clock.minute(shown.date(), shown.time())
        spans.append((begins, begins + (ends - starts) % whole_day))
    return tuple(spans)


def _minute_of_day(clock: time) -> int:
    return 60 * clock.hour + clock.minute


def walk_min(site: Site, zone_from: str, zone_to: str) -> int:
    """Whole minutes from zone to zone: straight line, then stairs level by level.

    Within a zone it is the move to the next surface.
    """
    if zone_from == zone_to:
        return site.rules.move_in_zone_min
    zones: dict[str, Zone] = {zone.id: zone for zone in site.zones}
    a, b = zones[zone_from], zones[zone_to]
    metres = hypot(a.x_m - b.x_m, a.y_m - b.y_m)
    walk = metres / site.rules.walking_speed_m_s / 60
    return max(
        ceil(walk + _stairs_min(a, b, site.rules) - 1e-9), site.rules.move_in_zone_min
    )


def _stairs_min(a: Zone, b: Zone, rules: Rules) -> int:
    """Minutes on stairs: the first storey that is begun, then each one more."""
    if a.level == b.level:
        return 0
    up, down = a.level_m, b.level_m
    storeys = 1 if up is None or down is None else (up - down) / STOREY_M
    begun = ceil(abs(storeys) - 1e-9)
    return (
        0 if begun < 1 else rules.level_change_min + rules.level_more_min * (begun - 1)
    )


def placed(
    jobs: tuple[Job, ...], windows: tuple[CrewWindow, ...]
) -> list[tuple[CrewWindow | None, list[Job]]]:
    """Put the jobs that share a crew and a shift id into the window they fit.

    Where several windows would do, the one whose own id the roster used counts, then
    the earliest. Jobs of a shift that fits nowhere come with None.
    """
    groups: dict[tuple[str, str], list[Job]] = {}
    for job in jobs:
        groups.setdefault((job.visit.crew_id, job.visit.shift_id), []).append(job)
    result: dict[str, tuple[CrewWindow | None, list[Job]]] = {}
    for (crew_id, shift_id), group in groups.items():
        own = [w for w in windows if w.crew.id == crew_id]
        best = max(
            own,
            key=lambda w: (
                sum(w.takes(j.start_min, j.end_min) for j in group),
                w.id == shift_id,
                -w.starts_min,
            ),
            default=None,
        )
        fits = best and any(best.takes(j.start_min, j.end_min) for j in group)
        key = best.id if best and fits else f"none/{crew_id}/{shift_id}"
        known = result.setdefault(key, (best if fits else None, []))
        known[1].extend(group)
    for _, group in result.values():
        group.sort(key=lambda job: (job.start_min, job.visit.id))
    return list(result.values())
