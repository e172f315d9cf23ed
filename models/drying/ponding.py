"""A pond on a slab: evaporation and leaks lower it.

A millimetre of depth is a litre a square metre, so :mod:`models.drying.reserve` tells
how long a pond lasts, with its depth as what is held.
"""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range


def pond_loss_mm_h(evaporation_kg_m2_h: Numbers, leak_mm_d: Numbers) -> Floats:
    """Rate at which a pond falls.

    Parameters
    ----------
    evaporation_kg_m2_h : float or array
        Evaporation of open water, 0 to 20. [kg/(m² h)]
    leak_mm_d : float or array
        Through bunds, joints and cracks, 0 to 100; an assumption of the site's until
        its first night tells. [mm/d]

    Returns
    -------
    array
        Fall of the water level. [mm/h]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.
    """
    evaporation = in_range(
        "evaporation_kg_m2_h", evaporation_kg_m2_h, 0, 20, "kg/(m² h)", "ponding"
    )
    leak = in_range("leak_mm_d", leak_mm_d, 0, 100, "mm/d", "ponding")
    return np.asarray(evaporation + leak / 24)
