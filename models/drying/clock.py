"""The drying clock: what each bare surface and each cover loses, step by step.

The bridge from records to the formulas. Rates are those of a wet cover; how much water
is left depends on the visits, which this clock does not know.
"""

from collections.abc import Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from models.drying.bleed import bleed_rate_kg_m2_h, fog_needed
from models.drying.blocks import row_blocks
from models.drying.cover import cover_loss_kg_m2_h
from models.drying.cover_stages import covers_by_step
from models.drying.evaporation import menzel_rate_kg_m2_h
from models.drying.film import vapour_resistance_m2h_kpa_kg
from models.drying.found_loss import factors_by_step
from models.drying.surroundings import Surroundings
from models.records import (
    DryingHistory,
    Flags,
    Floats,
    Grid,
    HydrationHistory,
    SiteInput,
    Surface,
)

_DECIMALS = 6  # one value for all who add them up: the solver and the audit


def run(
    surfaces: Sequence[Surface],
    site_input: SiteInput,
    around: Surroundings,
    hydration: HydrationHistory,
    evaporation_fraction: float = 1.0,
) -> DryingHistory:
    """Drive the drying formulas with the surface temperatures of the first clock.

    Before placing all rates are 0. Fog is needed on bare concrete only: from the time
    a surface is exposed until it is reported covered, if it is. Another
    ``evaporation_fraction`` than 1 is for those who ask how far the formulas may be
    off.
    """
    covers = covers_by_step(surfaces, hydration.grid)
    factors = factors_by_step(surfaces, hydration.grid)
    fogging = _Fogging(surfaces, site_input, hydration)

    shape = hydration.surface_temperature_c.shape
    fresh, loss = np.empty(shape), np.empty(shape)
    fog: Flags = np.empty(shape, dtype=np.bool_)
    for rows in row_blocks(shape):
        lying = covers.rows(rows)
        concrete_c = hydration.surface_temperature_c[rows]
        placed = ~np.isnan(concrete_c)
        air_c = around.air_temperature_c[rows]
        air = air_c, around.humidity_fraction[rows], around.wind_m_s[rows]
        surface_c = np.where(placed, concrete_c, air_c)
        bare = np.where(placed, menzel_rate_kg_m2_h(surface_c, *air), 0.0)
        bare *= evaporation_fraction
        covered = cover_loss_kg_m2_h(
            surface_c,
            *air,
            around.solar_w_m2[rows],
            around.sky_temperature_c[rows],
            lying.resistance_m2k_w,
            lying.absorptivity_fraction,
            lying.emissivity_fraction,
            vapour_resistance_m2h_kpa_kg(
                lying.film_kg_m2_h_kpa, lying.leak_kg_m2_h_kpa, around.wind_m_s[rows]
            ),
            around.air_pressure_kpa,
        )
        covered *= evaporation_fraction
        covered += lying.leak_mm_d / 24
        covered *= lying.loss_factor
        covered *= factors if len(factors) == 1 else factors[rows]
        covered -= around.rain_l_m2_h[rows] * lying.takes_rain
        fresh[rows] = _rounded(bare)
        loss[rows] = _rounded(np.where(placed, covered, 0.0))
        fog[rows] = placed & fogging.needed(rows, bare)
    return DryingHistory(
        grid=hydration.grid,
        surface_ids=hydration.surface_ids,
        fresh_rate_kg_m2_h=fresh,
        cover_loss_l_m2_h=loss,
        held_l_m2=np.asarray([s.held_l_m2 for s in surfaces], dtype=np.float64),
        held_steps_l_m2=np.broadcast_to(covers.held_l_m2, shape),
        fog_needed=fog,
    )


class _Fogging:
    """When surfaces need fog, from the instants between which they are bare."""

    def __init__(
        self,
        surfaces: Sequence[Surface],
        site_input: SiteInput,
        hydration: HydrationHistory,
    ) -> None:
        grid = self.grid = hydration.grid
        takes_cover = {e.surface_id: e.takes_cover for e in hydration.events}
        self.begun_h = _hours([s.placing_ends_at for s in surfaces], grid)
        self.set_h = _hours([takes_cover[s.id].expected_at for s in surfaces], grid)
        self.exposed = np.asarray([[grid.step(s.exposed_at) for s in surfaces]])
        self.covered = np.asarray(
            [
                [
                    grid.step(s.covered_at) if s.covered_at else grid.steps
                    for s in surfaces
                ]
            ]
        )
        low_bleed_mixes = {m.id for m in site_input.site.mixes if m.low_bleed}
        self.low_bleed = np.asarray([[s.mix_id in low_bleed_mixes for s in surfaces]])
        self.fog_from_kg_m2_h = site_input.site.rules.fog_from_kg_m2_h

    def needed(self, rows: slice, rate_kg_m2_h: Floats) -> Flags:
        """Whether the rates of some steps ask for fog while the surface is bare."""
        step = np.arange(rows.start, rows.stop)[:, None]
        age = self._age_fraction(step)
        asked = fog_needed(
            rate_kg_m2_h,
            bleed_rate_kg_m2_h(age, self.low_bleed),
            self.fog_from_kg_m2_h,
            self.low_bleed,
            age < 1,
        )
        return np.asarray((step >= self.exposed) & (step < self.covered) & asked)

    def _age_fraction(self, step: NDArray[np.int64]) -> Floats:
        """Age in the middle of a step over the age at which a cover leaves no mark.

        That event stands for setting: bleeding has ended by then (FHWA-RD-02-099,
        ch. 3, read: final curing begins at about initial set).
        """
        hours = (step + 0.5) * self.grid.step_min / 60
        least_h = self.grid.step_min / 60  # a cover that may go on at once
        age = (hours - self.begun_h) / np.maximum(self.set_h - self.begun_h, least_h)
        return np.asarray(age)


def _hours(instants: Sequence[datetime], grid: Grid) -> Floats:
    return _row([(at - grid.starts_at).total_seconds() / 3600 for at in instants])


def _row(values: Sequence[float]) -> Floats:
    return np.asarray([values], dtype=np.float64)


def _rounded(values: Floats) -> Floats:
    """Round; adding 0 turns -0.0 into 0.0, which would print differently."""
    return np.asarray(np.round(values, _DECIMALS) + 0.0)
