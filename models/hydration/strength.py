"""Strength against age: share of the 28-day strength, or MPa by a user's own curve.

Formulas only; age is equivalent age at 20 °C. These are means of ordinary mixes, for
planning; they do not show that a member may be loaded, struck or opened.
"""

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range
from models.errors import OutOfRangeError

#: ACI 209R-92, Table 2.2.1 (from memory): cement type and curing -> (a in days, b).
ACI_209_CONSTANTS = {
    "I_moist": (4.0, 0.85),
    "III_moist": (2.3, 0.92),
    "I_steam": (1.0, 0.95),
    "III_steam": (0.70, 0.98),
}

#: Exponent of the gel-space ratio.
GEL_SPACE_EXPONENT = 2.6

_DAY_H = 24.0


def gel_space_ratio(degree: Floats, water_binder: Floats) -> Floats:
    r"""Share of the room between grains that gel fills.

    Parameters
    ----------
    degree : array
        Degree of hydration, 0 to 1. [-]
    water_binder : array
        Water over binder by mass. [-]

    Returns
    -------
    array
        Ratio. [-]

    Notes
    -----
    Powers and Brownyard: :math:`X = 0.68\,\alpha / (0.32\,\alpha + w/c)`; strength goes
    with :math:`X^n`, *n* 2.6 to 3.0, of which 2.6 is usual (read: D. P. Bentz,
    CEMHYD3D 2.0, NIST; the two constants from memory). Young concrete has only paste
    that still hangs loosely at set, so we count from the ratio of that moment.
    """
    return 0.68 * degree / (0.32 * degree + water_binder)


def aci_209_fraction(age_h: Numbers, a_days: float, b: float) -> Floats:
    r"""Share of the 28-day strength by ACI 209.

    Parameters
    ----------
    age_h : float or array
        Equivalent age, 0 or more. [h]
    a_days : float
        Constant of cement and curing, see :data:`ACI_209_CONSTANTS`. [d]
    b : float
        The other constant. [-]

    Returns
    -------
    array
        Share; about 1 at 28 days. [-]

    Raises
    ------
    OutOfRangeError
        If the age is negative.

    Notes
    -----
    ACI 209R-92, Eq. 2-1 (from memory): :math:`t / (a + b\,t)`, *t* in days.
    """
    days = in_range("age_h", age_h, 0, np.inf, "h", "ACI 209R-92, Eq. 2-1") / _DAY_H
    return np.asarray(days / (a_days + b * days))


def hyperbolic_mpa(
    age_h: Numbers, ultimate_mpa: float, rate_constant: float, offset_h: Numbers = 0.0
) -> Floats:
    r"""Strength by a hyperbola with constants from the user's own cylinders.

    Parameters
    ----------
    age_h : float or array
        Equivalent age, 0 or more. [h]
    ultimate_mpa : float
        Strength it tends to, above 0. [MPa]
    rate_constant : float
        Rate constant, above 0. [1/h]
    offset_h : float or array
        Age at which strength begins, 0 or more; infinite where it does not. [h]

    Returns
    -------
    array
        Strength; 0 up to the offset. [MPa]

    Raises
    ------
    OutOfRangeError
        If the age is negative or a constant out of its range.

    Notes
    -----
    Carino (1984), quoted in ASTM C1074, appendix (from memory):

    .. math:: S = S_u \frac{k\,(t - t_0)}{1 + k\,(t - t_0)}
    """
    source = "Carino's hyperbola (1984)"
    age = in_range("age_h", age_h, 0, np.inf, "h", source)
    in_range("ultimate_mpa", ultimate_mpa, np.nextafter(0, 1), 300, "MPa", source)
    in_range("rate_constant", rate_constant, np.nextafter(0, 1), 10, "1/h", source)
    begins = in_range("offset_h", offset_h, 0, np.inf, "h", source)
    grown = rate_constant * np.maximum(age - begins, 0.0)
    return np.asarray(ultimate_mpa * grown / (1 + grown))


def table_fraction(
    age_h: Numbers, ages_h: Floats, fractions: Floats, set_age_h: Numbers = 0.0
) -> Floats:
    """Share of the 28-day strength by the user's own table, straight between rows.

    Parameters
    ----------
    age_h : float or array
        Equivalent age, 0 or more. [h]
    ages_h : array
        Ages of the table, rising. [h]
    fractions : array
        Shares at those ages, never falling. [-]
    set_age_h : float or array
        Age at final set; rows up to it are left out, but for the last, which then comes
        a day later (assumption). [h]

    Returns
    -------
    array
        Share; 0 until set, straight from there to the next row, the last row after the
        table. [-]

    Raises
    ------
    OutOfRangeError
        If the age is negative or the table does not rise.
    """
    age = in_range("age_h", age_h, 0, np.inf, "h", "a strength table")
    for name, column, least in (("ages_h", ages_h, np.nextafter(0, 1)),
                                ("fractions", fractions, 0.0)):  # fmt: skip
        steps = np.diff(column, prepend=0.0)
        if len(ages_h) != len(fractions) or (steps < least).any():
            raise OutOfRangeError(
                name=name,
                found=float(np.min(steps)),
                wanted="as many shares as ages, ages rising, shares never falling",
                source="a strength table",
            )
    begins = np.minimum(set_age_h, 1e9)  # infinite for what never sets
    after = np.minimum(np.searchsorted(ages_h, begins, side="right"), len(ages_h) - 1)
    first = fractions[after]
    first_h = np.where(ages_h[after] > begins, ages_h[after], begins + _DAY_H)
    reached = np.clip((age - begins) / (first_h - begins), 0.0, 1.0)
    return np.where(age < first_h, first * reached, np.interp(age, ages_h, fractions))
