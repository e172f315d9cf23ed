"""The drying clock: what each bare surface and each cover loses, step by step.

The bridge from records to the formulas. Rates are those of a wet cover; how much water
is left depends on the visits, which this clock does not know.
"""

from collections.abc import Sequence
from datetime import datetime

import numpy as np

from models.drying.bleed import Flags, bleed_rate_kg_m2_h, fog_needed
from models.drying.cover import cover_loss_kg_m2_h
from models.drying.cover_stages import covers_by_step
from models.drying.evaporation import menzel_rate_kg_m2_h
from models.drying.surroundings import Surroundings
from models.records import (
    DryingHistory,
    Floats,
    Grid,
    HydrationHistory,
    SiteInput,
    Surface,
    SurfaceEvents,
)

_DECIMALS = 6  # one value for all who add them up: the solver and the audit


def run(
    surfaces: Sequence[Surface],
    site_input: SiteInput,
    around: Surroundings,
    hydration: HydrationHistory,
) -> DryingHistory:
    """Drive the drying formulas with the surface temperatures of the first clock.

    Before placing all rates are 0. Fog is needed on bare concrete only: from the time
    a surface is exposed until it is reported covered, if it is.
    """
    placed = ~np.isnan(hydration.surface_temperature_c)
    surface_c = np.where(
        placed, hydration.surface_temperature_c, around.air_temperature_c
    )
    fresh = menzel_rate_kg_m2_h(
        surface_c,
        around.air_temperature_c,
        around.humidity_fraction,
        around.wind_m_s,
    )
    covers = covers_by_step(surfaces, hydration.grid)
    loss = cover_loss_kg_m2_h(
        surface_c,
        around.air_temperature_c,
        around.humidity_fraction,
        around.wind_m_s,
        around.solar_w_m2,
        around.sky_temperature_c,
        covers.resistance_m2k_w,
        covers.absorptivity_fraction,
        covers.emissivity_fraction,
        covers.evaporation_factor,
    )
    loss = loss + covers.leak_mm_d / 24
    credit = around.rain_l_m2_h * covers.takes_rain
    fresh = np.where(placed, fresh, 0.0)

    low_bleed_mixes = {m.id for m in site_input.site.mixes if m.low_bleed}
    low_bleed = np.asarray([[s.mix_id in low_bleed_mixes for s in surfaces]])
    events = {e.surface_id: e for e in hydration.events}
    age = _age_fraction(surfaces, events, hydration.grid)
    fog = _bare(surfaces, hydration.grid) & fog_needed(
        fresh,
        bleed_rate_kg_m2_h(age, low_bleed),
        site_input.site.rules.fog_from_kg_m2_h,
        low_bleed,
        age < 1,
    )
    return DryingHistory(
        grid=hydration.grid,
        surface_ids=hydration.surface_ids,
        fresh_rate_kg_m2_h=_rounded(fresh),
        cover_loss_l_m2_h=_rounded(np.where(placed, loss - credit, 0.0)),
        held_l_m2=np.asarray([s.held_l_m2 for s in surfaces], dtype=np.float64),
        held_steps_l_m2=covers.held_l_m2,
        fog_needed=fog & placed,
    )


def _age_fraction(
    surfaces: Sequence[Surface], events: dict[str, SurfaceEvents], grid: Grid
) -> Floats:
    """Age in the middle of each step over the age at which a cover leaves no mark.

    That event stands for setting: bleeding has ended by then (FHWA-RD-02-099, ch. 3,
    read: final curing begins at about initial set).
    """
    begun = _hours([s.placing_ends_at for s in surfaces], grid)
    set_at = _hours([events[s.id].takes_cover.expected_at for s in surfaces], grid)
    hours = ((np.arange(grid.steps) + 0.5) * grid.step_min / 60)[:, None]
    least_h = grid.step_min / 60  # a cover that may go on at once
    age: Floats = (hours - begun) / np.maximum(set_at - begun, least_h)
    return age


def _bare(surfaces: Sequence[Surface], grid: Grid) -> Flags:
    """Whether a surface is exposed in a step and not reported covered by then."""
    step = np.arange(grid.steps)[:, None]
    exposed = np.asarray([[grid.step(s.exposed_at) for s in surfaces]])
    covered = np.asarray(
        [[grid.step(s.covered_at) if s.covered_at else grid.steps for s in surfaces]]
    )
    bare: Flags = (step >= exposed) & (step < covered)
    return bare


def _hours(instants: Sequence[datetime], grid: Grid) -> Floats:
    return _row([(at - grid.starts_at).total_seconds() / 3600 for at in instants])


def _row(values: Sequence[float]) -> Floats:
    return np.asarray([values], dtype=np.float64)


def _rounded(values: Floats) -> Floats:
    """Round; adding 0 turns -0.0 into 0.0, which would print differently."""
    return np.asarray(np.round(values, _DECIMALS) + 0.0)
