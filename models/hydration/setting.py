"""Setting: when a surface changes what may be done to it.

Formulas only. Setting times at 20 °C come from the mix; the setting age, an equivalent
age from batching, carries them to any temperature. Three events stand on it, each with
the age at which it comes earliest, is expected and comes latest.
"""

from typing import NamedTuple

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range
from models.hydration.equivalent_age import (
    ARRHENIUS_VALID_C,
    arrhenius_unchecked,
    share_in_frost,
)

#: Concrete is some 45 min old when placed: half of the 90 min that ASTM C94 used to
#: allow to discharge (from memory; the half is an assumption).
HAUL_H = 0.75
#: Two batches of a mix set up to so much sooner or later than its data sheet says
#: (assumption).
EARLIEST_FACTOR, LATEST_FACTOR = 0.85, 1.2
#: The sheen goes when drying overtakes bleeding, at the latest when bleeding stops,
#: about at initial set (read: FHWA-RD-02-099, ch. 3). We expect it at 0.7 of that,
#: with 0.4 the earliest on a drying day (assumption).
SHEEN_GONE_FRACTION, SHEEN_GONE_EARLIEST_FRACTION = 0.7, 0.4
#: A cover that is laid, not dragged, leaves no mark half way from initial to final set
#: (assumption: trade guidance says final set for dragged burlap).
COVER_BETWEEN_SETS_FRACTION = 0.5


class Ages(NamedTuple):
    """Setting ages of one event [h]."""

    earliest_h: Floats
    expected_h: Floats
    latest_h: Floats


def setting_rate(temperature_c: Numbers, activation_energy_j_mol: Numbers) -> Floats:
    """Hours of setting at 20 °C that an hour at a temperature stands for.

    Parameters
    ----------
    temperature_c : float or array
        Surface temperature, from -60 to 110. [°C]
    activation_energy_j_mol : float or array
        Apparent activation energy of setting, from 20 000 to 80 000. [J/mol]

    Returns
    -------
    array
        Rate relative to 20 °C; below 0 °C straight down to 0 at -10 °C, above 80 °C
        that at 80 °C. [-]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    Arrhenius with 33 to 45 kJ/mol describes setting (Pinto and Hover 1999; Schindler
    2004; from memory).
    """
    checked_c = in_range("temperature_c", temperature_c, -60, 110, "°C", "setting")
    energy = in_range(
        "activation_energy_j_mol",
        activation_energy_j_mol,
        20_000,
        80_000,
        "J/mol",
        "setting",
    )
    rate = arrhenius_unchecked(np.clip(checked_c, 0.0, ARRHENIUS_VALID_C[1]), energy)
    return np.asarray(rate * share_in_frost(checked_c))


def age_when_placed_h(
    placing_temperature_c: Numbers, activation_energy_j_mol: Numbers
) -> Floats:
    """Give the setting age that concrete brings along from the plant.

    Parameters
    ----------
    placing_temperature_c : float or array
        Temperature of the fresh concrete. [°C]
    activation_energy_j_mol : float or array
        Apparent activation energy of setting. [J/mol]

    Returns
    -------
    array
        Setting age at placing. [h]
    """
    return HAUL_H * setting_rate(placing_temperature_c, activation_energy_j_mol)


def sheen_gone_ages(initial_set_h: Numbers) -> Ages:
    """Give the setting ages at which the bleed water is gone.

    Parameters
    ----------
    initial_set_h : float or array
        Initial set of ASTM C403 (3.5 MPa) at 20 °C, from batching. [h]

    Returns
    -------
    Ages
        Earliest, expected, latest. [h]
    """
    initial = _set_time("initial_set_h", initial_set_h)
    return Ages(
        SHEEN_GONE_EARLIEST_FRACTION * initial,
        SHEEN_GONE_FRACTION * initial,
        initial,
    )


def takes_cover_ages(initial_set_h: Numbers, final_set_h: Numbers) -> Ages:
    """Give the setting ages at which a laid cover leaves no mark.

    Parameters
    ----------
    initial_set_h, final_set_h : float or array
        Sets of ASTM C403 (3.5 and 27.6 MPa) at 20 °C, from batching. [h]

    Returns
    -------
    Ages
        Earliest, expected, latest. [h]
    """
    initial = _set_time("initial_set_h", initial_set_h)
    final = _set_time("final_set_h", final_set_h)
    return _spread(initial + COVER_BETWEEN_SETS_FRACTION * (final - initial))


def set_ages(set_h: Numbers) -> Ages:
    """Give the setting ages of a set itself, initial or final.

    Parameters
    ----------
    set_h : float or array
        Set of ASTM C403 at 20 °C, from batching. [h]

    Returns
    -------
    Ages
        Earliest, expected, latest. [h]
    """
    return _spread(_set_time("set_h", set_h))


def bears_people_ages(final_set_h: Numbers) -> Ages:
    """Give the setting ages at which people and mats leave no mark.

    Parameters
    ----------
    final_set_h : float or array
        Final set of ASTM C403 (27.6 MPa) at 20 °C, from batching. [h]

    Returns
    -------
    Ages
        Earliest, expected, latest; expected at final set. [h]
    """
    return _spread(_set_time("final_set_h", final_set_h))


def _set_time(name: str, hours: Numbers) -> Floats:
    return in_range(name, hours, 0.1, 72, "h", "a setting time")


def _spread(expected_h: Floats) -> Ages:
    return Ages(EARLIEST_FACTOR * expected_h, expected_h, LATEST_FACTOR * expected_h)
