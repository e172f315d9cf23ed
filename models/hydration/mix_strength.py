"""Strength of a mix at an age: by the curve it names, else by the Eurocode's.

None before final set; below the age from which its curve is printed it grows with the
gel that hydration has made since set. Takes the record's word for which curve counts;
the curves stand in ``eurocode_strength.py`` and ``strength.py``.
"""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from models.hydration.eurocode_strength import (
    eurocode_fraction,
    s_of_class,
    s_of_ratio,
    slower_s,
)
from models.hydration.heat import heat_rate
from models.hydration.mix_figures import heat_figures, of_each, shares_of
from models.hydration.strength import (
    ACI_209_CONSTANTS,
    GEL_SPACE_EXPONENT,
    aci_209_fraction,
    gel_space_ratio,
    hyperbolic_mpa,
    table_fraction,
)
from models.records import Floats, Mix

#: Mean strength over the characteristic one: EN 1992-1-1:2004, Table 3.1 (from memory).
_MARGIN_MPA = 8.0
#: The printed curves hold from 3 days on (EN 1992-1-1:2004, 3.1.2 (6), from memory);
#: one through a known 2-day strength from there.
_PRINTED_FROM_H, _KNOWN_FROM_H = 72.0, 48.0
#: Concrete that sets so late that nothing is left before goes on to the printed curve
#: over a day (assumption).
_AFTER_SET_H = 24.0


class MixStrength:
    """Strength of surfaces, each of its own mix, from its own final set on.

    A curve in MPa counts over the specified strength, one in shares as a share of it
    (they are shares of the mean strength: the long side).

    Parameters
    ----------
    mixes : sequence of Mix
        Those of the surfaces.
    set_age_h : array (surfaces,)
        Equivalent age at final set; infinite if it does not come. [h]
    """

    def __init__(self, mixes: Sequence[Mix], set_age_h: Floats) -> None:
        self._set_h = set_age_h
        self._s = np.array(of_each(mixes, strength_coefficient))
        self._aci = _columns_of(mixes, lambda mix: mix.aci_209 is not None)
        self._own = _columns_of(mixes, _has_points_of_its_own)
        curves = of_each(mixes, heat_figures)
        energy = np.array([curve.energy_j_mol for curve in curves])
        at_20_c = heat_rate(np.full(energy.shape, 20.0), energy)
        self._tau_h = np.array([curve.tau_h for curve in curves]) / at_20_c
        self._beta = np.array([curve.beta for curve in curves])
        self._ultimate = np.array([curve.ultimate_fraction for curve in curves])
        self._water = np.array([mix.water_cement_fraction for mix in mixes])
        known = np.array([mix.strength_ratio_fraction is not None for mix in mixes])
        from_h = np.where(known, _KNOWN_FROM_H, _PRINTED_FROM_H)
        self._printed_h = np.maximum(from_h, np.minimum(set_age_h, 1e6) + _AFTER_SET_H)
        everything = np.arange(len(mixes))
        self._printed_gel = self._gel(self._printed_h, everything)
        self._set_gel = self._gel(set_age_h, everything)
        self._printed_share = self._printed(self._printed_h[None, :])[0]

    def fraction(self, age_h: Floats) -> Floats:
        """Share of the specified strength at equivalent ages ``(steps, surfaces)``."""
        fraction = self._printed(age_h)
        rows, columns = np.nonzero((age_h > self._set_h) & (age_h < self._printed_h))
        gel = self._gel(age_h[rows, columns], columns) - self._set_gel[columns]
        gel /= (self._printed_gel - self._set_gel)[columns]
        fraction[rows, columns] = gel * self._printed_share[columns]
        np.copyto(fraction, 0.0, where=age_h <= self._set_h)
        for mix, own in self._own:
            fraction[:, own] = _own_fraction(mix, age_h[:, own], self._set_h[own])
        return fraction

    def _printed(self, age_h: Floats) -> Floats:
        """Share by the printed curve, wherever it is used."""
        fraction = eurocode_fraction(age_h, self._s)
        for mix, columns in self._aci:
            assert mix.aci_209 is not None
            constants = ACI_209_CONSTANTS[mix.aci_209]
            fraction[:, columns] = aci_209_fraction(age_h[:, columns], *constants)
        return fraction

    def _gel(self, age_h: Floats, on: NDArray[np.intp]) -> Floats:
        """Give what strength goes with: a power of the gel-space ratio."""
        left = (self._tau_h[on] / np.maximum(age_h, 1e-6)) ** self._beta[on]
        degree = self._ultimate[on] * np.exp(-left)
        return np.asarray(
            gel_space_ratio(degree, self._water[on]) ** GEL_SPACE_EXPONENT
        )


def strength_coefficient(mix: Mix) -> float:
    """Coefficient of the Eurocode curve, from the 2-day strength where it is known.

    A slow cement whose shares are named is at least as slow as its class, and as a
    normal one with these shares.
    """
    if mix.strength_ratio_fraction is not None:
        return float(s_of_ratio(mix.strength_ratio_fraction))
    shares, water = shares_of(mix), mix.water_cement_fraction
    mean_mpa = mix.strength_mpa + _MARGIN_MPA
    of_class = s_of_class(mix.cement_class, mean_mpa) + slower_s(0.0, 0.0, water)
    base = "N" if mix.cement_class == "S" else mix.cement_class
    blended = s_of_class(base, mean_mpa) + slower_s(shares.slag, shares.fly_ash, water)
    return max(of_class, blended)


def _columns_of(
    mixes: Sequence[Mix], chosen: Callable[[Mix], bool]
) -> list[tuple[Mix, list[int]]]:
    """Mixes of a kind, each with its surfaces."""
    found: dict[str, list[int]] = {}
    for column, mix in enumerate(mixes):
        if chosen(mix):
            found.setdefault(mix.id, []).append(column)
    return [(mixes[columns[0]], columns) for columns in found.values()]


def _has_points_of_its_own(mix: Mix) -> bool:
    return bool(
        mix.strength_by_age_mpa
        or mix.strength_share_by_age_fraction
        or mix.ultimate_strength_mpa
    )


def _own_fraction(mix: Mix, age_h: Floats, set_age_h: Floats) -> Floats:
    """Share of the specified strength by the curve of the site's own tests."""
    if mix.ultimate_strength_mpa is not None:
        rate_per_h, begins_h = mix.strength_rate_per_h or 0.0, mix.strength_begins_h
        strength_mpa = hyperbolic_mpa(
            age_h,
            mix.ultimate_strength_mpa,
            rate_per_h,
            np.maximum(begins_h or 0.0, set_age_h),
        )
        return np.asarray(strength_mpa / mix.strength_mpa)
    ages_h, shares = np.array(
        mix.strength_by_age_mpa or mix.strength_share_by_age_fraction
    ).T
    if mix.strength_by_age_mpa:
        shares = shares / mix.strength_mpa
    # A table is written from (0, 0) on; strength begins at set.
    return table_fraction(age_h, ages_h[1:], shares[1:], set_age_h)
