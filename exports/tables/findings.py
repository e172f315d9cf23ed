"""What the audit found, as a table: a row a finding."""

from exports.tables.table import Cell, Column, Table, offset_words
from models.local_clock import LocalClock
from models.records import VIOLATIONS, AuditReport, Finding, Roster, Site


def findings_table(site: Site, roster: Roster, report: AuditReport) -> Table:
    """List every finding, in order of time."""
    labels = {work.surface_id: work.label for work in roster.surfaces}
    crews = {crew.id: crew.name for crew in site.teams}
    points = {point.id: point.name for point in site.water_points}
    clock = LocalClock(site.timezone)

    def row(finding: Finding) -> tuple[Cell, ...]:
        return (
            clock.local(finding.starts_at),
            clock.local(finding.ends_at),
            offset_words(clock.local(finding.starts_at)),
            finding.starts_at,
            finding.ends_at,
            finding.kind.replace("_", " "),
            "yes" if finding.kind in VIOLATIONS else "no",
            labels.get(finding.surface_id or "", finding.surface_id),
            crews.get(finding.crew_id or "", finding.crew_id),
            points.get(finding.water_point_id or "", finding.water_point_id),
            finding.limit.replace("_", " ") if finding.limit else None,
            finding.minutes or None,
            finding.words,
        )

    return Table(
        name="findings",
        columns=(
            Column("From (local)", "local"),
            Column("To (local)", "local"),
            Column("UTC offset"),
            Column("From (UTC)", "utc"),
            Column("To (UTC)", "utc"),
            Column("Kind"),
            Column("Breaks a rule"),
            Column("Surface"),
            Column("Crew"),
            Column("Water point"),
            Column("Limit"),
            Column("Duration [min]", "number"),
            Column("Words"),
        ),
        rows=tuple(row(finding) for finding in report.findings),
    )
