"""Says so where a roster was planned on the dry side of the forecast."""

from exports.wall_clock import duration
from models.records import AuditReport, Roster

#: For the few words beside the weather of a shift.
BRIEFLY = "Planned on the dry side of it"


def side_words(roster: Roster, report: AuditReport) -> str:
    """Say which weather was planned on; empty for the forecast itself."""
    if roster.forecast_side == "expected":
        return ""
    words = "Planned on the dry side of the forecast: warmer, windier, no rain."
    if report.forecast_dry_min is None:
        return words
    dry = report.forecast_dry_min
    outcome = f"dry for {duration(dry)}" if dry else "never dry"
    return f"{words} If the weather comes as forecast: {outcome}."
