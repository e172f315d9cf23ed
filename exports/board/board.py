"""The board as one HTML page: what is dangerous, gaps, a strip a surface, the limits.

Temperatures outside their limits stand first.
"""

from datetime import timedelta

from exports.axis import Axis, Mark
from exports.board.limits import HEIGHT as LIMIT_HEIGHT
from exports.board.limits import (
    LimitRow,
    cover_rows,
    crew_rows,
    heat_ban_rows,
    water_rows,
)
from exports.board.strip import HEIGHT, Strip, strip
from exports.breaches import (
    HEADING,
    Group,
    breached,
    groups,
    outside_words,
    surfaces_outside,
)
from exports.changes import CrewChanges, crew_changes, heading, summary
from exports.handed import Handed
from exports.html_page import lay_out
from exports.notices import (
    PLANNING_AID_IN_FULL,
    dry_gaps_words,
    revision,
    side_words,
)
from exports.undone import Undone, undone
from exports.why import why_lines
from models.local_clock import LocalClock
from models.quantities import duration
from models.records import (
    AuditReport,
    Finding,
    FindingKind,
    Gap,
    Record,
    Roster,
    Site,
)

#: What the audit found that no gap and no late visit tells.
_TOLD: tuple[FindingKind, ...] = ("late_change", "automatic_short", "uncredited")

#: Listed at once; the rest folds away, so that the strips are not pages below.
MOST_GAPS = 20


class GapLine(Record):
    """A gap in the list on top of the board."""

    surface_id: str
    label: str
    span: str
    length: str
    why: tuple[str, ...]


class Page(Record):
    """Everything the template lays out; it makes no words of its own for data."""

    title: str
    week: str
    revision: str
    issue: str
    draft: bool
    changes_heading: str = ""
    changes_summary: str = ""
    changes: tuple[CrewChanges, ...] = ()
    summary: str
    side: str
    aid: str
    length_min: int
    days: tuple[Mark, ...]
    nights: tuple[Mark, ...]
    breach_heading: str = HEADING
    breaches: tuple[Group, ...]
    more_breaches: tuple[Group, ...]
    gaps: tuple[GapLine, ...]
    most_gaps: int = MOST_GAPS
    undone: tuple[Undone, ...]
    warnings: tuple[str, ...]
    strips: tuple[Strip, ...]
    crews: tuple[LimitRow, ...]
    water: tuple[LimitRow, ...]
    covers: tuple[LimitRow, ...]
    strip_height: float
    limit_height: float


def page(
    site: Site,
    roster: Roster,
    report: AuditReport,
    warnings: tuple[Finding, ...],
    handed: Handed,
) -> Page:
    """Gather what the board shows.

    Parameters
    ----------
    site, roster, report
        A roster and the audit of it.
    warnings : tuple of Finding
        What planning noticed besides dryness: covers short, cold water.
    handed : Handed
        As which issue, or as a draft.
    """
    changes = handed.changes
    axis, clock = Axis(roster.horizon, site.timezone), LocalClock(site.timezone)
    zones = {zone.id: zone.name for zone in site.zones}
    works = {work.surface_id: work for work in roster.surfaces}
    labels = {trace.surface_id: trace.label for trace in report.surfaces}
    told = [finding for finding in report.findings if finding.kind in _TOLD]
    outside = breached(
        report.findings, labels, clock, site.units, roster.horizon.starts_at
    )
    gaps = sorted(roster.gaps, key=lambda gap: (-gap.minutes, gap.starts_at))
    return Page(
        title=site.name,
        week=f"{clock.day(roster.horizon.starts_at)} to "
        f"{clock.day(roster.horizon.ends_at - timedelta(minutes=1))}",
        revision=revision(roster),
        issue=handed.words(clock),
        draft=handed.number is None,
        changes_heading=heading(changes) if changes else "",
        changes_summary=f"{summary(changes)}." if changes else "",
        changes=crew_changes(site, changes) if changes else (),
        summary=_summary(roster, report),
        side=side_words(roster, report),
        aid=PLANNING_AID_IN_FULL,
        length_min=axis.length_min,
        days=axis.days(),
        nights=axis.nights(site.night_starts, site.night_ends),
        breaches=groups(outside[:MOST_GAPS]),
        more_breaches=groups(outside[MOST_GAPS:]),
        gaps=tuple(_gap_line(gap, labels, clock) for gap in gaps),
        undone=undone(roster),
        warnings=tuple(finding.words for finding in (*warnings, *told)),
        strips=tuple(
            strip(
                trace,
                works[trace.surface_id],
                report,
                [one for one in outside if one.surface_id == trace.surface_id],
                zones[trace.zone_id],
                axis,
                clock,
                site.units,
            )
            for trace in report.surfaces
        ),
        crews=(*heat_ban_rows(site, report, axis), *crew_rows(site, report, axis)),
        water=water_rows(site, report, axis),
        covers=cover_rows(report, axis, site.units),
        strip_height=HEIGHT,
        limit_height=LIMIT_HEIGHT,
    )


def render(made: Page) -> str:
    """Lay a page out as HTML that needs no network and no other file."""
    return lay_out("board/board.html.j2", page=made)


def _gap_line(gap: Gap, labels: dict[str, str], clock: LocalClock) -> GapLine:
    return GapLine(
        surface_id=gap.surface_id,
        label=labels[gap.surface_id],
        span=clock.span(gap.starts_at, gap.ends_at),
        length=duration(gap.minutes),
        why=why_lines(gap, clock),
    )


def _summary(roster: Roster, report: AuditReport) -> str:
    visits = len(roster.visits)
    gaps = dry_gaps_words(len(report.gaps), report.dry_min)
    outside = outside_words(surfaces_outside(report.findings))
    parts = (f"{len(report.surfaces)} surfaces, {visits} visits", outside, gaps)
    return f"{'; '.join(part for part in parts if part)}."
