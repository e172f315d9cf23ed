"""When a method lets the concrete leave the temperatures of its rule.

Too cold, frozen too young, much warmer inside than at its face: as the audit finds it.
"""

from dataclasses import replace
from math import ceil

from models.local_clock import WeekClock
from models.records import Finding, Surface, SurfaceWork
from scheduler.audit.checks.temperature import check_temperature
from scheduler.clocked import Clocked


def off_limits(
    clocked: Clocked, surface: Surface, work: SurfaceWork
) -> tuple[Finding, ...]:
    """Give each stretch of one of the clocked surfaces outside a limit."""
    hydration, site_input = clocked.hydration, clocked.site_input
    column = hydration.surface_ids.index(surface.id)
    own = slice(column, column + 1)
    alone = replace(
        hydration,
        surface_ids=(surface.id,),
        events=hydration.events[own],
        surface_temperature_c=hydration.surface_temperature_c[:, own],
        core_temperature_c=hydration.core_temperature_c[:, own],
        strength_fraction=hydration.strength_fraction[:, own],
    )
    air_c = clocked.around.air_temperature_c
    air_c = air_c if air_c.shape[1] == 1 else air_c[:, own]
    clock = WeekClock(site_input.site.timezone, site_input.horizon)
    found = check_temperature(site_input, [surface], [work], alone, air_c, (), clock)
    return tuple(found)


def hours(findings: tuple[Finding, ...]) -> int:
    """Count the hours of all stretches, each limit by itself."""
    lengths = (finding.ends_at - finding.starts_at for finding in findings)
    return ceil(sum(length.total_seconds() for length in lengths) / 3600)
