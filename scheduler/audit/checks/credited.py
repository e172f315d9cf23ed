"""What dry time takes off the curing period: it does not count, so curing ends later.

Findings for people to look at, no promises of the roster: its week was planned for
surfaces that are kept damp.
"""

from collections.abc import Sequence

import numpy as np

from models.hydration.course import step_from
from models.hydration.events import initial_set_h
from models.local_clock import WeekClock
from models.profiles.period import curing_end
from models.quantities import duration
from models.records import Finding, Flags, HydrationHistory, SiteInput, Surface
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.simulation import Simulation


def check_credited(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    simulation: Simulation,
    hydration: HydrationHistory,
    clock: WeekClock,
) -> list[Finding]:
    """Find surfaces whose dry minutes put off the end of their curing."""
    grid, horizon = hydration.grid, clock.horizon
    mixes = {mix.id: mix for mix in site_input.site.mixes}
    findings = []
    for column, surface in enumerate(surfaces):
        planned = hydration.events[column].curing_ends
        dry = simulation.dry[:, column]
        if planned is None or not dry.any():
            continue
        profile = site_input.profiles[surface.profile_id]
        end = curing_end(
            profile,
            mixes[surface.mix_id],
            surface,
            step_min=grid.step_min,
            placed_step=step_from(grid, surface.placing_ends_at),
            initial_set_h=initial_set_h(surface, hydration.events[column].initial_set),
            surface_temperature_c=hydration.surface_temperature_c[:, column],
            strength_fraction=hydration.strength_fraction[:, column],
            credited=_damp(dry, hydration, clock),
        )
        given_min = horizon.minute(planned.expected_at)
        last_min = horizon.minute(grid.at(grid.steps if end.step is None else end.step))
        if last_min <= given_min and end.step is not None:
            continue
        then = "" if end.step is not None else "not before "
        dry_min = int(dry.sum())
        words = (
            f"{surface.label}: {duration(dry_min)} dry does not count as curing; by "
            f"{profile.title} it ends {then}{clock.words(last_min)}, not "
            f"{clock.words(given_min)}"
        )
        findings.append(
            found(
                clock, "uncredited", words, given_min, last_min,
                surface_id=surface.id, minutes=dry_min,
            )
        )  # fmt: skip
    return findings


def _damp(dry: Flags, hydration: HydrationHistory, clock: WeekClock) -> Flags:
    """Tell the steps of the clock without a dry minute in them."""
    grid = hydration.grid
    minutes = clock.horizon.minute(grid.starts_at)
    steps = (np.flatnonzero(dry) - minutes) // grid.step_min
    damp = np.ones(grid.steps, bool)
    damp[steps[(steps >= 0) & (steps < grid.steps)]] = False
    return damp
