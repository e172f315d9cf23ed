"""Everything that other programs and spreadsheets read, as files by name."""

from exports.handed import Handed
from exports.notices import PLANNING_AID_IN_FULL
from exports.tables.changes import changes_table
from exports.tables.csv_file import csv_file
from exports.tables.findings import findings_table
from exports.tables.hours import hours_table
from exports.tables.visits import visits_table
from exports.tables.water import water_table
from exports.tables.xlsx_file import xlsx_file
from models.local_clock import LocalClock
from models.records import AuditReport, Roster, Site


def table_files(
    site: Site, roster: Roster, report: AuditReport, handed: Handed
) -> dict[str, bytes]:
    """Make the tables; the same roster gives the same bytes.

    Returns
    -------
    dict
        ``roster.json`` with its ``schema_id``, and in ``tables/`` visits, findings,
        water, hours and, of an issue after the first, changes as CSV and all of them as
        one workbook, ``roster.xlsx``.
    """
    tables = (
        visits_table(site, roster, report, handed),
        findings_table(site, roster, report),
        water_table(site, report),
        hours_table(site, report),
        *((changes_table(site, roster, handed.changes),) if handed.changes else ()),
    )
    book = xlsx_file(_about(site, roster, handed), tables, handed.at)
    return {
        "roster.json": roster.model_dump_json(indent=1).encode(),
        **{f"tables/{table.name}.csv": csv_file(table) for table in tables},
        "tables/roster.xlsx": book,
    }


def _about(site: Site, roster: Roster, handed: Handed) -> tuple[tuple[str, str], ...]:
    clock = LocalClock(site.timezone)
    horizon = roster.horizon
    return (
        ("Site", site.name),
        ("Issue", handed.words(clock)),
        ("Plan", clock.span(horizon.starts_at, horizon.ends_at)),
        ("Time zone", site.timezone),
        ("Note", PLANNING_AID_IN_FULL),
    )
