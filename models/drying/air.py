"""Moist air, wind and sky: what surrounds a drying surface.

Formulas only: numbers or numpy arrays in, arrays of the broadcast shape out (of no
dimension for plain numbers). Humidity is a share, wind in m/s, pressure in kPa.
"""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range

#: Buck gives -40 to 50 °C. Up to 80 °C, for concrete that heats itself, the fit stays
#: within 0.05 % of IAPWS-97 (own comparison; tests/references holds it to that).
VALID_C = (-40.0, 80.0)
#: Psychrometer constant over pressure: specific heat of air 1.013 kJ/(kg K) over the
#: ratio of molar masses 0.622 and a latent heat of 2450 kJ/kg. [1/K]
PSYCHROMETER_1_K = 1.013 / (0.622 * 2450)


def saturation_vapour_pressure_kpa(air_temperature_c: Numbers) -> Floats:
    r"""Vapour pressure of saturated air over water, also below freezing.

    Parameters
    ----------
    air_temperature_c : float or array
        Temperature of air or of a wet surface, from -40 to 80. [°C]

    Returns
    -------
    array
        Saturation vapour pressure. [kPa]

    Raises
    ------
    OutOfRangeError
        If a temperature lies outside the range of the fit.

    Notes
    -----
    Buck's later form [1]_ (from memory; checked against three packages):

    .. math:: e_s(T) = 0.61121 \exp\frac{(18.678 - T/234.5)\,T}{257.14 + T}

    References
    ----------
    .. [1] A. L. Buck, "New equations for computing vapor pressure and enhancement
       factor", J. Appl. Meteorol. 20, 1981; constants of 1996.
    """
    low_c, high_c = VALID_C
    checked_c = in_range(
        "air_temperature_c", air_temperature_c, low_c, high_c, "°C", "Buck (1996)"
    )
    return buck_kpa(checked_c)


def buck_kpa(temperature_c: Floats) -> Floats:
    """Buck's form unchecked, for iterations that pass outside its range.

    Parameters
    ----------
    temperature_c : array
        Temperature above -257. [°C]

    Returns
    -------
    array
        Saturation vapour pressure. [kPa]
    """
    exponent = (18.678 - temperature_c / 234.5) * temperature_c
    return np.asarray(0.61121 * np.exp(exponent / (257.14 + temperature_c)))


def buck_with_slope(temperature_c: Floats) -> tuple[Floats, Floats]:
    """Buck's form unchecked and its derivative, for Newton's steps.

    Parameters
    ----------
    temperature_c : array
        Temperature above -257. [°C]

    Returns
    -------
    tuple of array
        Saturation vapour pressure [kPa] and its rise with temperature [kPa/K].
    """
    t, b = temperature_c, 257.14
    kpa = buck_kpa(t)
    slope_1_k = (18.678 * b - t * (2 * b + t) / 234.5) / np.square(b + t)
    return kpa, np.asarray(kpa * slope_1_k)


def vapour_pressure_kpa(
    air_temperature_c: Numbers, humidity_fraction: Numbers
) -> Floats:
    """Vapour pressure of air that is not saturated.

    Parameters
    ----------
    air_temperature_c : float or array
        Air temperature, from -40 to 80. [°C]
    humidity_fraction : float or array
        Relative humidity over water, 0 to 1. [-]

    Returns
    -------
    array
        Vapour pressure. [kPa]

    Raises
    ------
    OutOfRangeError
        If temperature or humidity lies outside its range.
    """
    humidity = in_range(
        "humidity_fraction", humidity_fraction, 0, 1, "", "relative humidity"
    )
    return np.asarray(humidity * saturation_vapour_pressure_kpa(air_temperature_c))


def dew_point_c(air_temperature_c: Numbers, humidity_fraction: Numbers) -> Floats:
    r"""Temperature at which the air's vapour would condense on water.

    Parameters
    ----------
    air_temperature_c : float or array
        Air temperature, from -40 to 80. [°C]
    humidity_fraction : float or array
        Relative humidity over water, 0.001 to 1; dry air has no dew point. [-]

    Returns
    -------
    array
        Dew point. [°C]

    Raises
    ------
    OutOfRangeError
        If temperature or humidity lies outside its range.

    Notes
    -----
    The exact inverse of Buck's form: with :math:`L = \ln(e/0.61121)` it is the smaller
    root of :math:`T^2/234.5 - (18.678 - L)\,T + 257.14\,L = 0`.
    """
    humidity = in_range(
        "humidity_fraction", humidity_fraction, 0.001, 1, "", "the dew point formula"
    )
    log = np.log(vapour_pressure_kpa(air_temperature_c, humidity) / 0.61121)
    half = (18.678 - log) * 234.5 / 2
    return np.asarray(half - np.sqrt(half**2 - 257.14 * 234.5 * log))


def air_pressure_kpa(elevation_m: Numbers) -> Floats:
    r"""Air pressure at a height above the sea, whatever the weather.

    Parameters
    ----------
    elevation_m : float or array
        Height above sea level, from -500 to 6000. [m]

    Returns
    -------
    array
        Air pressure. [kPa]

    Raises
    ------
    OutOfRangeError
        If the height lies outside the range.

    Notes
    -----
    FAO-56 [1]_, Eq. 7 (read as quoted elsewhere), for air of 20 °C at sea level:

    .. math:: P = 101.3 \left(\frac{293 - 0.0065\,z}{293}\right)^{5.26}

    References
    ----------
    .. [1] R. G. Allen et al., "Crop evapotranspiration", FAO Irrigation and Drainage
       Paper 56, FAO, Rome, 1998, ch. 3.
    """
    height_m = in_range("elevation_m", elevation_m, -500, 6000, "m", "FAO-56 Eq. 7")
    return np.asarray(101.3 * ((293 - 0.0065 * height_m) / 293) ** 5.26)


def latent_heat_j_kg(temperature_c: Numbers) -> Floats:
    """Heat that evaporating water takes.

    Parameters
    ----------
    temperature_c : float or array
        Temperature of the water, from -40 to 80. [°C]

    Returns
    -------
    array
        Latent heat of vaporisation. [J/kg]

    Raises
    ------
    OutOfRangeError
        If the temperature lies outside the range.

    Notes
    -----
    ``2.501e6 - 2361 T``, the linear form of Harrison (1963) that FAO-56 quotes (from
    memory); 0.2 % above IAPWS-97 at 80 °C.
    """
    low_c, high_c = VALID_C
    checked_c = in_range(
        "temperature_c", temperature_c, low_c, high_c, "°C", "Harrison (1963)"
    )
    return np.asarray(2.501e6 - 2361 * checked_c)
