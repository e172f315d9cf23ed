"""Vapour through a cover: its film, and the laps and edges that leak beside it.

What lies on a wet face is a resistance in series with the air over it. So wind that
takes twice as much from open water takes hardly more through a film; it does take more
out under laps and edges. Formulas only; the figures stand in ``covers.toml``.
"""

import numpy as np

from models.drying.air import vapour_pressure_kpa
from models.drying.evaporation import menzel_rate_kg_m2_h, menzel_transfer_kg_m2_h_kpa
from models.drying.ranges import Floats, Numbers, in_range

#: The air of the tests of ASTM C309 and C171: 100 °F and 32 % relative humidity (read).
_TEST_AIR_C = 37.8
_TEST_HUMIDITY_FRACTION = 0.32
#: Air that a metre of edge is measured in: a light wind, and vapour 1 kPa short of
#: saturation (25 °C and 68 %, or a cover 5 K above damp air of 15 °C).
MEASURED_WIND_M_S = 2.0
MEASURED_DEFICIT_KPA = 1.0
#: Where the mean wind is calm: gusts and warming air still pump the laps (assumption).
_PUMPING_M_S = 0.5
#: Sheets come about so wide; wider surfaces have laps between strips (assumption, a
#: trade page has rolls of 4 m × 25 m).
_STRIP_M = 4.0
#: So little passes a cover that is said to pass nothing. [kg/(m² h kPa)]
_LEAST_KG_M2_H_KPA = 1e-12


def film_kg_m2_h_kpa(loss_kg_m2: Numbers, test_h: Numbers) -> Floats:
    r"""Vapour that passes a film, from the limit of its test class.

    Parameters
    ----------
    loss_kg_m2 : float or array
        Greatest loss the class allows, 0 to 2. [kg/m²]
    test_h : float or array
        Length of the test, 1 to 1000. [h]

    Returns
    -------
    array
        Permeance. [kg/(m² h kPa)]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    A constant rate :math:`w/t` over the test through film and air in series:

    .. math:: \frac{\Delta p\,t}{w} = \frac{1}{P} + \frac{1}{k_0}

    with Menzel's :math:`k_0` for still air, because the wind in the cabinet is not
    known and any wind makes the film tighter. The true loss of a compound falls, nearly
    with the square root of time, so the mean understates the first hours, when the
    concrete has water to spare.
    """
    source = "a film's test class"
    loss = in_range("loss_kg_m2", loss_kg_m2, 0, 2, "kg/m²", source)
    hours = in_range("test_h", test_h, 1, 1000, "h", source)
    still_kg_m2_h = menzel_rate_kg_m2_h(
        _TEST_AIR_C, _TEST_AIR_C, _TEST_HUMIDITY_FRACTION, 0
    )
    deficit_kpa = vapour_pressure_kpa(_TEST_AIR_C, 1) - vapour_pressure_kpa(
        _TEST_AIR_C, _TEST_HUMIDITY_FRACTION
    )
    rate = loss / hours
    return np.asarray(rate / deficit_kpa / (1 - rate / still_kg_m2_h))


def seams_m_m2(area_m2: float) -> float:
    r"""Length of edges and laps for each square metre of a sheet.

    Parameters
    ----------
    area_m2 : float
        Surface, above 0. [m²]

    Returns
    -------
    float
        Seams. [m/m²]

    Notes
    -----
    Round a rectangle twice as long as wide, :math:`6 b / A` with :math:`b = \sqrt{A/2}`
    (assumption), and between strips of 4 m: :math:`1/4 - 1/b`, none on what is
    narrower.
    """
    width_m: float = np.sqrt(area_m2 / 2)
    return float(6 * width_m / area_m2 + max(0.0, 1 / _STRIP_M - 1 / width_m))


def seam_leak_kg_m2_h_kpa(seam_loss_l_m_d: Numbers, seams_m_m2: Numbers) -> Floats:
    """Vapour that leaves by edges and laps, for each m/s of wind.

    Parameters
    ----------
    seam_loss_l_m_d : float or array
        Lost in a day by a metre of edge or lap, in the air it is measured in. [L/(m d)]
    seams_m_m2 : float or array
        Seams of a square metre. [m/m²]

    Returns
    -------
    array
        Leak for each m/s of wind. [kg/(m² h kPa)]
    """
    wind_m_s = MEASURED_WIND_M_S + _PUMPING_M_S
    return np.asarray(
        np.asarray(seam_loss_l_m_d)
        * seams_m_m2
        / (24 * MEASURED_DEFICIT_KPA * wind_m_s)
    )


def vapour_resistance_m2h_kpa_kg(
    film_kg_m2_h_kpa: Numbers, leak_kg_m2_h_kpa: Numbers, wind_m_s: Numbers
) -> Floats:
    """Resistance of a cover to vapour: film and seams side by side.

    Parameters
    ----------
    film_kg_m2_h_kpa : float or array
        What passes the cover itself, 0 or more; infinite where its wet face is open.
        [kg/(m² h kPa)]
    leak_kg_m2_h_kpa : float or array
        Of the seams for each m/s of wind, 0 or more. [kg/(m² h kPa)]
    wind_m_s : float or array
        Wind 0.5 m above the surface. [m/s]

    Returns
    -------
    array
        Resistance; 0 where the face is open. [m² h kPa/kg]
    """
    seams = np.asarray(leak_kg_m2_h_kpa) * (np.asarray(wind_m_s) + _PUMPING_M_S)
    return 1 / np.maximum(film_kg_m2_h_kpa + seams, _LEAST_KG_M2_H_KPA)


def through_cover_kg_m2_h_kpa(
    wind_m_s: Numbers, vapour_resistance_m2h_kpa_kg: Numbers
) -> Floats:
    r"""Evaporation per kPa through a cover and the air over it.

    Parameters
    ----------
    wind_m_s : float or array
        Wind 0.5 m above the surface, 0 to 75. [m/s]
    vapour_resistance_m2h_kpa_kg : float or array
        Of the cover, 0 or more. [m² h kPa/kg]

    Returns
    -------
    array
        Mass transfer coefficient :math:`k / (1 + k r)`. [kg/(m² h kPa)]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.
    """
    open_kg_m2_h_kpa = menzel_transfer_kg_m2_h_kpa(wind_m_s)
    resistance = in_range(
        "vapour_resistance_m2h_kpa_kg", vapour_resistance_m2h_kpa_kg, 0, np.inf,
        "m² h kPa/kg", "a cover in series with the air",
    )  # fmt: skip
    return in_series_kg_m2_h_kpa(open_kg_m2_h_kpa, resistance)


def in_series_kg_m2_h_kpa(
    open_kg_m2_h_kpa: Floats, vapour_resistance_m2h_kpa_kg: Floats
) -> Floats:
    """Air and cover in series, unchecked, for marches that know their ranges.

    Parameters
    ----------
    open_kg_m2_h_kpa : array
        From an open wet face. [kg/(m² h kPa)]
    vapour_resistance_m2h_kpa_kg : array
        Of the cover. [m² h kPa/kg]

    Returns
    -------
    array
        Mass transfer coefficient. [kg/(m² h kPa)]
    """
    return np.asarray(
        open_kg_m2_h_kpa / (1 + open_kg_m2_h_kpa * vapour_resistance_m2h_kpa_kg)
    )
