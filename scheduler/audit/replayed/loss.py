"""What every cover loses, worked out again from weather, concrete and cover.

The formulas are the model's, each with its own reference tests; the sums over the week
are the audit's. Rates are rounded to a millionth of a litre per m² and hour, as all
parts of the planner agree, so that the reserve can be counted in whole units.

Notes
-----
How long a bare fresh surface bears the air before it dries (bleed against evaporation,
:attr:`SurfaceWork.fresh`) is taken from the work as given: it hangs on the bleeding of
the mix, a model of its own that has nothing to do with the roster.
"""

from collections.abc import Callable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from models.drying.cover import cover_loss_kg_m2_h
from models.drying.film import (
    seam_leak_kg_m2_h_kpa,
    seams_m_m2,
    vapour_resistance_m2h_kpa_kg,
)
from models.drying.surroundings import Surroundings
from models.records import (
    CoverProperties,
    Floats,
    Grid,
    Horizon,
    HydrationHistory,
    Surface,
)
from scheduler.audit.replayed.stages import by_step, found_by_step

Units = NDArray[np.int64]

#: Whole units in a litre per m²: millionths per hour, counted by the minute.
UNITS_PER_L_M2 = 60_000_000
#: A cover with this much or less is dry: a millionth of a litre per m².
DRY_UNITS = 60


def cover_loss_l_m2_h(
    surfaces: Sequence[Surface], around: Surroundings, hydration: HydrationHistory
) -> Floats:
    """Net loss of each surface's cover while wet, by grid step.

    The reserve of a surface is the share that its cover in place holds of what it can,
    counted in litres of the first of its covers that holds water; so is the loss. A
    cover that holds no water loses none of it.

    There is none in steps that begin before the concrete is there.
    """
    shape = (hydration.grid.steps, len(surfaces))
    air_c = np.broadcast_to(around.air_temperature_c, shape)
    concrete_c = hydration.surface_temperature_c
    placed = ~np.isnan(concrete_c)

    def figures(of: Callable[[CoverProperties], float]) -> Floats:
        return by_step(surfaces, hydration.grid, of)

    loss = cover_loss_kg_m2_h(
        np.where(placed, concrete_c, air_c),
        around.air_temperature_c,
        around.humidity_fraction,
        around.wind_m_s,
        around.solar_w_m2,
        around.sky_temperature_c,
        figures(lambda cover: cover.resistance_m2k_w),
        figures(lambda cover: cover.absorptivity_fraction),
        figures(lambda cover: cover.emissivity_fraction),
        _to_vapour(surfaces, around, hydration.grid),
        around.air_pressure_kpa,
    )
    leak = figures(lambda cover: cover.leak_mm_d) / 24
    rain = around.rain_l_m2_h * figures(lambda cover: float(cover.takes_rain))
    factor = figures(lambda cover: cover.loss_factor)
    factor *= found_by_step(surfaces, hydration.grid)
    net = np.where(placed, np.round(factor * (loss + leak) - rain, 6), 0.0)
    held = figures(lambda cover: cover.held_l_m2)
    counted = np.array([surface.held_l_m2 for surface in surfaces])
    ratio = np.where(held > 0, counted / np.where(held > 0, held, 1.0), 0.0)
    return np.asarray(np.round(net * ratio, 6))


def _to_vapour(surfaces: Sequence[Surface], around: Surroundings, grid: Grid) -> Floats:
    """Resistance to vapour of each surface's cover: its film, its edges and laps."""
    film = by_step(
        surfaces,
        grid,
        lambda cover: (
            np.inf if cover.film_kg_m2_h_kpa is None else cover.film_kg_m2_h_kpa
        ),
    )
    seams = np.array([seams_m_m2(surface.area_m2) for surface in surfaces])
    lost = by_step(surfaces, grid, lambda cover: cover.seam_loss_l_m_d)
    leak = seam_leak_kg_m2_h_kpa(lost, seams)
    return vapour_resistance_m2h_kpa_kg(film, leak, around.wind_m_s)


def by_minute(loss_l_m2_h: Floats, grid: Grid, horizon: Horizon) -> Units:
    """Loss of each minute of the horizon, in whole units per m².

    Where the weather ends before the horizon, its last step goes on.
    """
    minutes = np.arange(horizon.length_min)
    offset = horizon.minute(grid.starts_at)
    step = np.clip((minutes - offset) // grid.step_min, 0, grid.steps - 1)
    return np.rint(loss_l_m2_h * 1e6).astype(np.int64)[step]


def reserve_at_start(
    surface: Surface, loss_l_m2_h: Floats, grid: Grid, horizon: Horizon
) -> int:
    """Whole units left at minute 0 in a cover that was wetted before it.

    It was full when last wetted, or when laid if nobody wetted it since.

    Parameters
    ----------
    loss_l_m2_h : array (steps,)
        Of this surface. [L/(m² h)]
    """
    reserves = [*reserves_before(surface, loss_l_m2_h, grid, horizon)]
    return reserves[-1][1] if reserves else 0


def reserves_before(
    surface: Surface, loss_l_m2_h: Floats, grid: Grid, horizon: Horizon
) -> Iterator[tuple[int, int]]:
    """Yield minutes up to the first of the horizon, and whole units left at each.

    From the last wetting before the horizon on; nothing where there was none.
    """
    full = full_units(surface)
    wetted_at = surface.wetted_at or surface.covered_at
    if wetted_at is None or wetted_at > horizon.starts_at:
        return
    loss = np.rint(loss_l_m2_h * 1e6).astype(np.int64)
    reserve = full
    for minute in range(horizon.minute(wetted_at), 0):
        yield minute, reserve
        step = grid.step(horizon.at(minute))
        lost = int(loss[min(max(step, 0), grid.steps - 1)])
        reserve = min(full, max(0, reserve - lost))
    yield 0, reserve


def full_units(surface: Surface) -> int:
    """Whole units a full cover holds."""
    return round(surface.held_l_m2 * UNITS_PER_L_M2)
