"""How fast covers were found to dry, as factors on their loss, step by step."""

from collections.abc import Sequence
from datetime import timedelta

import numpy as np

from models.records import Floats, Grid, Surface


def factors_by_step(surfaces: Sequence[Surface], grid: Grid) -> Floats:
    """Lay out the factors on the loss of covers.

    Returns
    -------
    array (steps, surfaces), or (1, 1) where nothing was found
        1 where nothing is known; each counts from the first step that begins at its
        start or after it, and a later one in place of an earlier. [-]
    """
    if not any(surface.loss_factors for surface in surfaces):
        return np.ones((1, 1))
    step = timedelta(minutes=grid.step_min)
    factors = np.ones((grid.steps, len(surfaces)))
    for column, surface in enumerate(surfaces):
        for one in surface.loss_factors:
            first = max(0, -int((grid.starts_at - one.starts_at) // step))
            until = (
                grid.steps
                if one.ends_at is None
                else max(0, -int((grid.starts_at - one.ends_at) // step))
            )
            factors[first:until, column] = one.factor
    return factors
