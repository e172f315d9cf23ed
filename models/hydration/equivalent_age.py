"""Equivalent age: how fast concrete ages at a temperature, against 20 °C.

Formulas only. Each function gives a rate: hours at 20 °C that one hour at the given
temperature stands for. A limit found with one function must not be used with another:
at 60 °C they differ by a factor of 2.7.
"""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range

REFERENCE_C = 20.0
#: Of dry ideal gases, as the sources print it. [J/(mol K)]
GAS_CONSTANT_J_MOL_K = 8.314

_ZERO_C_K = 273.15
#: Freiesleben Hansen and Pedersen used their function from -10 to 80 °C (from memory);
#: for the constant activation energy we take the same range (assumption: C1074 names
#: no limits, but recommends its constants for curing at 0 to 40 °C).
ARRHENIUS_VALID_C = (-10.0, 80.0)
#: EN 1992-1-1:2004, B.1 (3) and Model Code 2010, 5.1.9 (from memory).
EUROCODE_VALID_C = (0.0, 80.0)
#: A datum is fitted to ordinary curing; hotter than this the straight line has long
#: left the data (assumption). Below the datum the source counts nothing.
NURSE_SAUL_VALID_C = (-60.0, 90.0)


def nurse_saul_rate(temperature_c: Numbers, datum_c: Numbers = -10.0) -> Floats:
    r"""Rate by the temperature-time factor: straight above a datum, 0 below it.

    Parameters
    ----------
    temperature_c : float or array
        Concrete temperature, from -60 to 90. [°C]
    datum_c : float or array
        Temperature at which nothing hardens, below 20; -10 by Saul (1951), 0 in
        ASTM C1074 for Type I cement without admixture at 0 to 40 °C. [°C]

    Returns
    -------
    array
        Rate relative to 20 °C, never negative. [-]

    Raises
    ------
    OutOfRangeError
        If temperature or datum lies outside its range.

    Notes
    -----
    ASTM C1074-19, Eq. 1 (from memory), divided by its value at 20 °C:
    :math:`(T - T_0) / (20 - T_0)`.
    """
    checked_c = in_range(
        "temperature_c", temperature_c, *NURSE_SAUL_VALID_C, "°C", "Nurse-Saul"
    )
    datum = in_range("datum_c", datum_c, -20, 10, "°C", "Nurse-Saul")
    return np.maximum((checked_c - datum) / (REFERENCE_C - datum), 0.0)


def arrhenius_rate(
    temperature_c: Numbers, activation_energy_j_mol: Numbers = 40_000.0
) -> Floats:
    r"""Rate by an activation energy that does not change with temperature.

    Parameters
    ----------
    temperature_c : float or array
        Concrete temperature, from -10 to 80. [°C]
    activation_energy_j_mol : float or array
        Apparent activation energy, from 20 000 to 80 000. [J/mol]

    Returns
    -------
    array
        Rate relative to 20 °C. [-]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    ASTM C1074-19, Eq. 2 (from memory), with :math:`Q = E_a / R`:

    .. math:: \exp\left[-\frac{E_a}{R}\left(\frac{1}{T} - \frac{1}{293.15}\right)\right]

    Plain Portland cement 34 kJ/mol, rising about linearly to 60 at 70 % slag (Barnett
    et al., Cement and Concrete Research 36, 2006, abstract read); C1074 and Carino
    (1984) give 40 to 45 for Type I (from memory).
    """
    source = "the Arrhenius equation of ASTM C1074"
    checked_c = in_range(
        "temperature_c", temperature_c, *ARRHENIUS_VALID_C, "°C", source
    )
    energy = in_range(
        "activation_energy_j_mol",
        activation_energy_j_mol,
        20_000,
        80_000,
        "J/mol",
        source,
    )
    return arrhenius_unchecked(checked_c, energy)


def arrhenius_variable_rate(temperature_c: Numbers) -> Floats:
    r"""Rate by an activation energy that rises in the cold.

    Parameters
    ----------
    temperature_c : float or array
        Concrete temperature, from -10 to 80. [°C]

    Returns
    -------
    array
        Rate relative to 20 °C. [-]

    Raises
    ------
    OutOfRangeError
        If the temperature lies outside the range of the source.

    Notes
    -----
    Freiesleben Hansen and Pedersen [1]_ (from memory): 33.5 kJ/mol at 20 °C and above,
    :math:`33.5 + 1.47\,(20 - T)` kJ/mol below.

    References
    ----------
    .. [1] P. Freiesleben Hansen and E. J. Pedersen, "Maturity computer for controlled
       curing and hardening of concrete", Nordisk Betong 1, 1977.
    """
    checked_c = in_range(
        "temperature_c",
        temperature_c,
        *ARRHENIUS_VALID_C,
        "°C",
        "Freiesleben Hansen and Pedersen (1977)",
    )
    energy = 33_500 + 1_470 * np.maximum(REFERENCE_C - checked_c, 0.0)
    return arrhenius_unchecked(checked_c, energy)


def eurocode_rate(temperature_c: Numbers) -> Floats:
    r"""Rate of the temperature-adjusted age of the Eurocode and the Model Code.

    Parameters
    ----------
    temperature_c : float or array
        Concrete temperature, from 0 to 80. [°C]

    Returns
    -------
    array
        Rate; 0.998 at 20 °C, as the constants are printed. [-]

    Raises
    ------
    OutOfRangeError
        If the temperature lies outside the range of the source.

    Notes
    -----
    EN 1992-1-1:2004, B.10, and Model Code 2010, 5.1-85 (read in a published
    implementation): :math:`\exp(13.65 - 4000/(273 + T))`.
    """
    checked_c = in_range(
        "temperature_c",
        temperature_c,
        *EUROCODE_VALID_C,
        "°C",
        "EN 1992-1-1:2004, B.10",
    )
    return np.asarray(np.exp(13.65 - 4000 / (273 + checked_c)))


#: Hardening has stopped at -10 °C (read: Baunetz Wissen, Beton; Saul's datum too).
STOPS_C = -10.0


def share_in_frost(temperature_c: Floats) -> Floats:
    """Share of the pace at 0 °C that is left below it: straight to 0 at -10 °C.

    No function of the sources says what happens between; a straight line is Saul's, and
    no temperature stands on a cliff.

    Parameters
    ----------
    temperature_c : array
        Concrete temperature. [°C]

    Returns
    -------
    array
        The share, 0 to 1. [-]
    """
    return np.clip(1 - temperature_c / STOPS_C, 0.0, 1.0)


def age_at_starts_h(rate: Floats, step_h: float) -> Floats:
    """Equivalent age at the start of each step, from the rates during the steps.

    Parameters
    ----------
    rate : array
        Rates, steps along the first axis; constant within a step. [-]
    step_h : float
        Length of a step. [h]

    Returns
    -------
    array
        Same shape; the first row is 0. [h]
    """
    age_h = np.zeros(rate.shape)
    np.cumsum(rate[:-1], axis=0, out=age_h[1:])
    age_h *= step_h
    return age_h


def arrhenius_unchecked(
    temperature_c: Floats, energy_j_mol: Floats, reference_c: float = REFERENCE_C
) -> Floats:
    """Arrhenius rate against any reference, for callers that keep the range.

    Parameters
    ----------
    temperature_c : array
        Concrete temperature. [°C]
    energy_j_mol : array
        Apparent activation energy. [J/mol]
    reference_c : float
        Temperature at which the rate is 1. [°C]
    """
    inverse_1_k = np.asarray(
        1 / (reference_c + _ZERO_C_K) - 1 / (temperature_c + _ZERO_C_K)
    )
    inverse_1_k = inverse_1_k * (energy_j_mol / GAS_CONSTANT_J_MOL_K)
    return np.asarray(np.exp(inverse_1_k))
