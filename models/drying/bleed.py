"""Fresh concrete: evaporation against bleed water, and what that asks for.

Not the evaporation alone but whether it outruns the bleed water makes plastic concrete
crack (FHWA-HRT-05-038, ch. 5 and 6, read); mixes that bleed little need care earlier.
Formulas only; the site's own action level comes in as a number.
"""

import numpy as np

from models.drying.ranges import Flags, Floats, Numbers, in_range

#: Bleeding just after placing. Assumptions: ordinary mixes bleed some 1 to 3 kg/m² in
#: all, which a rate of 1 falling to nothing at a set of 4 to 5 h gives; mixes that
#: bleed little a quarter of it.
_FIRST_BLEED_KG_M2_H = 1.0
_FIRST_LOW_BLEED_KG_M2_H = 0.25
#: "0.5 is the limit for low-bleed mixes" where 1.0 is that of others (ACI 305R-10,
#: from memory; 0.25 to 0.75 reported): half of any level.
_LOW_BLEED_FACTOR = 0.5


def bleed_rate_kg_m2_h(age_fraction: Numbers, low_bleed: bool | Flags) -> Floats:
    """Water that rises to the surface of fresh concrete.

    Parameters
    ----------
    age_fraction : float or array
        Age since placing over the age at setting; below 0 and from 1 on nothing
        bleeds. [-]
    low_bleed : bool or array
        Whether the mix bleeds little. [-]

    Returns
    -------
    array
        Bleeding rate. [kg/(m² h)]

    Notes
    -----
    A straight line from the rate after placing to nothing at setting; form and figures
    are assumptions.
    """
    age = np.asarray(age_fraction, dtype=np.float64)
    first = np.where(low_bleed, _FIRST_LOW_BLEED_KG_M2_H, _FIRST_BLEED_KG_M2_H)
    return np.asarray(np.where((age >= 0) & (age < 1), first * (1 - age), 0.0))


def fog_needed(
    rate_kg_m2_h: Numbers,
    bleed_kg_m2_h: Numbers,
    fog_from_kg_m2_h: float,
    low_bleed: bool | Flags,
    plastic: bool | Flags,
) -> Flags:
    """Whether a bare surface needs fog by the site's own level.

    Parameters
    ----------
    rate_kg_m2_h : float or array
        Evaporation from the bare surface, 0 to 20. [kg/(m² h)]
    bleed_kg_m2_h : float or array
        Bleeding rate at that time, 0 to 20. [kg/(m² h)]
    fog_from_kg_m2_h : float
        Level from which the site fogs, 0.01 to 20. [kg/(m² h)]
    low_bleed : bool or array
        Whether the mix bleeds little. [-]
    plastic : bool or array
        Whether the concrete has not set yet. [-]

    Returns
    -------
    array of bool
        True where fog is needed. [-]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    The level counts half for mixes that bleed little, and likewise for any plastic
    concrete while it dries faster than it bleeds: then it is in the same state.
    """
    source = "the site's fogging level"
    rate = in_range("rate_kg_m2_h", rate_kg_m2_h, 0, 20, "kg/(m² h)", source)
    bleed = in_range("bleed_kg_m2_h", bleed_kg_m2_h, 0, 20, "kg/(m² h)", source)
    level = in_range(
        "fog_from_kg_m2_h", fog_from_kg_m2_h, 0.01, 20, "kg/(m² h)", source
    )
    early = np.logical_or(low_bleed, np.logical_and(plastic, rate > bleed))
    return np.asarray(rate >= np.where(early, _LOW_BLEED_FACTOR * level, level))
