"""The wet bulb: what a cover's face comes to without sun, sky and concrete.

The clocks do not need it; packages and tables give it, so it checks their balance.
"""

import numpy as np

from models.drying.air import (
    PSYCHROMETER_1_K,
    buck_with_slope,
    vapour_pressure_kpa,
)
from models.drying.ranges import Floats, Numbers

SEA_LEVEL_KPA = 101.325


def wet_bulb_c(
    air_temperature_c: Numbers,
    humidity_fraction: Numbers,
    pressure_kpa: Numbers = SEA_LEVEL_KPA,
) -> Floats:
    r"""Temperature of a wet, ventilated, shaded thermometer.

    Parameters
    ----------
    air_temperature_c : float or array
        Air temperature, from -40 to 80. [°C]
    humidity_fraction : float or array
        Relative humidity over water, 0 to 1. [-]
    pressure_kpa : float or array
        Air pressure. [kPa]

    Returns
    -------
    array
        Wet-bulb temperature. [°C]

    Raises
    ------
    OutOfRangeError
        If temperature or humidity lies outside its range.

    Notes
    -----
    Root of :math:`e_s(T_w) - e_a = \gamma\,p\,(T - T_w)` with the psychrometer
    constant :math:`\gamma` of ``PSYCHROMETER_1_K``. The left side less the right
    rises and is convex, so Newton's steps from the air temperature fall to the root.
    """
    vapour_kpa = vapour_pressure_kpa(air_temperature_c, humidity_fraction)
    air_c = np.asarray(air_temperature_c, dtype=np.float64)
    gamma_kpa_k = PSYCHROMETER_1_K * np.asarray(pressure_kpa)
    wet_c = np.broadcast_to(air_c, vapour_kpa.shape)
    for _ in range(10):
        wet_kpa, slope_kpa_k = buck_with_slope(wet_c)
        excess_kpa = wet_kpa - vapour_kpa - gamma_kpa_k * (air_c - wet_c)
        wet_c = wet_c - excess_kpa / (slope_kpa_k + gamma_kpa_k)
    return np.asarray(wet_c)
