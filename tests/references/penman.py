"""Penman's open-water evaporation by pyet, with the wind function he gave it."""

import numpy as np
import pandas as pd
import pyet

from models.drying.ranges import Floats

#: Penman (1948), from memory: 0.35 (1 + u/100) mm/d per mmHg, wind at 2 m in miles a
#: day; so 2.62 (1 + 0.54 u) mm/d per kPa, u in m/s. pyet 1.5 defaults to 1 + 0.537 u
#: without the 2.62, which would leave out most of what dry air takes.
_PER_KPA = 0.35 / 0.133322
_PER_KPA_AND_M_S = _PER_KPA * 86400 / 1609.344 / 100


def penman_mm_d(
    day: pd.DataFrame, latitude_deg: float, elevation_m: float, albedo: float
) -> Floats:
    """Evaporation of each day.

    Parameters
    ----------
    day : DataFrame
        By date: ``tmean``, ``wind`` at 2 m, ``rs`` [MJ/m²] and what pyet takes to know
        the air's vapour by, ``rh`` or ``ea`` with ``tmax`` and ``tmin``.
    latitude_deg, elevation_m : float
        Of the place. [°, m]
    albedo : float
        Share of the sun that the wet surface sends back. [-]

    Returns
    -------
    array
        Evaporation. [mm/d]
    """
    found = pyet.penman(
        **{str(name): day[name] for name in day},
        lat=float(np.radians(latitude_deg)), elevation=elevation_m, albedo=albedo,
        aw=_PER_KPA, bw=_PER_KPA_AND_M_S,
    )  # fmt: skip
    return np.asarray(found, dtype=np.float64)
