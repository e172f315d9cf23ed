"""The water ledger: a row an hour and water point."""

from exports.tables.table import Cell, Column, Table, header, number, offset_words
from models.local_clock import LocalClock
from models.records import AuditReport, Site, WaterHour


def water_table(site: Site, report: AuditReport) -> Table:
    """List what curing draws hour by hour, point after point."""
    names = {point.id: point.name for point in site.water_points}
    clock, units = LocalClock(site.timezone), site.units

    def row(point_id: str, hour: WaterHour) -> tuple[Cell, ...]:
        return (
            names[point_id],
            clock.local(hour.at),
            offset_words(clock.local(hour.at)),
            hour.at,
            number(hour.drawn_l, "volume", units),
            number(hour.peak_flow_l_min, "flow", units),
            number(hour.level_l, "volume", units),
            number(hour.allotment_left_l, "volume", units),
        )

    return Table(
        name="water",
        columns=(
            Column("Water point"),
            Column("Hour from (local)", "local"),
            Column("UTC offset"),
            Column("Hour from (UTC)", "utc"),
            Column(header("Drawn for curing", "volume", units), "number"),
            Column(header("Peak flow", "flow", units), "number"),
            Column(header("Tank level at its end", "volume", units), "number"),
            Column(header("Allotment left that day", "volume", units), "number"),
        ),
        rows=tuple(
            row(trace.water_point_id, hour)
            for trace in report.water
            for hour in trace.hours
        ),
    )
