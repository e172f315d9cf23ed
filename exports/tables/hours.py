"""Hours of every gang by week, as a table: what it works and what it is paid for."""

from exports.tables.table import Cell, Column, Table
from models.records import AuditReport, Site, WeekHours


def hours_table(site: Site, report: AuditReport) -> Table:
    """List a row a gang and week, as the audit counted them."""
    names = {crew.id: crew.name for crew in site.crews}

    def row(week: WeekHours) -> tuple[Cell, ...]:
        return (
            f"{week.starts_on:%Y-%m-%d}",
            names[week.crew_id],
            week.people,
            _hours(week.shift_min),
            _hours(week.overtime_min),
            week.call_outs,
            _hours(week.call_out_min),
            _hours(week.worked_min),
            _hours(week.paid_min),
        )

    return Table(
        name="hours",
        columns=(
            Column("Week from"),
            Column("Gang"),
            Column("People", "number"),
            Column("Shifts less breaks [h]", "number"),
            Column("Overtime [h]", "number"),
            Column("Call-outs", "number"),
            Column("Call-outs [h]", "number"),
            Column("Worked [h]", "number"),
            Column("Paid [h]", "number"),
        ),
        rows=tuple(row(week) for week in report.week_hours),
    )


def _hours(minutes: int) -> float:
    return round(minutes / 60, 2)
