"""What changed since the issue before, as a table: a row a visit."""

from exports.changes import COUNTED, crew_names
from exports.tables.table import Cell, Column, Table, offset_words
from exports.text import one_line
from models.local_clock import LocalClock
from models.records import ChangeList, Roster, Site, VisitChange


def changes_table(site: Site, roster: Roster, changes: ChangeList) -> Table:
    """List every visit of both issues, those kept too, in order of time."""
    clock, crews = LocalClock(site.timezone), crew_names(site)
    labels = {work.surface_id: one_line(work.label) for work in roster.surfaces}

    def row(change: VisitChange) -> tuple[Cell, ...]:
        was, now = change.was, change.now
        told = now or was
        return (
            COUNTED[change.kind],
            labels.get(change.surface_id, change.surface_id),
            told.what if told else None,
            crews.get(now.crew_id, now.crew_id) if now else None,
            crews.get(was.crew_id, was.crew_id) if was else None,
            clock.local(now.starts_at) if now else None,
            clock.local(was.starts_at) if was else None,
            offset_words(clock.local(told.starts_at)) if told else None,
            now.starts_at if now else None,
            was.starts_at if was else None,
            clock.local(now.start_by_at) if now else None,
            clock.local(was.start_by_at) if was else None,
            now.people if now else None,
            was.people if was else None,
            now.water if now else None,
            was.water if was else None,
            change.visit_id,
            change.identity_id,
        )

    return Table(
        name="changes",
        columns=(
            Column("Change"),
            Column("Surface"),
            Column("Work"),
            Column("Crew"),
            Column("Crew before"),
            Column("Start (local)", "local"),
            Column("Start before (local)", "local"),
            Column("UTC offset"),
            Column("Start (UTC)", "utc"),
            Column("Start before (UTC)", "utc"),
            Column("Start by (local)", "local"),
            Column("Start by before (local)", "local"),
            Column("People", "number"),
            Column("People before", "number"),
            Column("Water"),
            Column("Water before"),
            Column("Visit id"),
            Column("Identity"),
        ),
        rows=tuple(row(change) for change in changes.changes),
    )
