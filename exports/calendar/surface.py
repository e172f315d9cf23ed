"""A surface's calendar: its curing time as long entries, what is wrong as short.

For the planner and the site manager, who look at days. No alarms, and none of the
visits: those are in the crews' calendars and would show twice.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import groupby

from exports.breaches import Breached, Span, breached
from exports.calendar.event import CalendarEntry
from exports.calendar.ics_file import FeedRange, ics_file
from exports.calendar.identity import uid
from exports.entry import TITLE_SIGNS
from exports.handed import Handed
from exports.text import one_line, shorten, shorten_label
from exports.undone import Undone, undone
from exports.why import why_lines
from models.local_clock import LocalClock
from models.quantities import duration
from models.records import (
    AuditReport,
    Gap,
    Phase,
    PhaseKind,
    Roster,
    Site,
    SurfaceTrace,
)

#: phase -> the word that stands for it; a bare surface is one stretch, whether fog
#: runs or not: where it dries, a gap says so.
_WORDS: dict[PhaseKind, str] = {
    "fresh": "BARE",
    "fogged": "BARE",
    "exposed": "BARE",
    "covered": "UNDER COVER",
    "ponded": "UNDER WATER",
    "steamed": "IN STEAM",
    "insulated": "UNDER BLANKETS",
    "automatic": "WATER ON TIMER",
    "sealed": "SEALED",
}
_PLANNED = "As planned and forecast; only dated records by a person are evidence."


def surface_calendar(
    site: Site,
    roster: Roster,
    report: AuditReport,
    surface_id: str,
    handed: Handed,
    feed_range: FeedRange | None = None,
) -> bytes:
    """Write the calendar of one surface.

    Parameters
    ----------
    site, roster, report : Site, Roster, AuditReport
        The site, a roster of it and that roster's audit.
    surface_id : str
        The surface.
    handed : Handed
        As which issue, or as a draft.
    feed_range : FeedRange or None
        What part is shown; None for three days back and a fortnight ahead.

    Returns
    -------
    bytes
        An ``.ics`` file.

    Raises
    ------
    ValueError
        If the audit knows no such surface.
    """
    traces = {trace.surface_id: trace for trace in report.surfaces}
    if surface_id not in traces:
        raise ValueError(f"no surface {surface_id!r} in the audit of {site.name}")
    trace = traces[surface_id]
    clock = LocalClock(roster.timezone)
    zones = {zone.id: zone.name for zone in site.zones}
    place = zones[trace.zone_id]
    gaps = (gap for gap in roster.gaps if gap.surface_id == surface_id)
    missed = (one for one in undone(roster) if one.surface_id == surface_id)
    outside = breached(
        (f for f in report.findings if f.surface_id == surface_id),
        {surface_id: trace.label},
        clock,
        site.units,
        roster.horizon.starts_at,
    )
    shown = [
        *(
            _breach(site, trace, place, one, span)
            for one in outside
            for span in one.spans
        ),
        *_phases(site, clock, trace, place, outside),
        *(_gap(site, clock, trace, place, gap) for gap in gaps),
        *(_undone(site, trace, place, one) for one in missed),
    ]
    name = f"{one_line(trace.label)} · {site.name}"
    return ics_file(site, name, shown, handed, feed_range or FeedRange())


def _phases(
    site: Site,
    clock: LocalClock,
    trace: SurfaceTrace,
    place: str,
    outside: Sequence[Breached],
) -> Iterator[CalendarEntry]:
    stages = groupby(trace.phases, key=lambda phase: _WORDS.get(phase.kind))
    for number, (word, group) in enumerate(stages):
        phases: list[Phase] = list(group)
        starts_at, ends_at = phases[0].starts_at, phases[-1].ends_at
        if word is None:
            yield _end(site, trace, place, starts_at)
            continue
        yield CalendarEntry(
            uid=uid(site.name, "stage", trace.surface_id, word, str(number)),
            title=_title(word, trace),
            text="\n".join(
                (
                    clock.span(starts_at, ends_at),
                    *(
                        f"CAUTION {b.sentence}"
                        for b in outside
                        if b.ends_at > starts_at
                    ),
                    _PLANNED,
                )
            ),
            place=place,
            categories=("curing", trace.zone_id),
            starts_at=starts_at,
            ends_at=ends_at,
        )


def _end(
    site: Site, trace: SurfaceTrace, place: str, starts_at: datetime
) -> CalendarEntry:
    return CalendarEntry(
        uid=uid(site.name, "end", trace.surface_id),
        title=_title("CURING TIME ENDS", trace),
        text="By the site's curing rule, as planned.\nThe engineer decides what may be "
        f"loaded, struck or opened.\n{_PLANNED}",
        place=place,
        categories=("curing", trace.zone_id),
        starts_at=starts_at,
        ends_at=starts_at,
    )


def _breach(
    site: Site, trace: SurfaceTrace, place: str, one: Breached, span: Span
) -> CalendarEntry:
    start_min = str(int(span.starts_at.timestamp()) // 60)
    return CalendarEntry(
        uid=uid(site.name, "breach", trace.surface_id, one.kind, one.rule, start_min),
        title=_title(one.shout, trace),
        text=f"{one.title}: {one.worst}\nLimit: {one.rule}\n{one.do}\n{_PLANNED}",
        place=place,
        categories=("temperature", trace.zone_id),
        starts_at=span.starts_at,
        ends_at=span.ends_at,
    )


def _gap(
    site: Site, clock: LocalClock, trace: SurfaceTrace, place: str, gap: Gap
) -> CalendarEntry:
    state = "cover dry" if gap.covered else "bare and drying"
    lines = why_lines(gap, clock)
    reasons = f"Why: {lines[0]}" if len(lines) == 1 else "\n".join(("Why:", *lines))
    start_min = str(int(gap.starts_at.timestamp()) // 60)
    return CalendarEntry(
        uid=uid(site.name, "gap", trace.surface_id, start_min),
        title=_title("DRY", trace),
        text=f"{clock.span(gap.starts_at, gap.ends_at)}, {duration(gap.minutes)}: "
        f"{state}\n{reasons}\n{_PLANNED}",
        place=place,
        categories=("dry", trace.zone_id),
        starts_at=gap.starts_at,
        ends_at=gap.ends_at,
    )


def _undone(site: Site, trace: SurfaceTrace, place: str, one: Undone) -> CalendarEntry:
    return CalendarEntry(
        uid=uid(site.name, "undone", one.task_id),
        title=shorten(f"NOT PLANNED: {one.duty}", TITLE_SIGNS),
        text=f"{one.label}: {one.duty}, due {one.due}\nWhy: {one.words}\n{_PLANNED}",
        place=place,
        categories=("undone", trace.zone_id),
        starts_at=one.due_at,
        ends_at=one.due_at,
    )


def _title(word: str, trace: SurfaceTrace) -> str:
    room = TITLE_SIGNS - len(word) - 1
    return f"{word} {shorten_label(one_line(trace.label), trace.part, room)}"
