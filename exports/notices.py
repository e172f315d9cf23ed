"""What stands on all that is handed out: caution, mark of the roster, its forecast."""

from hashlib import sha256

from models.quantities import duration
from models.records import AuditReport, Roster

PLANNING_AID = (
    "Planning aid. The specification, the engineer, local codes and competent or "
    "licensed people come first."
)
NEVER_SAFE = "It never says that concrete is safe to load, strike or open."
PLANNING_AID_IN_FULL = f"{PLANNING_AID} {NEVER_SAFE}"

#: Length of the mark that tells two rosters of one week apart.
REVISION_SIGNS = 6
#: For the few words beside the weather of a shift.
BRIEFLY = "Planned for warmer, windier weather without rain"


def dry_gaps_words(count: int, dry_min: int) -> str:
    """``29 dry gaps, 1 d 18 h in all``."""
    if not count:
        return "no dry gaps"
    return f"{count} dry gap{'' if count == 1 else 's'}, {duration(dry_min)} in all"


def revision(roster: Roster) -> str:
    """Six hexadecimal signs of the roster's own bytes; the same roster has the same."""
    return sha256(roster.model_dump_json().encode()).hexdigest()[:REVISION_SIGNS]


def side_words(roster: Roster, report: AuditReport) -> str:
    """Say which weather was planned on; empty for the forecast itself."""
    if roster.forecast_side == "expected":
        return ""
    words = "Planned for warmer, windier weather than forecast, without rain."
    if report.forecast_dry_min is None:
        return words
    dry = report.forecast_dry_min
    outcome = f"dry for {duration(dry)}" if dry else "no dry gap"
    return f"{words} If the weather is as forecast: {outcome}."
