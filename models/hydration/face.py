"""What a face exchanges with air, sun and sky, made linear in its temperature.

Formulas only. The heat solver wants one film and one outside temperature; radiation and
evaporation bend, so they are put as tangents at the temperature the face had last.
"""

from typing import NamedTuple

import numpy as np

from models.drying.air import buck_with_slope, vapour_pressure_kpa
from models.drying.evaporation import menzel_transfer_kg_m2_h_kpa
from models.drying.film import (
    in_series_kg_m2_h_kpa,
    vapour_resistance_m2h_kpa_kg,
)
from models.drying.ranges import Floats, Numbers, in_range

STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
ZERO_C_K = 273.15
#: At about 20 °C; 3 % either way from 0 to 50 °C.
LATENT_J_KG = 2.45e6
_CALM_BELOW_M_S = 5.0


class Layers(NamedTuple):
    """What lies on the concrete; arrays ``(surfaces,)``.

    ``film_kg_m2_h_kpa`` is the vapour that passes what lies there, infinite from an
    open wet face and 0 from a dry one; ``leak_kg_m2_h_kpa`` what leaves by its seams, a
    m/s of wind. ``laid_at_c`` is how warm it was when laid, NaN where as the face was.
    """

    resistance_m2k_w: Floats
    absorptivity_fraction: Floats
    emissivity_fraction: Floats
    film_kg_m2_h_kpa: Floats
    leak_kg_m2_h_kpa: Floats
    capacity_j_m2k: Floats
    laid_at_c: Floats


class Climate(NamedTuple):
    """Weather as a face feels it, by time and surface; a row is one time's.

    ``open_kg_m2_h_kpa`` is Menzel's evaporation from an open wet face.
    """

    air_c: Floats
    vapour_kpa: Floats
    convection_w_m2k: Floats
    wind_m_s: Floats
    open_kg_m2_h_kpa: Floats
    solar_w_m2: Floats
    sky_k4: Floats

    def row(self, index: int) -> "Climate":
        """One time's weather."""
        return Climate(*(part[index] for part in self))


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
    :math:`7.2\,v^{0.78}` above. The two differ by 1.3 % where they meet.
    """
    wind = in_range("wind_m_s", wind_m_s, 0, 40, "m/s", "NISTIR 6551")
    return np.where(wind <= _CALM_BELOW_M_S, 5.6 + 4.0 * wind, 7.2 * wind**0.78)


def climate(
    air_temperature_c: Floats,
    humidity_fraction: Floats,
    wind_m_s: Floats,
    solar_w_m2: Floats,
    sky_temperature_c: Floats,
) -> Climate:
    """Weather as a face feels it, whatever the face.

    Parameters
    ----------
    air_temperature_c : array (times, surfaces or 1)
        Air temperature, from -40 to 80. [°C]
    humidity_fraction : array (times, surfaces or 1)
        Relative humidity, 0 to 1. [-]
    wind_m_s : array (times, surfaces or 1)
        Wind 0.5 m above the face, 0 to 40. [m/s]
    solar_w_m2 : array (times, surfaces or 1)
        Sun on the face. [W/m²]
    sky_temperature_c : array (times, surfaces or 1)
        Of what the face sees. [°C]

    Raises
    ------
    OutOfRangeError
        If air, humidity or wind lies outside its range.
    """
    return Climate(
        air_c=air_temperature_c,
        vapour_kpa=vapour_pressure_kpa(air_temperature_c, humidity_fraction),
        convection_w_m2k=convection_w_m2k(wind_m_s),
        wind_m_s=wind_m_s,
        open_kg_m2_h_kpa=menzel_transfer_kg_m2_h_kpa(wind_m_s),
        solar_w_m2=solar_w_m2,
        sky_k4=(sky_temperature_c + ZERO_C_K) ** 4,
    )


def film_and_outside(
    face_c: Floats, weather: Climate, layers: Layers
) -> tuple[Floats, Floats]:
    r"""Film and outside temperature that give the heat flow into a face.

    Parameters
    ----------
    face_c : array (surfaces,)
        Temperature of the face to put the tangents at. [°C]
    weather : Climate
        One time's weather.
    layers : Layers
        What lies on the concrete; the face is theirs.

    Returns
    -------
    tuple of array
        Film *B* [W/(m² K)] and outside temperature :math:`T_o` [°C], so that
        :math:`B\,(T_o - T)` enters a face at *T*.

    Notes
    -----
    Convection, absorbed sun, long-wave exchange with the sky and the latent heat of
    evaporation. No dew: where the air is moister, evaporation counts as 0.
    """
    radiation = layers.emissivity_fraction * STEFAN_BOLTZMANN_W_M2K4
    face_k = face_c + ZERO_C_K
    radiation_slope = 4 * radiation * (face_k * face_k * face_k)
    face_kpa, slope_kpa_k = buck_with_slope(face_c)
    deficit_kpa = face_kpa - weather.vapour_kpa
    to_vapour = vapour_resistance_m2h_kpa_kg(
        layers.film_kg_m2_h_kpa, layers.leak_kg_m2_h_kpa, weather.wind_m_s
    )
    evaporates = in_series_kg_m2_h_kpa(weather.open_kg_m2_h_kpa, to_vapour)
    latent = LATENT_J_KG / 3600 * evaporates * (deficit_kpa > 0)

    tangents = radiation_slope + latent * slope_kpa_k
    film_w_m2k = weather.convection_w_m2k + tangents
    at_face_w_m2 = (
        layers.absorptivity_fraction * weather.solar_w_m2
        + radiation * weather.sky_k4
        - radiation_slope * face_k / 4
        - latent * deficit_kpa
        + weather.convection_w_m2k * weather.air_c
        + tangents * face_c
    )
    return film_w_m2k, at_face_w_m2 / film_w_m2k


def with_capacity(
    film_w_m2k: Floats,
    outside_c: Floats,
    before_c: Floats,
    capacity_j_m2k: Floats,
    within_s: float,
) -> tuple[Floats, Floats]:
    r"""Let what lies on the concrete, such as a pond, take heat to grow warmer.

    Parameters
    ----------
    film_w_m2k, outside_c : array (surfaces,)
        Of a face that stores nothing. [W/(m² K)], [°C]
    before_c : array (surfaces,)
        Temperature of the face when the time begins. [°C]
    capacity_j_m2k : array (surfaces,)
        Heat that warms what lies there by a kelvin, 0 or more. [J/(m² K)]
    within_s : float
        How long it has until its temperature is asked for, above 0. [s]

    Returns
    -------
    tuple of array
        Film and outside temperature with a second outside, as warm as it was itself.

    Notes
    -----
    All of it is as warm as its face: :math:`C\,(T - T_0)/\Delta t` implicit in time.
    Water of a pond turns over whenever its face cools.
    """
    stores_w_m2k = capacity_j_m2k / within_s
    film = film_w_m2k + stores_w_m2k
    return film, (film_w_m2k * outside_c + stores_w_m2k * before_c) / film


def face_soon_c(
    concrete_c: Floats,
    flow_w_m2: Floats,
    effusivity_w_s05_m2k: Floats,
    resistance_m2k_w: Floats,
    film_w_m2k: Floats,
    outside_c: Floats,
    within_s: float,
) -> Floats:
    r"""Guess how warm a face will be once it has met other weather for a while.

    Parameters
    ----------
    concrete_c, flow_w_m2 : array (surfaces,)
        Temperature of the concrete's surface and the heat that enters there, until now.
        [°C], [W/m²]
    effusivity_w_s05_m2k : array (surfaces,)
        :math:`\sqrt{k\,c}` of the concrete. [W s^½/(m² K)]
    resistance_m2k_w, film_w_m2k, outside_c : array (surfaces,)
        Of what lies on the concrete, and of what that meets from now on. [m² K/W],
        [W/(m² K)], [°C]
    within_s : float
        The while. [s]

    Returns
    -------
    array (surfaces,)
        Temperature of the face of what lies on the concrete. [°C]

    Notes
    -----
    A change of flow warms the concrete's surface as it does that of a deep solid held
    at a new temperature (Carslaw and Jaeger): by :math:`\sqrt{\pi t / (k\,c)}` kelvin
    for each W/m².
    """
    yields_m2k_w = np.sqrt(np.pi * within_s) / effusivity_w_s05_m2k
    unchanged_c = concrete_c - flow_w_m2 * yields_m2k_w
    to_outside = film_w_m2k * (yields_m2k_w + resistance_m2k_w)
    return np.asarray((unchanged_c + to_outside * outside_c) / (1 + to_outside))
