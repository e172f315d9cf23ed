"""Visits of a roster put into words: each entry from task, surface and audit."""

from collections import defaultdict
from datetime import datetime, time, timedelta

from exports.breaches import breached
from exports.cloth import ClothWords
from exports.entry import MAX_CAUTIONS, TITLE_SIGNS, Entry
from exports.reserve import dry_from_min, phase_at, share_at
from exports.text import one_line, shorten_label
from models.local_clock import LocalClock, minutes_between
from models.quantities import Units, show, show_share, show_volume
from models.records import (
    AuditReport,
    Finding,
    Material,
    PhaseKind,
    Roster,
    Site,
    SurfaceTrace,
    SurfaceWork,
    Task,
    Visit,
    WaterNeed,
)

#: At least so long before a visit at night: boots, lamp, walk.
NIGHT_ALARM_MIN = 30
#: Phases in which no visit has to wet anything, in words.
_SAFE: dict[PhaseKind, str] = {
    "sealed": "sealed; needs no water",
    "insulated": "under blankets; needs no water",
    "automatic": "wetted by a timer",
}
_UNDER_COVER: tuple[PhaseKind, ...] = ("covered", "ponded", "steamed")


def entries(site: Site, roster: Roster, report: AuditReport) -> tuple[Entry, ...]:
    """Put every visit of a roster into words.

    Parameters
    ----------
    site : Site
        Names, units and time zone.
    roster : Roster
        The visits, with the work they come from.
    report : AuditReport
        The audit of this very roster: its traces give the reserves.

    Returns
    -------
    tuple of Entry
        In the roster's order: by start, then crew, then id.
    """
    works = {work.surface_id: work for work in roster.surfaces}
    traces = {trace.surface_id: trace for trace in report.surfaces}
    writer = _Writer(site, roster, report)
    return tuple(
        writer.entry(visit, works[visit.surface_id], traces[visit.surface_id])
        for visit in roster.visits
    )


class _Writer:
    """What all entries of one site share."""

    def __init__(self, site: Site, roster: Roster, report: AuditReport) -> None:
        self.site, self.horizon = site, roster.horizon
        self.clock = LocalClock(site.timezone)
        self.zones = {zone.id: zone for zone in site.zones}
        self.crews = {crew.id: crew for crew in site.teams}
        self.points = {point.id: point for point in site.water_points}
        self.breaches: defaultdict[str, list[Finding]] = defaultdict(list)
        for finding in report.findings:
            if finding.breach is not None and finding.surface_id is not None:
                self.breaches[finding.surface_id].append(finding)
        self.shifts = {shift.shift_id: shift for shift in report.shifts}
        self.cloth = ClothWords(roster.visits, roster.horizon, self.clock)
        self.ends_at = {
            (visit.surface_id, visit.task_id): visit.ends_at for visit in roster.visits
        }

    def entry(self, visit: Visit, work: SurfaceWork, trace: SurfaceTrace) -> Entry:
        task = _task_of(visit, work)
        area = show("area", work.area_m2, self.site.units)
        zone = self.zones[work.zone_id]
        zone_words = _joined(
            zone.name,
            zone.level and f"level {zone.level}",
            zone.grid and f"grid {zone.grid}",
        )
        point_id = visit.water_point_id
        point_name = one_line(self.points[point_id].name) if point_id else ""
        dry_by_at, state_words, reserve_words = self._reserve(visit, work, trace)
        if task.facts.changes:  # the curve that follows is another cover's
            dry_by_at, reserve_words = None, ""
        start_by_at = self._start_by(visit, task, dry_by_at)
        late = start_by_at < visit.starts_at
        return Entry(
            visit_id=visit.id,
            kind=task.kind,
            surface_id=visit.surface_id,
            surface_label=one_line(work.label),
            zone_id=work.zone_id,
            crew_id=visit.crew_id,
            crew_name=one_line(self.crews[visit.crew_id].name),
            shift_id=visit.shift_id,
            title=_title(_verb(task), one_line(work.label), trace.part, area),
            task_title=one_line(task.full_title),
            place=_joined(zone_words, point_name),
            zone_name=one_line(zone.name),
            zone_words=zone_words,
            starts_at=visit.starts_at,
            ends_at=visit.ends_at,
            start_by_at=self._on_shift(visit, start_by_at),
            late=late,
            dry_by_at=dry_by_at,
            state_words=state_words,
            reserve_words=reserve_words,
            people=task.people,
            minutes=minutes_between(visit.starts_at, visit.ends_at),
            litres_l=task.water.litres_l if task.water else 0,
            water_point_id=point_id,
            water_point_name=point_name,
            water_words=self._water(task.water, point_name),
            draw_words=self._water(task.water),
            materials=(
                *(
                    _material(material, self.site.units)
                    for material in task.materials
                    if not (task.water and material.name == "water")  # said above
                ),
                *_lines(self.cloth.when_laid(visit, work)),
            ),
            tools=_lines(task.tools),
            steps=_lines((*self.cloth.at_check(visit, work), *task.steps)),
            log_fields=_lines(task.log_fields),
            breaches=self._breaches(visit, work),
            cautions=_lines(task.cautions[:MAX_CAUTIONS]),
            alarms_min=self._alarms(task, visit.starts_at),
        )

    def _breaches(self, visit: Visit, work: SurfaceWork) -> tuple[str, ...]:
        """Say what lies ahead of a visit, or around it."""
        own = self.breaches.get(visit.surface_id, ())
        labels = {work.surface_id: work.label}
        ahead = breached(own, labels, self.clock, self.site.units, visit.starts_at)
        return tuple(f"{one.label}: {one.sentence}" for one in ahead)

    def _start_by(
        self, visit: Visit, task: Task, dry_by_at: datetime | None
    ) -> datetime:
        limits = [self.horizon.at(task.due_min - task.duration_min)]
        if task.refills and dry_by_at is not None:
            limits.append(dry_by_at)
        for link in task.after:
            done_at = self.ends_at.get((visit.surface_id, link.task_id))
            if done_at is not None and link.max_gap_min is not None:
                limits.append(done_at + timedelta(minutes=link.max_gap_min))
        return min(limits)

    def _on_shift(self, visit: Visit, start_by_at: datetime) -> datetime:
        """Bring a latest start into the shift that is to keep it.

        Overtime is no room to wait for: what ends in it anyway starts as planned.
        """
        shift = self.shifts.get(visit.shift_id)
        if shift is None:
            return start_by_at
        last_at = shift.ends_at - (visit.ends_at - visit.starts_at)
        last_at = max(last_at, visit.starts_at)
        return max(shift.starts_at, min(start_by_at, last_at))

    def _reserve(
        self, visit: Visit, work: SurfaceWork, trace: SurfaceTrace
    ) -> tuple[datetime | None, str, str]:
        """Say when the cover is dry, how it is now, and what is left until when."""
        start_min = self.horizon.minute(visit.starts_at)
        phase = phase_at(trace, visit.starts_at)
        if phase is None:
            state = "not exposed yet"
        elif phase.kind == "done":
            state = "curing time over"
        elif phase.kind in _SAFE:
            state = _SAFE[phase.kind]
        elif phase.kind in _UNDER_COVER and work.curve is not None:
            left = share_at(trace, visit.starts_at)
            held_l_m2 = left * work.curve.held_l_m2
            dry_min = dry_from_min(work.curve, held_l_m2, start_min, work.ends_min)
            share = show_share(left)
            if dry_min is None:
                lasts = f"{share}; lasts to the end of curing or of the forecast"
                return None, f"{share} left", lasts
            dry_by_at = self.horizon.at(dry_min)
            if dry_min == start_min:
                return dry_by_at, "cover is dry", ""
            at = self.clock.day_time(dry_by_at)
            return dry_by_at, f"{share} left", f"{share}; dry at {at} unless re-wetted"
        else:
            state = self._bare(work, start_min)
        return None, state, ""

    def _bare(self, work: SurfaceWork, minute: int) -> str:
        for stretch in work.fresh:
            if stretch.from_min <= minute < stretch.until_min:
                return "bare and drying"
            if stretch.from_min > minute:
                dries_at = self.horizon.at(stretch.from_min)
                today = self.clock.day(dries_at) == self.clock.day(
                    self.horizon.at(minute)
                )
                show_at = self.clock.time if today else self.clock.day_time
                return f"starts drying {show_at(dries_at)}"
        return "bare; no cover needed yet"

    def _water(self, need: WaterNeed | None, point_name: str = "") -> str:
        if need is None:
            return ""
        units = self.site.units
        litres = show("volume", need.litres_l, units)
        flow = show("flow", need.flow_l_min, units)
        origin = f" from {point_name}" if point_name else ""
        # A trickle rounds to nothing; "0 L/min" would read as no water.
        trickles = not any(sign in flow for sign in "123456789")
        return f"{litres}{origin}, {'a trickle' if trickles else flow}"

    def _alarms(self, task: Task, starts_at: datetime) -> tuple[int, ...]:
        first, *others = task.facts.alarms_min
        if self._at_night(self.clock.local(starts_at).time()):
            first = max(first, NIGHT_ALARM_MIN)
        return (first, *others)

    def _at_night(self, at: time) -> bool:
        starts, ends = self.site.night_starts, self.site.night_ends
        if starts <= ends:
            return starts <= at < ends
        return at >= starts or at < ends


def _task_of(visit: Visit, work: SurfaceWork) -> Task:
    patterns = (*work.tasks, work.rewet) if work.rewet else work.tasks
    return next(task for task in patterns if task.id == visit.task_id)


def _verb(task: Task) -> str:
    """``COVER 1/2``: parts of one job on one surface must not look the same."""
    verb = task.facts.verb
    return f"{verb} {task.part}/{task.parts}" if task.parts > 1 else verb


def _title(verb: str, label: str, part: str, area: str) -> str:
    """Cut the label if need be: verb and amount are what a glance must catch."""
    room = TITLE_SIGNS - len(verb) - len(area) - 2
    return f"{verb} {shorten_label(label, part, room)} {area}"


def _material(material: Material, units: Units) -> str:
    """Name what is brought, with its amount where it has one."""
    amounts = (
        show("area", material.area_m2, units) if material.area_m2 else "",
        show_volume(material.volume_l, units) if material.volume_l else "",
        show("length", material.length_m, units) if material.length_m else "",
    )
    amount = "".join(f" ({amount})" for amount in amounts if amount)
    return one_line(material.name + amount)


def _lines(texts: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(one_line(text) for text in texts)


def _joined(*parts: str) -> str:
    return " · ".join(one_line(part) for part in parts if part)
