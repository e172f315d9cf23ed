"""Strength against age by the Eurocode: a share of 28 days, from one coefficient.

Formulas only; age is equivalent age at 20 °C. A mean of ordinary mixes, for planning;
it does not show that a member may be loaded, struck or opened.
"""

from typing import Literal

import numpy as np

from models.drying.ranges import Floats, Numbers, in_range

#: EN 1992-1-1:2004, 3.1.2 (6) (read in a published implementation).
S_BY_CLASS = {"R": 0.20, "N": 0.25, "S": 0.38}

_DAY_H = 24.0


def s_of_class(
    cement_class: Literal["R", "N", "S"], mean_strength_mpa: float = 0.0
) -> float:
    """Coefficient of the Eurocode curve, from the strength class of the cement.

    Parameters
    ----------
    cement_class : str
        Rapid (42.5 R, 52.5), normal (32.5 R, 42.5 N) or slow (32.5 N).
    mean_strength_mpa : float
        Mean strength at 28 days; above 60 the Model Code takes 0.20 for every
        class. [MPa]

    Returns
    -------
    float
        Coefficient *s*. [-]

    Notes
    -----
    EN 1992-1-1:2004, 3.1.2 (6), and Model Code 2010, Table 5.1-9 (both read in a
    published implementation).
    """
    return 0.20 if mean_strength_mpa > 60 else S_BY_CLASS[cement_class]


def slower_s(
    slag_fraction: float, fly_ash_fraction: float, water_binder: float
) -> float:
    """By how much slag, fly ash and much water raise the coefficient of the Eurocode.

    Parameters
    ----------
    slag_fraction, fly_ash_fraction : float
        Shares of the binder, 0 to 0.95. [-]
    water_binder : float
        Water over binder. [-]

    Returns
    -------
    float
        To be added to *s*. [-]

    Notes
    -----
    Slag of 35 to 65 % has 61 % of the share of plain concrete at 3 days and 81 % at 7
    (read: medians of 26 and 43 concretes against 22 and 45 plain ones of I-C. Yeh,
    Cement and Concrete Research 28, 1998), below 35 % no less than it; a producer says
    50 to 60 % and 70 to 80 % for 30 to 50 % slag (read). Plain concrete of those tests
    has 0.58 of its strength at 3 days with water over binder of 0.4, 0.48 with 0.49,
    0.45 with 0.58 and 0.35 with 0.82: the more above 0.5, with which cements are
    tested, the later. Fly ash of 20 to 35 % makes a cement one class slower, N instead
    of R (read: Concrete Society), and nothing in Yeh's tests: 0.05 at the middle.
    """
    return (
        0.9 * max(slag_fraction - 0.2, 0.0)
        + 0.3 * max(fly_ash_fraction - 0.1, 0.0)
        + 0.8 * max(water_binder - 0.5, 0.0)
    )


def s_of_ratio(strength_ratio_fraction: Numbers) -> Floats:
    r"""Coefficient of the Eurocode curve that meets a known 2-day strength.

    Parameters
    ----------
    strength_ratio_fraction : float or array
        Mean strength at 2 days over that at 28 days, 0.05 to 0.95. [-]

    Returns
    -------
    array
        Coefficient *s*. [-]

    Raises
    ------
    OutOfRangeError
        If the ratio lies outside the range.

    Notes
    -----
    The Eurocode curve solved for its coefficient at 2 days:
    :math:`s = -\ln r / (\sqrt{14} - 1)`.
    """
    ratio = in_range(
        "strength_ratio_fraction",
        strength_ratio_fraction,
        0.05,
        0.95,
        "",
        "the Eurocode strength curve",
    )
    return np.asarray(-np.log(ratio) / (np.sqrt(14.0) - 1))


def eurocode_fraction(age_h: Numbers, s: Numbers) -> Floats:
    r"""Share of the mean 28-day strength by the Eurocode and the Model Code.

    Parameters
    ----------
    age_h : float or array
        Equivalent age at 20 °C, 0 or more. [h]
    s : float or array
        Coefficient of the cement, from 0.01 to 1.2. [-]

    Returns
    -------
    array
        Share; 0 at age 0, above 1 after 28 days. [-]

    Raises
    ------
    OutOfRangeError
        If an input lies outside its range.

    Notes
    -----
    EN 1992-1-1:2004, 3.2, and Model Code 2010, 5.1-51 (read in a published
    implementation), *t* in days:

    .. math:: \beta_{cc} = \exp\left[s\left(1 - \sqrt{28/t}\right)\right]

    EN 1992-1-1, 3.1.2 (6), asks for tests below 3 days (from memory): there the heat
    of hydration leads, see :func:`gel_space_ratio`.
    """
    source = "EN 1992-1-1:2004, 3.2"
    age = in_range("age_h", age_h, 0, np.inf, "h", source)
    coefficient = in_range("s", s, 0.01, 1.2, "", source)
    with np.errstate(divide="ignore", over="ignore"):  # age 0: exp(-inf) is 0
        root = np.sqrt(28 * _DAY_H / age)
    return np.asarray(np.exp(coefficient * (1 - root)))
