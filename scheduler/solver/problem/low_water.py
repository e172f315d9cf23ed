"""Covers with little water left: the same clocks for a cover that holds less.

A roster that wets each cover in its last minute stands only if the forecast does. What
lies above a share of its water is counted as a cover of its own: when that is dry, the
true one has little left. The share is rounded to a whole millionth of a litre per m².
"""

from models.records import SurfaceWork, WeightStep, WorkList
from scheduler.solver.problem.minutes import (
    MICROLITRE,
    UNITS_PER_L,
    SurfaceMinutes,
    TableCache,
    surface_minutes,
    units,
)


def low_water_minutes(
    surface: SurfaceWork, work: WorkList, cache: TableCache
) -> SurfaceMinutes | None:
    """Clocks of the water above the share; None where it has no price."""
    share, factor = work.rewet_at_reserve_fraction, work.costs.low_water_factor
    curve = surface.curve
    if curve is None or share == 0 or factor == 0:
        return None
    full, start = units(curve.held_l_m2), units(surface.reserve_at_start_l_m2)
    little = MICROLITRE * round(share * full / MICROLITRE)
    upper = surface.model_copy(
        update={
            "curve": curve.model_copy(
                update={"held_l_m2": (full - little) / UNITS_PER_L}
            ),
            "reserve_at_start_l_m2": max(0, start - little) / UNITS_PER_L,
            "weights": tuple(_part(step, factor) for step in surface.weights),
            "fresh": (),
        }
    )
    return surface_minutes(upper, work.horizon.length_min, cache)


def _part(step: WeightStep, factor: float) -> WeightStep:
    return step.model_copy(update={"per_min": step.per_min * factor})
