"""Age and strength of surfaces by the rules of their profiles and mixes.

Takes the profile's word for which function counts; the functions themselves stand in
``equivalent_age.py``.
"""

from collections.abc import Sequence

import numpy as np

from models.hydration.binder import PLAIN_ENERGY_J_MOL
from models.hydration.equivalent_age import (
    ARRHENIUS_VALID_C,
    age_at_starts_h,
    arrhenius_rate,
    arrhenius_unchecked,
    arrhenius_variable_rate,
    eurocode_rate,
    nurse_saul_rate,
    share_in_frost,
)
from models.hydration.mix_figures import energy_j_mol, of_each
from models.hydration.mix_strength import MixStrength
from models.records import Floats, Mix, Profile

#: Rows worked on at a time: what they need stays in the processor's cache.
_ROWS = 48


def ageing_rate(
    profile: Profile, energy_j_mol: Floats, temperature_c: Floats, more_j_mol: Floats
) -> Floats:
    """Rate of ageing by a profile's function; below 0 °C straight to 0 at -10 °C.

    Concrete hotter than 80 °C counts as if it had them: no function holds there, and
    that it is so hot is for the limits of the rule to say.

    Parameters
    ----------
    energy_j_mol : array (surfaces,)
        Activation energy of each mix, where the profile gives none. [J/mol]
    temperature_c : array (steps, surfaces)
        Surface temperatures. [°C]
    more_j_mol : array (surfaces,)
        By how much a binder is spurred on more by warmth than Portland cement, on
        which the functions of the profiles were found. [J/mol]
    """
    hottest_c = ARRHENIUS_VALID_C[1]
    warm_c = np.clip(temperature_c, 0.0, hottest_c)
    if profile.maturity == "nurse_saul":
        rate = nurse_saul_rate(np.minimum(temperature_c, hottest_c), profile.datum_c)
    else:
        rate = _above_frost(profile, energy_j_mol, warm_c)
        if temperature_c.min() < 0:
            rate *= share_in_frost(temperature_c)
    counted = (
        profile.maturity == "arrhenius" and profile.activation_energy_j_mol is None
    )
    if more_j_mol.any() and not counted:
        rate *= arrhenius_unchecked(warm_c, more_j_mol)
    return rate


def _above_frost(
    profile: Profile, energy_j_mol: Floats, temperature_c: Floats
) -> Floats:
    """Rate by a profile's function of nature, from 0 °C up."""
    if profile.maturity == "eurocode":
        return eurocode_rate(temperature_c)
    if profile.maturity == "arrhenius":
        own = profile.activation_energy_j_mol
        return arrhenius_rate(temperature_c, energy_j_mol if own is None else own)
    return arrhenius_variable_rate(temperature_c)


def age_and_strength(
    surface_temperature_c: Floats,
    profiles: Sequence[Profile],
    mixes: Sequence[Mix],
    step_h: float,
    set_after_h: Floats,
) -> tuple[Floats, Floats]:
    """Equivalent age and share of the specified strength at the start of each step.

    Parameters
    ----------
    surface_temperature_c : array (steps, surfaces)
        NaN before placing, where age and strength are 0. [°C]
    profiles, mixes : sequence
        Those of each surface.
    step_h : float
        Length of a step. [h]
    set_after_h : array (surfaces,)
        From the first step to final set; there is no strength before. [h]

    Returns
    -------
    tuple of array (steps, surfaces)
        Equivalent age [h] and strength [-].
    """
    age_h = _ages_h(surface_temperature_c, profiles, mixes, step_h)
    growth = MixStrength(mixes, _age_after_h(age_h, set_after_h / step_h))
    strength = np.empty(age_h.shape)
    for first in range(0, age_h.shape[0], _ROWS):
        rows = slice(first, first + _ROWS)
        strength[rows] = growth.fraction(age_h[rows])
    return age_h, strength


def _ages_h(
    surface_temperature_c: Floats,
    profiles: Sequence[Profile],
    mixes: Sequence[Mix],
    step_h: float,
) -> Floats:
    """Equivalent age at the start of each step."""
    steps, surfaces = surface_temperature_c.shape
    age_h = np.empty((steps, surfaces))
    energy = np.array(of_each(mixes, energy_j_mol))
    more = np.maximum(energy - PLAIN_ENERGY_J_MOL, 0.0)
    groups: dict[int, list[int]] = {}
    for column, profile in enumerate(profiles):
        groups.setdefault(id(profile), []).append(column)

    carried_h = np.zeros(surfaces)
    rate = np.empty((_ROWS, surfaces))
    for first in range(0, steps, _ROWS):
        rows = slice(first, min(first + _ROWS, steps))
        part_c = surface_temperature_c[rows]
        fresh = np.isnan(part_c)
        counted_c = np.where(fresh, 0.0, part_c)
        part = rate[: part_c.shape[0]]
        for columns in groups.values():
            profile = profiles[columns[0]]
            if len(groups) == 1:
                part[:] = ageing_rate(profile, energy, counted_c, more)
            else:
                part[:, columns] = ageing_rate(
                    profile, energy[columns], counted_c[:, columns], more[columns]
                )
        np.copyto(part, 0.0, where=fresh)
        grown_h = age_at_starts_h(part, step_h)
        np.add(grown_h, carried_h, out=age_h[rows])
        carried_h = age_h[rows][-1] + part[-1] * step_h
    return age_h


def _age_after_h(age_h: Floats, steps: Floats) -> Floats:
    """Age of each surface after so many steps; infinite beyond the last [h]."""
    columns = np.arange(age_h.shape[1])
    last = age_h.shape[0] - 1
    first = np.clip(np.floor(steps), 0, max(last - 1, 0)).astype(np.int64)
    young_h, old_h = age_h[first, columns], age_h[np.minimum(first + 1, last), columns]
    reached_h = young_h + (old_h - young_h) * (steps - first)
    return np.where(steps > last, np.inf, reached_h)
