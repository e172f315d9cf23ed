"""Covers with little water left: the week simulated again for the water above a share.

That water is a cover of its own, which holds less: when it is dry, the true cover has
the share left, or less. The share is rounded to a whole millionth of a litre per m².
"""

import numpy as np

from models.records import Flags, Site
from scheduler.audit.replayed.gaps import weight_by_minute
from scheduler.audit.replayed.loss import DRY_UNITS
from scheduler.audit.replayed.simulation import Simulation, reserve_by_minute


def low_water(simulation: Simulation, site: Site) -> Flags:
    """Minutes of each surface (minutes, surfaces) in which its cover has little left.

    None where such a minute has no price.
    """
    share, length = site.rules.rewet_at_reserve_fraction, len(simulation.dry)
    if share == 0 or site.costs.low_water_factor == 0:
        return np.zeros(simulation.dry.shape, bool)
    held = simulation.held_units
    little = np.rint(share * held / DRY_UNITS).astype(np.int64) * DRY_UNITS
    wetted = np.zeros((length + 1, len(held)), bool)
    for column, minutes in enumerate(simulation.wettings):
        wetted[list(minutes), column] = True
    reserve = reserve_by_minute(
        np.maximum(0, simulation.reserve_units[0] - little),
        held - little,
        simulation.loss_units,
        wetted,
        simulation.covered_from,
    )
    minute = np.arange(length)[:, None]
    counts = (minute >= simulation.covered_from) & (minute < simulation.sealed_from)
    counts &= minute < simulation.counted_until
    low = counts & (held > 0) & (reserve[:-1] <= DRY_UNITS)
    return low & ~simulation.guarded


def low_water_cost(low: Flags, simulation: Simulation, site: Site) -> float:
    """Price of minutes with little water left, as :func:`low_water` gives them."""
    factor = site.costs.low_water_factor
    return sum(
        factor * float(weight_by_minute(work.weights, len(low))[low[:, column]].sum())
        for column, work in enumerate(simulation.works)
    )
