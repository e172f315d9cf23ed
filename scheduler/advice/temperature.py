"""When a method lets the concrete leave the temperatures of its rule.

Too cold, frozen too young, much warmer inside than at its face: as the audit finds it.
"""

from math import ceil

from models.local_clock import WeekClock
from models.records import Finding, Surface, SurfaceWork
from scheduler.audit.checks.temperature import concrete_outside
from scheduler.clocked import Clocked


def off_limits(
    clocked: Clocked, surface: Surface, work: SurfaceWork
) -> tuple[Finding, ...]:
    """Give each stretch of one of the clocked surfaces outside a limit.

    The words leave out the surface.
    """
    site_input = clocked.site_input
    return tuple(
        concrete_outside(
            site_input,
            surface,
            work,
            clocked.hydration,
            clocked.around.air_temperature_c,
            WeekClock(site_input.site.timezone, site_input.horizon),
        )
    )


def hours(findings: tuple[Finding, ...]) -> int:
    """Count the hours of all stretches, each limit by itself."""
    lengths = (finding.ends_at - finding.starts_at for finding in findings)
    return ceil(sum(length.total_seconds() for length in lengths) / 3600)
