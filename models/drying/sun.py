"""Where the sun stands, and what a vertical face gets of it.

Formulas only. The position is good to about a hundredth of a degree, far better than
a week's planning needs; sunshine on upright faces is a mean over all directions,
because the pours do not say which way a face looks.
"""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range

_SOLAR_CONSTANT_W_M2 = 1361.0
#: Light soil and concrete; textbook values run from 0.2 to 0.3 (from memory).
_GROUND_REFLECTANCE = 0.2
#: Below 3° the quotient of beam over sine says little; the floor keeps it tame.
_LEAST_SINE = 0.05


def solar_position_deg(
    days_since_2000: Numbers, latitude_deg: float, longitude_deg: float
) -> tuple[Floats, Floats]:
    r"""Zenith distance and azimuth of the sun's centre, without refraction.

    Parameters
    ----------
    days_since_2000 : float or array
        Days, with fraction, since 2000-01-01 12:00 UTC, -20 000 to 20 000. [d]
    latitude_deg : float
        North positive, -90 to 90. [°]
    longitude_deg : float
        East positive, -180 to 180. [°]

    Returns
    -------
    tuple of arrays
        Zenith angle and azimuth, clockwise from north. [°]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    The low-precision ephemeris of the Astronomical Almanac (from memory), stated there
    to be good to 0.01° from 1950 to 2050.
    """
    source = "the low-precision solar ephemeris"
    days = in_range("days_since_2000", days_since_2000, -20_000, 20_000, "days", source)
    latitude = np.radians(in_range("latitude_deg", latitude_deg, -90, 90, "°", source))
    in_range("longitude_deg", longitude_deg, -180, 180, "°", source)
    anomaly = np.radians(357.528 + 0.9856003 * days)
    ecliptic = np.radians(
        280.460
        + 0.9856474 * days
        + 1.915 * np.sin(anomaly)
        + 0.020 * np.sin(2 * anomaly)
    )
    obliquity = np.radians(23.439 - 4e-7 * days)
    ascension = np.arctan2(np.cos(obliquity) * np.sin(ecliptic), np.cos(ecliptic))
    declination = np.arcsin(np.sin(obliquity) * np.sin(ecliptic))
    sidereal_h = 18.697374558 + 24.06570982441908 * days
    hour_angle = np.radians(15 * sidereal_h + longitude_deg) - ascension
    cosine = np.sin(latitude) * np.sin(declination) + np.cos(latitude) * np.cos(
        declination
    ) * np.cos(hour_angle)
    azimuth = np.arctan2(
        -np.sin(hour_angle) * np.cos(declination),
        np.cos(latitude) * np.sin(declination)
        - np.sin(latitude) * np.cos(declination) * np.cos(hour_angle),
    )
    return np.degrees(np.arccos(np.clip(cosine, -1, 1))), np.degrees(azimuth) % 360


def diffuse_fraction(global_w_m2: Numbers, zenith_deg: Numbers) -> Floats:
    """Share of the sunshine on level ground that comes from the whole sky.

    Parameters
    ----------
    global_w_m2 : float or array
        Global horizontal irradiance, 0 to 1500. [W/m²]
    zenith_deg : float or array
        Zenith angle of the sun, 0 to 180. [°]

    Returns
    -------
    array
        Diffuse over global. [-]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    Correlation of Erbs, Klein and Duffie (1982) with the clearness index, from memory;
    the eccentricity of the earth's orbit (±3 %) is left out.
    """
    source = "Erbs et al. (1982)"
    ground = in_range("global_w_m2", global_w_m2, 0, 1500, "W/m²", source)
    sine = np.cos(np.radians(in_range("zenith_deg", zenith_deg, 0, 180, "°", source)))
    k = ground / (_SOLAR_CONSTANT_W_M2 * np.maximum(sine, _LEAST_SINE))
    middle = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    clear = np.where(k > 0.8, 0.165, middle)
    return np.asarray(np.where(k <= 0.22, 1 - 0.09 * k, clear))


def vertical_mean_w_m2(global_w_m2: Numbers, zenith_deg: Numbers) -> Floats:
    r"""Sunshine on an upright face, mean over all directions it may look.

    Parameters
    ----------
    global_w_m2 : float or array
        Global horizontal irradiance, 0 to 1500. [W/m²]
    zenith_deg : float or array
        Zenith angle of the sun, 0 to 180. [°]

    Returns
    -------
    array
        Irradiance of the face. [W/m²]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    The beam's mean over the compass is its horizontal part over :math:`\pi`, since
    half the directions see none of it: :math:`B \sin z / \pi`. Sky and ground fill half
    the view each, both taken as equally bright all over; the ground reflects 0.2.
    """
    ground = in_range("global_w_m2", global_w_m2, 0, 1500, "W/m²", "sunshine")
    zenith = np.radians(in_range("zenith_deg", zenith_deg, 0, 180, "°", "sunshine"))
    diffuse = ground * diffuse_fraction(ground, zenith_deg)
    beam = np.minimum(
        (ground - diffuse) / np.maximum(np.cos(zenith), _LEAST_SINE),
        _SOLAR_CONSTANT_W_M2,
    )
    return np.asarray(
        beam * np.sin(zenith) / np.pi + diffuse / 2 + _GROUND_REFLECTANCE * ground / 2
    )
