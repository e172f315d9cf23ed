"""The sky as what a surface radiates to: how cold it is under how much cloud."""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range

_ABSOLUTE_ZERO_C = -273.15


def sky_temperature_c(
    air_temperature_c: Numbers, dew_point_c: Numbers, cloud_fraction: Numbers
) -> Floats:
    r"""Temperature of a black sky that radiates as the real one does.

    Parameters
    ----------
    air_temperature_c : float or array
        Air temperature near the ground, from -40 to 80. [°C]
    dew_point_c : float or array
        Dew point near the ground, from -100 to 80. [°C]
    cloud_fraction : float or array
        Share of the sky under opaque cloud, 0 to 1. [-]

    Returns
    -------
    array
        Effective sky temperature. [°C]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    Clark and Allen (1978) with the cloud factor of Walton (1983), as written in the
    EnergyPlus Engineering Reference (read), *N* in tenths:

    .. math:: \varepsilon = (0.787 + 0.764 \ln(T_d/273))
              (1 + 0.0224 N - 0.0035 N^2 + 0.00028 N^3), \quad
              T_{sky} = \varepsilon^{1/4} T_a

    An emissivity above 1, which the fit gives for hot moist overcast air, counts as 1.
    """
    source = "the sky emissivity of Clark and Allen (1978)"
    air_k = _kelvin(
        in_range("air_temperature_c", air_temperature_c, -40, 80, "°C", source)
    )
    dew_k = _kelvin(in_range("dew_point_c", dew_point_c, -100, 80, "°C", source))
    tenths = 10 * in_range("cloud_fraction", cloud_fraction, 0, 1, "", source)
    clear = 0.787 + 0.764 * np.log(dew_k / 273)
    cloud = 1 + 0.0224 * tenths - 0.0035 * tenths**2 + 0.00028 * tenths**3
    emissivity = np.minimum(clear * cloud, 1)
    return np.asarray(emissivity**0.25 * air_k + _ABSOLUTE_ZERO_C)


def _kelvin(temperature_c: Floats) -> Floats:
    return np.asarray(temperature_c - _ABSOLUTE_ZERO_C)
