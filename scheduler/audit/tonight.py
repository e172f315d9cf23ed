"""The coming night, taken from the audit: temperatures, surfaces, people, water.

For somebody who leaves the site in the evening and must know in a quarter of a minute
whether it will be wet in the morning.
"""

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from typing import NamedTuple

from models.errors import OutOfRangeError
from models.local_clock import WeekClock
from models.records import (
    AuditReport,
    Gap,
    NightCrew,
    NightState,
    NightWater,
    OpenSurface,
    Phase,
    PhaseKind,
    Roster,
    SiteInput,
    SurfaceTrace,
    Tonight,
    TracePoint,
    WaterTrace,
)
from scheduler.audit.replayed.jobs import Job, by_surface, jobs_of
from scheduler.audit.replayed.windows import CrewWindow, crew_windows

#: A shift that begins between these local times is a morning shift; common practice,
#: no source.
MORNING = (time(3), time(12))

Night = tuple[datetime, datetime]
#: Nothing that a night could dry out.
_SAFE: tuple[PhaseKind, ...] = ("sealed", "insulated")
_COVERED: tuple[PhaseKind, ...] = ("covered", "ponded", "steamed", "automatic")
_STATES: dict[PhaseKind, NightState] = {
    "fresh": "bare",
    "exposed": "bare",
    "fogged": "fogged",
    "covered": "covered",
    "ponded": "ponded",
    "steamed": "in steam",
    "automatic": "on a timer",
}


class Level(NamedTuple):
    """Water in a cover at an instant, in litres and as a share of what it holds."""

    at: datetime
    reserve_l_m2: float
    share: float


def tonight(
    site_input: SiteInput, roster: Roster, report: AuditReport, now: datetime
) -> Tonight:
    """Show the night after an instant, up to the next morning shift.

    A night that has begun goes on until its own morning; otherwise it is the one after
    the local day, and over free days as well.

    Parameters
    ----------
    report : AuditReport
        The audit of this roster.
    now : datetime
        Within the plan, with an offset.

    Raises
    ------
    OutOfRangeError
        If the plan does not reach over ``now``.
    """
    site, horizon = site_input.site, roster.horizon
    if not horizon.starts_at <= now < horizon.ends_at:
        raise OutOfRangeError(
            name="hours from the start of the plan",
            found=(now - horizon.starts_at).total_seconds() / 3600,
            wanted=f"0 to {horizon.length_min / 60:g} h",
            source="the plan",
        )
    clock = WeekClock(site.timezone, horizon)
    windows = crew_windows(site, clock)
    local = clock.local(horizon.minute(now))
    evening = local.date()
    if local.time() < site.night_ends:
        evening -= timedelta(days=1)
    until_at, days_off = _morning(windows, evening, clock)
    dusk_at = max(now, horizon.at(clock.minute(evening, site.night_starts)))
    night = (now, until_at)
    jobs, _ = jobs_of(roster, clock)
    grouped = by_surface(jobs)
    gaps = tuple(_cut(report.gaps, night))
    zones = {zone.id: zone.name for zone in site.zones}
    states = [(trace, _state(trace, night)) for trace in report.surfaces]
    surfaces = [
        _surface(trace, phase, zones, gaps, grouped.get(trace.surface_id, []), night)
        for trace, phase in states
        if phase is not None and phase.kind not in _SAFE
    ]
    return Tonight(
        site_name=site.name,
        from_at=now,
        until_at=until_at,
        dusk_at=min(dusk_at, until_at),
        days_off=days_off,
        breaches=tuple(
            finding
            for finding in report.findings
            if finding.breach is not None
            and finding.starts_at < until_at
            and finding.ends_at > now
        ),
        surfaces=tuple(sorted(surfaces, key=_worst_first)),
        sealed=sum(phase is not None and phase.kind in _SAFE for _, phase in states),
        gaps=gaps,
        crews=tuple(_crews(windows, roster, night, clock)),
        water=tuple(_water(site_input, report, min(dusk_at, until_at), until_at)),
    )


def _morning(
    windows: tuple[CrewWindow, ...], evening: date, clock: WeekClock
) -> tuple[datetime, int]:
    """Begin of the first morning shift after an evening, and the free days between."""
    horizon = clock.horizon
    last = clock.local(horizon.length_min - 1).date()
    until, morning = horizon.length_min, last
    for window in windows:
        if window.pattern.on_call or window.day <= evening:
            continue
        if MORNING[0] <= window.pattern.starts < MORNING[1]:
            until, morning = window.starts_min, window.day
            break
    worked = {window.day for window in windows if not window.pattern.on_call}
    between = (evening + timedelta(n) for n in range(1, (morning - evening).days))
    return horizon.at(until), sum(day not in worked for day in between)


def _state(trace: SurfaceTrace, night: Night) -> Phase | None:
    """Phase at the beginning of the night, or the first one in it; None if done."""
    phases = [
        p for p in trace.phases if p.starts_at < night[1] and p.ends_at > night[0]
    ]
    first = phases[0] if phases else None
    return None if first is None or first.kind == "done" else first


def _surface(
    trace: SurfaceTrace,
    phase: Phase,
    zones: dict[str, str],
    gaps: tuple[Gap, ...],
    jobs: list[Job],
    night: Night,
) -> OpenSurface:
    from_at, until_at = night
    covered = phase.kind in _COVERED
    levels = list(_levels(trace, night))
    lowest = min(levels, key=lambda level: level.share, default=None)
    now = levels[0] if covered and levels else None
    wetting = [job.visit for job in jobs if job.task.protects]
    wet_at = [one.starts_at for one in wetting if from_at <= one.starts_at < until_at]
    there_now = any(one.starts_at < from_at < one.ends_at for one in wetting)
    return OpenSurface(
        surface_id=trace.surface_id,
        label=trace.label,
        part=trace.part,
        zone_name=zones[trace.zone_id],
        state="being re-wetted" if there_now and covered else _STATES[phase.kind],
        reserve_l_m2=now.reserve_l_m2 if now else None,
        reserve_fraction=now.share if now else None,
        lowest_l_m2=lowest.reserve_l_m2 if lowest else None,
        lowest_fraction=lowest.share if lowest else None,
        lowest_at=lowest.at if lowest else None,
        dry_min=sum(g.minutes for g in gaps if g.surface_id == trace.surface_id),
        next_wet_at=min(wet_at, default=None),
    )


def _levels(trace: SurfaceTrace, night: Night) -> Iterator[Level]:
    """Reserve at the beginning, at each point in between and at the end of a night."""
    points = trace.points
    if not points:
        return
    if points[0].at <= night[0] <= points[-1].at:
        yield _level(trace, night[0])
    for point in points:
        if night[0] < point.at <= night[1]:
            yield _point(trace, point)
    if points[0].at <= night[1] <= points[-1].at:
        yield _level(trace, night[1])


def _level(trace: SurfaceTrace, at: datetime) -> Level:
    """Reserve at an instant that the points reach over; after a jump, if it is one."""
    index = max(i for i, point in enumerate(trace.points) if point.at <= at)
    before = _point(trace, trace.points[index])
    if before.at == at:
        return before
    after = _point(trace, trace.points[index + 1])
    part = (at - before.at) / (after.at - before.at)
    reserve_l_m2 = part * (after.reserve_l_m2 - before.reserve_l_m2)
    share = part * (after.share - before.share)
    return Level(at, before.reserve_l_m2 + reserve_l_m2, before.share + share)


def _point(trace: SurfaceTrace, point: TracePoint) -> Level:
    held_l_m2 = trace.held_l_m2 if point.held_l_m2 is None else point.held_l_m2
    return Level(point.at, point.reserve_l_m2, min(1.0, point.reserve_l_m2 / held_l_m2))


def _cut(gaps: tuple[Gap, ...], night: Night) -> Iterator[Gap]:
    for gap in gaps:
        starts_at, ends_at = max(gap.starts_at, night[0]), min(gap.ends_at, night[1])
        if starts_at < ends_at:
            yield gap.model_copy(update={"starts_at": starts_at, "ends_at": ends_at})


def _worst_first(surface: OpenSurface) -> tuple[int, float, str]:
    lowest = 1.0 if surface.lowest_fraction is None else surface.lowest_fraction
    return -surface.dry_min, lowest, surface.label


def _crews(
    windows: tuple[CrewWindow, ...], roster: Roster, night: Night, clock: WeekClock
) -> Iterator[NightCrew]:
    """Crews with hours in the night, those at work before those on call."""
    horizon = clock.horizon
    first, last = horizon.minute(night[0]), horizon.minute(night[1])
    on = [w for w in windows if w.starts_min < last and w.ends_min > first]
    for window in sorted(on, key=lambda w: (w.pattern.on_call, w.starts_min, w.id)):
        starts_at, ends_at = horizon.at(window.starts_min), horizon.at(window.ends_min)
        closes_at = horizon.at(window.closes_min)
        crew = window.crew
        yield NightCrew(
            crew_id=crew.id,
            name=crew.name,
            lead=crew.lead,
            phone=crew.phone,
            people=crew.people,
            on_call=window.pattern.on_call,
            starts_at=starts_at,
            ends_at=ends_at,
            visits=sum(
                visit.crew_id == crew.id
                and starts_at <= visit.starts_at < closes_at
                and night[0] <= visit.starts_at < night[1]
                for visit in roster.visits
            ),
        )


def _water(
    site_input: SiteInput, report: AuditReport, dusk_at: datetime, until_at: datetime
) -> Iterator[NightWater]:
    names = {point.id: point.name for point in site_input.site.water_points}
    for trace in report.water:
        yield _water_point(trace, names[trace.water_point_id], dusk_at, until_at)


def _water_point(
    trace: WaterTrace, name: str, dusk_at: datetime, until_at: datetime
) -> NightWater:
    """Level at the end of the hour that ends at dusk or in which dusk falls."""
    before = [hour for hour in trace.hours if hour.at < dusk_at] or trace.hours[:1]
    after = [hour for hour in trace.hours if dusk_at <= hour.at < until_at]
    return NightWater(
        water_point_id=trace.water_point_id,
        name=name,
        level_l=before[-1].level_l,
        allotment_left_l=before[-1].allotment_left_l,
        drawn_l=sum(hour.drawn_l for hour in after),
    )
