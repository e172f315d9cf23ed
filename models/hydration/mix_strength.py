"""Strength of a mix at an age: by the curve it names, else by the Eurocode's.

Takes the record's word for which curve counts; the curves stand in ``strength.py``.
"""

from collections.abc import Sequence

import numpy as np

from models.hydration.strength import (
    ACI_209_CONSTANTS,
    aci_209_fraction,
    eurocode_fraction,
    hyperbolic_mpa,
    s_of_class,
    s_of_ratio,
    table_fraction,
)
from models.records import Floats, Mix

#: Mean strength over the characteristic one: EN 1992-1-1:2004, Table 3.1 (from memory).
_MARGIN_MPA = 8.0


class MixStrength:
    """Strength of surfaces, each of its own mix.

    A curve in MPa counts over the specified strength, one in shares as a share of it
    (they are shares of the mean strength: the long side).
    """

    def __init__(self, mixes: Sequence[Mix]) -> None:
        self._s = np.array([strength_coefficient(mix) for mix in mixes])
        own: dict[str, list[int]] = {}
        for column, mix in enumerate(mixes):
            if _has_own_curve(mix):
                own.setdefault(mix.id, []).append(column)
        self._own = [(mixes[columns[0]], columns) for columns in own.values()]

    def fraction(self, age_h: Floats) -> Floats:
        """Share of the specified strength at equivalent ages ``(steps, surfaces)``."""
        fraction = eurocode_fraction(age_h, self._s)
        for mix, columns in self._own:
            fraction[:, columns] = own_fraction(mix, age_h[:, columns])
        return fraction


def strength_coefficient(mix: Mix) -> float:
    """Coefficient of the Eurocode curve, from the 2-day strength where it is known."""
    if mix.strength_ratio_fraction is not None:
        return float(s_of_ratio(mix.strength_ratio_fraction))
    return s_of_class(mix.cement_class, mix.strength_mpa + _MARGIN_MPA)


def _has_own_curve(mix: Mix) -> bool:
    return bool(
        mix.aci_209
        or mix.strength_by_age_mpa
        or mix.strength_share_by_age_fraction
        or mix.ultimate_strength_mpa
    )


def own_fraction(mix: Mix, age_h: Floats) -> Floats:
    """Share of the specified strength by the curve that a mix names itself."""
    if mix.aci_209 is not None:
        return aci_209_fraction(age_h, *ACI_209_CONSTANTS[mix.aci_209])
    if mix.ultimate_strength_mpa is not None:
        rate_per_h, begins_h = mix.strength_rate_per_h or 0.0, mix.strength_begins_h
        strength_mpa = hyperbolic_mpa(
            age_h, mix.ultimate_strength_mpa, rate_per_h, begins_h or 0.0
        )
        return np.asarray(strength_mpa / mix.strength_mpa)
    ages_h, shares = np.array(
        mix.strength_by_age_mpa or mix.strength_share_by_age_fraction
    ).T
    if mix.strength_by_age_mpa:
        shares = shares / mix.strength_mpa
    return table_fraction(age_h, ages_h[1:], shares[1:])  # it begins at (0, 0) itself
