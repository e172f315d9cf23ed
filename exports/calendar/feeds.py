"""All calendars of a roster, as files by name."""

from collections.abc import Sequence

from exports.calendar.crew import crew_calendar
from exports.calendar.surface import surface_calendar
from exports.entry import Entry
from exports.handed import Handed
from exports.text import file_name
from models.records import AuditReport, Roster, Site


def calendars(
    site: Site,
    roster: Roster,
    report: AuditReport,
    entries: Sequence[Entry],
    handed: Handed,
) -> dict[str, bytes]:
    """Write ``crews/<crew or party>.ics`` and ``surfaces/<surface>.ics``."""
    crews = {
        f"crews/{file_name(crew.id)}.ics": crew_calendar(
            site, roster, entries, crew.id, handed
        )
        for crew in site.teams
        if not crew.by_default
    }
    surfaces = {
        f"surfaces/{file_name(trace.surface_id)}.ics": surface_calendar(
            site, roster, report, trace.surface_id, handed
        )
        for trace in report.surfaces
    }
    return crews | surfaces
