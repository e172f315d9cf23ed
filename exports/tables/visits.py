"""The roster as a table: a row a visit."""

from typing import get_args

from exports.entries import entries
from exports.entry import Entry
from exports.handed import DRAFT, Handed
from exports.tables.table import Cell, Column, Table, header, number, offset_words
from models.local_clock import LocalClock
from models.records import TASK_KINDS, AuditReport, Condition, Roster, Site, Task


def visits_table(
    site: Site, roster: Roster, report: AuditReport, handed: Handed
) -> Table:
    """List every visit, in the roster's order."""
    tasks = {
        task.id: task
        for work in roster.surfaces
        for task in (*work.tasks, *((work.rewet,) if work.rewet else ()))
    }
    by_id = {visit.id: tasks[visit.task_id] for visit in roster.visits}
    clock = LocalClock(site.timezone)
    return Table(
        name="visits",
        columns=(
            Column("Start (local)", "local"),
            Column("End (local)", "local"),
            Column("UTC offset"),
            Column("Start (UTC)", "utc"),
            Column("End (UTC)", "utc"),
            Column("Crew"),
            Column("Shift"),
            Column("Surface"),
            Column("Zone"),
            Column("Kind"),
            Column("Work"),
            Column("People", "number"),
            Column("Duration [min]", "number"),
            Column("Water point"),
            Column(header("Water", "volume", site.units), "number"),
            Column(header("Flow", "flow", site.units), "number"),
            Column("Start by (local)", "local"),
            Column("Planned late"),
            Column("Dry at (local)", "local"),
            Column("State at start"),
            Column("Visit id"),
            Column("Issue"),
            *_to_fill_in(site),
        ),
        rows=tuple(
            _row(entry, by_id[entry.visit_id], site, clock, handed)
            for entry in entries(site, roster, report)
        ),
    )


def _row(
    entry: Entry, task: Task, site: Site, clock: LocalClock, handed: Handed
) -> tuple[Cell, ...]:
    water = task.water
    return (
        clock.local(entry.starts_at),
        clock.local(entry.ends_at),
        offset_words(clock.local(entry.starts_at)),
        entry.starts_at,
        entry.ends_at,
        entry.crew_name,
        entry.shift_id,
        entry.surface_label,
        entry.zone_words,
        TASK_KINDS[entry.kind].verb.lower(),
        entry.task_title,
        entry.people,
        entry.minutes,
        entry.water_point_name,
        number(water.litres_l if water else None, "volume", site.units),
        number(water.flow_l_min if water else None, "flow", site.units),
        clock.local(entry.start_by_at),
        "yes" if entry.late else "no",
        clock.local(entry.dry_by_at) if entry.dry_by_at else None,
        entry.state_words,
        entry.visit_id,
        handed.number or DRAFT,
        *(None for _ in _to_fill_in(site)),
    )


def _to_fill_in(site: Site) -> tuple[Column, ...]:
    """Give the columns that crews fill in; ``keepdamp log`` reads them back."""
    return (
        Column("Done", choices=("yes", "no")),
        Column("Found", choices=get_args(Condition)),
        Column("Time"),
        Column("Initials"),
        Column(header("Water used", "volume", site.units), "number"),
        Column("Remark"),
    )
