"""Strength against age by codes; setting against a rule of the trade."""

from collections.abc import Callable

import numpy as np
from structuralcodes.codes import (
    ec2_2004,
    mc2010,
)

from models.hydration.setting import setting_rate
from models.hydration.strength import (
    ACI_209_CONSTANTS,
    S_BY_CLASS,
    aci_209_fraction,
    eurocode_fraction,
    s_of_class,
)
from tests.references.case import Case

_ACI_209 = {
    ("I", "moist", 1): 0.2062,
    ("I", "moist", 3): 0.4580,
    ("I", "moist", 7): 0.7035,
    ("I", "moist", 14): 0.8805,
    ("I", "moist", 28): 1.0072,
    ("III", "moist", 7): 0.8009,
    ("I", "steam", 1): 0.5128,
    ("III", "steam", 1): 0.5952,
}
#: °F -> hours to set of plain concrete, and the share by which one activation energy
#: misses it: the rule bends more in the heat, less in the cold than an Arrhenius curve.
_RULE = {
    100: (1.667, 0.50),
    90: (2.667, 0.35),
    80: (4.0, 0.20),
    60: (8.0, 0.10),
    50: (10.667, 0.15),
    40: (14.667, 0.15),
}


def _share(s: float, days: float) -> Callable[[], float]:
    return lambda: float(eurocode_fraction(24 * days, s))


def _aci(cement: str, curing: str, days: float) -> Callable[[], float]:
    a_days, b = ACI_209_CONSTANTS[f"{cement}_{curing}"]
    return lambda: float(aci_209_fraction(24 * days, a_days, b))


def _set_h(fahrenheit: float) -> Callable[[], float]:
    def rate(of_f: float) -> float:
        return float(setting_rate((of_f - 32) / 1.8, 40_000.0))

    return lambda: 6 * rate(70) / rate(fahrenheit)


CASES = (
    *(
        Case(
            f"beta-cc-{name}-{days:g}d", "EN 1992-1-1:2004, 3.2, structuralcodes",
            "package", f"share of strength, class {name}, {days:g} d", "-",
            float(ec2_2004.beta_cc(days, ec2_2004.s_time_development(name))),
            _share(s, days), 1e-9, True,
        )
        for name, s in S_BY_CLASS.items()
        for days in (1, 3, 7, 14, 28, 90)
    ),
    *(
        Case(
            f"mc2010-{mean:g}mpa", "Model Code 2010, 5.1-51, structuralcodes",
            "package", f"share of strength at 7 d, 42.5 N, {mean:g} MPa", "-",
            float(np.squeeze(mc2010.beta_cc(7, mean, "42.5 N"))),
            _share(s_of_class("N", mean), 7), 1e-9, True,
        )
        for mean in (38.0, 68.0)
    ),
    *(
        Case(
            f"aci209-{cement}-{curing}-{days}d", "ACI 209R-92, Eq. 2-1", "regression",
            f"share of strength, type {cement}, {curing}, {days} d", "-",
            expected, _aci(cement, curing, days), 5e-5,
        )
        for (cement, curing, days), expected in _ACI_209.items()
    ),
    *(
        Case(
            f"sets-{f}f", "setting rule of PCA and NRMCA", "from memory",
            f"hours to set at {f} °F, from 6 h at 70 °F by 40 kJ/mol", "h",
            hours, _set_h(f), miss, True,
        )
        for f, (hours, miss) in _RULE.items()
    ),
)  # fmt: skip
