"""Evaporation from a wet surface into moving air, after Menzel.

The estimate is good to about ±40 % (K. C. Hover, ACI SP-338, 2020; abstract read): the
lake equation under it comes from Lake Hefner. Show one significant decimal, promise
nothing.
"""

import numpy as np

from models.drying.air import saturation_vapour_pressure_kpa, vapour_pressure_kpa
from models.drying.ranges import Floats, Numbers, in_range

_KM_H_PER_M_S = 3.6


def menzel_transfer_kg_m2_h_kpa(wind_m_s: Numbers) -> Floats:
    """Evaporation per kPa between surface and air, Menzel's wind function.

    Parameters
    ----------
    wind_m_s : float or array
        Wind 0.5 m above the surface, 0 to 75. [m/s]

    Returns
    -------
    array
        Mass transfer coefficient. [kg/(m² h kPa)]

    Raises
    ------
    OutOfRangeError
        If the wind lies outside the range.
    """
    wind = in_range("wind_m_s", wind_m_s, 0, 75, "m/s", "Menzel's formula")
    return np.asarray(0.315 * (0.253 + 0.060 * _KM_H_PER_M_S * wind))


def menzel_rate_kg_m2_h(
    surface_temperature_c: Numbers,
    air_temperature_c: Numbers,
    humidity_fraction: Numbers,
    wind_m_s: Numbers,
) -> Floats:
    r"""Evaporation of free water from a surface of known temperature.

    Parameters
    ----------
    surface_temperature_c : float or array
        Temperature of the wet surface itself, from -40 to 80. [°C]
    air_temperature_c : float or array
        Air temperature, shaded, from -40 to 80. [°C]
    humidity_fraction : float or array
        Relative humidity of that air, 0 to 1. [-]
    wind_m_s : float or array
        Wind 0.5 m above the surface, 0 to 75. [m/s]

    Returns
    -------
    array
        Evaporation; 0 where the air is moister than the surface. [kg/(m² h)]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    The equation behind the nomograph of ACI 305R, in the SI form of Uno [1]_ (from
    memory), with :math:`V` in km/h and pressures in kPa:

    .. math:: W = 0.315\,(e_s(T_s) - r\,e_s(T_a))\,(0.253 + 0.060\,V)

    Its rounded coefficients read 1.1 % above an exact conversion of Menzel's own
    ``0.44 (e0 - ea)(0.253 + 0.096 V)`` lb/(ft² h), psi, mph. Negative values
    (condensation) are taken as 0: dew is not counted on. Bulk formulas for open water
    give about half as much (own comparison at 25 °C, 50 %, 4 m/s): Menzel is
    cautious beside those; Penman's wind function gives more than Menzel, by a third
    in calm air and a sixth in a gale (own comparison).

    References
    ----------
    .. [1] P. J. Uno, "Plastic shrinkage cracking and evaporation formulas", ACI
       Materials Journal 95-M34, 1998; after C. A. Menzel, 1954.
    """
    surface_kpa = saturation_vapour_pressure_kpa(surface_temperature_c)
    deficit_kpa = surface_kpa - vapour_pressure_kpa(
        air_temperature_c, humidity_fraction
    )
    return np.maximum(menzel_transfer_kg_m2_h_kpa(wind_m_s) * deficit_kpa, 0.0)
