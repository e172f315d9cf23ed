"""Water lost by a wet cover: the heat balance of its face on concrete of its own.

A cover cools itself by evaporating and is warmed by sun, sky, air and, all night long,
by young concrete. Formulas only; how much a cover holds stands in ``covers.toml``.
"""

import numpy as np

from models.drying.air import (
    PSYCHROMETER_1_K,
    VALID_C,
    buck_kpa,
    buck_with_slope,
    latent_heat_j_kg,
    vapour_pressure_kpa,
)
from models.drying.blocks import in_blocks
from models.drying.evaporation import menzel_transfer_kg_m2_h_kpa
from models.drying.film import through_cover_kg_m2_h_kpa
from models.drying.ranges import Floats, Numbers, in_range

_STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8
_ZERO_C_K = 273.15
#: Half a millimetre of water: no cover lies closer on the concrete than that, and
#: without it a compound (resistance 0) would divide by zero.
_LEAST_RESISTANCE_M2K_W = 0.001
#: A step this small has come within some 1e-9 K, as the error falls with its square.
_SMALL_STEP_K = 1e-4
#: The worst corner of the allowed range takes 11 steps, concrete on a site about 3.
_NEWTON_STEPS = 12
#: No balance in that range lies outside; they keep an overshooting first step finite.
_FACE_BOUNDS_C = (-100.0, 600.0)


def cover_face_temperature_c(
    concrete_temperature_c: Numbers,
    air_temperature_c: Numbers,
    humidity_fraction: Numbers,
    wind_m_s: Numbers,
    solar_w_m2: Numbers,
    sky_temperature_c: Numbers,
    resistance_m2k_w: Numbers,
    absorptivity_fraction: Numbers,
    emissivity_fraction: Numbers,
    vapour_resistance_m2h_kpa_kg: Numbers,
    air_pressure_kpa: Numbers,
) -> Floats:
    r"""Temperature at which the heat flows of a wet cover's face balance.

    Parameters
    ----------
    concrete_temperature_c : float or array
        Concrete under the cover, from -40 to 80. [°C]
    air_temperature_c : float or array
        Air temperature, from -40 to 80. [°C]
    humidity_fraction : float or array
        Relative humidity, 0 to 1. [-]
    wind_m_s : float or array
        Wind 0.5 m above the surface, 0 to 75. [m/s]
    solar_w_m2 : float or array
        Sun on the face, 0 to 1500. [W/m²]
    sky_temperature_c : float or array
        Effective temperature of what the face sees, from -120 to 80. [°C]
    resistance_m2k_w : float or array
        Thermal resistance from concrete to face, 0 to 5. [m² K/W]
    absorptivity_fraction, emissivity_fraction : float or array
        Of the face, 0 to 1. [-]
    vapour_resistance_m2h_kpa_kg : float or array
        Of the cover to vapour, 0 where its wet face is open. [m² h kPa/kg]
    air_pressure_kpa : float or array
        Air pressure, from 40 to 110. [kPa]

    Returns
    -------
    array
        Face temperature. [°C]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    Steady, because a wet cloth of 1 to 3 kg/m² follows within minutes:

    .. math:: \alpha S + \varepsilon\sigma(T_{sky}^4 - T^4) + \frac{T_c - T}{R}
              = \lambda\,\Bigl(\frac{k}{1 + k r}\,(e_s(T) - e_a)
              + k\,\gamma\,p\,(T - T_a)\Bigr)

    with Menzel's :math:`k` and the cover's resistance :math:`r` to vapour, in series
    with it. Heat transfer is tied to mass transfer by the psychrometer constant (Lewis
    relation), so an open face without sun, sky and concrete comes to the wet bulb.
    The balance falls and is concave in *T*: after its first step Newton's method comes
    down to the root from above. Each value stops by itself, so that its result does not
    depend on those beside it.
    """
    return in_blocks(
        _face_c,
        concrete_temperature_c,
        air_temperature_c,
        humidity_fraction,
        wind_m_s,
        solar_w_m2,
        sky_temperature_c,
        resistance_m2k_w,
        absorptivity_fraction,
        emissivity_fraction,
        vapour_resistance_m2h_kpa_kg,
        air_pressure_kpa,
    )


def cover_loss_kg_m2_h(
    concrete_temperature_c: Numbers,
    air_temperature_c: Numbers,
    humidity_fraction: Numbers,
    wind_m_s: Numbers,
    solar_w_m2: Numbers,
    sky_temperature_c: Numbers,
    resistance_m2k_w: Numbers,
    absorptivity_fraction: Numbers,
    emissivity_fraction: Numbers,
    vapour_resistance_m2h_kpa_kg: Numbers,
    air_pressure_kpa: Numbers,
) -> Floats:
    """Evaporation out of a wet cover, from its own face temperature.

    Parameters
    ----------
    concrete_temperature_c : float or array
        Concrete under the cover, from -40 to 80. [°C]
    air_temperature_c : float or array
        Air temperature, from -40 to 80. [°C]
    humidity_fraction : float or array
        Relative humidity, 0 to 1. [-]
    wind_m_s : float or array
        Wind 0.5 m above the surface, 0 to 75. [m/s]
    solar_w_m2 : float or array
        Sun on the face, 0 to 1500. [W/m²]
    sky_temperature_c : float or array
        Effective temperature of what the face sees, from -120 to 80. [°C]
    resistance_m2k_w : float or array
        Thermal resistance from concrete to face, 0 to 5. [m² K/W]
    absorptivity_fraction, emissivity_fraction : float or array
        Of the face, 0 to 1. [-]
    vapour_resistance_m2h_kpa_kg : float or array
        Of the cover to vapour, 0 where its wet face is open. [m² h kPa/kg]
    air_pressure_kpa : float or array
        Air pressure, from 40 to 110. [kPa]

    Returns
    -------
    array
        Loss; 0 where dew would form, which is not counted on. [kg/(m² h)]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    Through cover and air from :func:`cover_face_temperature_c`.
    """
    face_c = cover_face_temperature_c(
        concrete_temperature_c,
        air_temperature_c,
        humidity_fraction,
        wind_m_s,
        solar_w_m2,
        sky_temperature_c,
        resistance_m2k_w,
        absorptivity_fraction,
        emissivity_fraction,
        vapour_resistance_m2h_kpa_kg,
        air_pressure_kpa,
    )
    deficit_kpa = buck_kpa(face_c) - vapour_pressure_kpa(
        air_temperature_c, humidity_fraction
    )
    transfer = through_cover_kg_m2_h_kpa(wind_m_s, vapour_resistance_m2h_kpa_kg)
    return np.maximum(transfer * deficit_kpa, 0.0)


def _face_c(
    concrete_temperature_c: Floats,
    air_temperature_c: Floats,
    humidity_fraction: Floats,
    wind_m_s: Floats,
    solar_w_m2: Floats,
    sky_temperature_c: Floats,
    resistance_m2k_w: Floats,
    absorptivity_fraction: Floats,
    emissivity_fraction: Floats,
    vapour_resistance_m2h_kpa_kg: Floats,
    air_pressure_kpa: Floats,
) -> Floats:
    """Face temperatures of one block."""
    source = "the heat balance of a cover"
    concrete_c = in_range(
        "concrete_temperature_c", concrete_temperature_c, *VALID_C, "°C", source
    )
    air_kpa = vapour_pressure_kpa(air_temperature_c, humidity_fraction)
    solar = in_range("solar_w_m2", solar_w_m2, 0, 1500, "W/m²", source)
    sky_c = in_range("sky_temperature_c", sky_temperature_c, -120, 80, "°C", source)
    resistance = in_range("resistance_m2k_w", resistance_m2k_w, 0, 5, "m² K/W", source)
    absorptivity = in_range(
        "absorptivity_fraction", absorptivity_fraction, 0, 1, "", source
    )
    emissivity = in_range("emissivity_fraction", emissivity_fraction, 0, 1, "", source)
    pressure_kpa = in_range(
        "air_pressure_kpa", air_pressure_kpa, 40, 110, "kPa", source
    )

    latent_wh_kg = latent_heat_j_kg(air_temperature_c) / 3600
    open_w_m2_kpa = menzel_transfer_kg_m2_h_kpa(wind_m_s) * latent_wh_kg
    convection_w_m2k = open_w_m2_kpa * (PSYCHROMETER_1_K * pressure_kpa)
    conduction_w_m2k = 1 / np.maximum(resistance, _LEAST_RESISTANCE_M2K_W)
    radiation_w_m2k4 = emissivity * _STEFAN_BOLTZMANN_W_M2K4
    evaporation_w_m2_kpa = latent_wh_kg * through_cover_kg_m2_h_kpa(
        wind_m_s, vapour_resistance_m2h_kpa_kg
    )
    constant_w_m2 = (
        absorptivity * solar
        + radiation_w_m2k4 * np.square(np.square(sky_c + _ZERO_C_K))
        + conduction_w_m2k * concrete_c
        + convection_w_m2k * air_temperature_c
        + evaporation_w_m2_kpa * air_kpa
    )
    balance = np.broadcast_arrays(
        constant_w_m2,
        conduction_w_m2k + convection_w_m2k,
        radiation_w_m2k4,
        evaporation_w_m2_kpa,
        concrete_c,
    )
    parts = [part.flatten() for part in balance]
    return _root_c(parts).reshape(constant_w_m2.shape)


def _root_c(parts: list[Floats]) -> Floats:
    """Roots of balances, each by as many of Newton's steps as it needs.

    Parameters
    ----------
    parts : list of five arrays (values,)
        Constant part; less what grows with the temperature, with its fourth power (of
        kelvins) and with the saturated vapour pressure; and where to begin.
    """
    found_c = np.empty(parts[0].shape)
    places = np.arange(found_c.size)
    for _ in range(_NEWTON_STEPS):
        constant, linear, radiation, evaporation, face_c = parts
        face_k = face_c + _ZERO_C_K
        radiated_k = radiation * face_k * face_k * face_k
        vapour_kpa, vapour_slope_kpa_k = buck_with_slope(face_c)
        step_k = constant - linear * face_c
        step_k -= radiated_k * face_k
        step_k -= evaporation * vapour_kpa
        step_k /= linear + 4 * radiated_k + evaporation * vapour_slope_kpa_k
        face_c += step_k
        np.clip(face_c, *_FACE_BOUNDS_C, out=face_c)
        found_c[places] = face_c
        far = np.flatnonzero(np.abs(step_k) > _SMALL_STEP_K)
        if not far.size:
            break
        places, parts = places[far], [part[far] for part in parts]
    return found_c
