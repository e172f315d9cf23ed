"""What a face exchanges with air, sun and sky, made linear in its temperature.

Formulas only. The heat solver wants one film and one outside temperature; radiation and
evaporation bend, so they are put as tangents at the temperature the face had last.
"""

import numpy as np

from models.drying.air import buck_kpa, buck_slope_kpa_k
from models.drying.evaporation import menzel_transfer_kg_m2_h_kpa
from models.drying.ranges import Floats, Numbers, in_range

_STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
_ZERO_C_K = 273.15
#: At about 20 °C; 3 % either way from 0 to 50 °C.
_LATENT_J_KG = 2.45e6
_CALM_BELOW_M_S = 5.0


def convection_w_m2k(wind_m_s: Numbers) -> Floats:
    r"""Convective film of a flat face in the wind.

    Parameters
    ----------
    wind_m_s : float or array
        Wind near the face, 0 to 40. [m/s]

    Returns
    -------
    array
        Film. [W/(m² K)]

    Raises
    ------
    OutOfRangeError
        If the wind lies outside the range.

    Notes
    -----
    NISTIR 6551 (Bentz 2000; from memory): :math:`5.6 + 4.0\,v` up to 5 m/s,
    :math:`7.2\,v^{0.78}` above. The two differ by 1 % where they meet.
    """
    wind = in_range("wind_m_s", wind_m_s, 0, 40, "m/s", "NISTIR 6551")
    return np.where(wind <= _CALM_BELOW_M_S, 5.6 + 4.0 * wind, 7.2 * wind**0.78)


def film_and_outside(
    face_c: Floats,
    air_temperature_c: Floats,
    humidity_fraction: Floats,
    wind_m_s: Floats,
    solar_w_m2: Floats,
    sky_temperature_c: Floats,
    absorptivity_fraction: Floats,
    emissivity_fraction: Floats,
    evaporation_factor: Floats,
) -> tuple[Floats, Floats]:
    r"""Film and outside temperature that give the heat flow into a face.

    Parameters
    ----------
    face_c : array
        Temperature of the face to put the tangents at. [°C]
    air_temperature_c : array
        Air temperature. [°C]
    humidity_fraction : array
        Relative humidity. [-]
    wind_m_s : array
        Wind 0.5 m above the face. [m/s]
    solar_w_m2 : array
        Sun on the face. [W/m²]
    sky_temperature_c : array
        Of what the face sees. [°C]
    absorptivity_fraction, emissivity_fraction : array
        Of the face. [-]
    evaporation_factor : array
        Share of an open wet face's evaporation; 0 for a dry face. [-]

    Returns
    -------
    tuple of array
        Film *B* [W/(m² K)] and outside temperature :math:`T_o` [°C], so that
        :math:`B\,(T_o - T)` enters a face at *T*.

    Notes
    -----
    Convection, absorbed sun, long-wave exchange with the sky and the latent heat of
    Menzel's evaporation. No dew: where the air is moister, evaporation counts as 0.
    """
    face_k, sky_k = face_c + _ZERO_C_K, sky_temperature_c + _ZERO_C_K
    radiation = emissivity_fraction * _STEFAN_BOLTZMANN_W_M2K4
    cubed = face_k * face_k * face_k
    latent = menzel_transfer_kg_m2_h_kpa(wind_m_s) * evaporation_factor
    latent *= _LATENT_J_KG / 3600
    deficit_kpa = buck_kpa(face_c) - humidity_fraction * buck_kpa(air_temperature_c)
    latent = np.where(deficit_kpa > 0, latent, 0.0)

    convection = convection_w_m2k(wind_m_s)
    tangents = 4 * radiation * cubed + latent * buck_slope_kpa_k(face_c)
    film_w_m2k = convection + tangents
    at_face_w_m2 = (
        absorptivity_fraction * solar_w_m2
        + radiation * (sky_k**4 - cubed * face_k)
        - latent * deficit_kpa
    )
    outside_c = (convection * air_temperature_c + tangents * face_c + at_face_w_m2) / (
        film_w_m2k
    )
    return film_w_m2k, outside_c
