"""Age and strength of surfaces by the rules of their profiles and mixes.

Takes the profile's word for which function counts; the functions themselves stand in
``equivalent_age.py``.
"""

from collections.abc import Sequence

import numpy as np

from models.hydration.equivalent_age import (
    ARRHENIUS_VALID_C,
    EUROCODE_VALID_C,
    age_at_starts_h,
    arrhenius_rate,
    arrhenius_variable_rate,
    eurocode_rate,
    nurse_saul_rate,
)
from models.hydration.mix_strength import MixStrength
from models.records import Floats, Mix, Profile

#: Rows worked on at a time: what they need stays in the processor's cache.
_ROWS = 48


def ageing_rate(
    profile: Profile, energy_j_mol: Floats, temperature_c: Floats
) -> Floats:
    """Rate of ageing by a profile's function; 0 where it is colder than that holds.

    Parameters
    ----------
    energy_j_mol : array (surfaces,)
        Activation energy of each mix, where the profile gives none. [J/mol]
    temperature_c : array (steps, surfaces)
        Surface temperatures. [°C]

    Raises
    ------
    OutOfRangeError
        If concrete is hotter than the function holds for.
    """
    if profile.maturity == "nurse_saul":
        return nurse_saul_rate(temperature_c, profile.datum_c)
    eurocode = profile.maturity == "eurocode"
    low_c = (EUROCODE_VALID_C if eurocode else ARRHENIUS_VALID_C)[0]
    counted_c = np.maximum(temperature_c, low_c)
    if eurocode:
        rate = eurocode_rate(counted_c)
    elif profile.maturity == "arrhenius":
        own = profile.activation_energy_j_mol
        rate = arrhenius_rate(counted_c, energy_j_mol if own is None else own)
    else:
        rate = arrhenius_variable_rate(counted_c)
    np.copyto(rate, 0.0, where=temperature_c < low_c)
    return rate


def age_and_strength(
    surface_temperature_c: Floats,
    profiles: Sequence[Profile],
    mixes: Sequence[Mix],
    step_h: float,
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

    Returns
    -------
    tuple of array (steps, surfaces)
        Equivalent age [h] and strength [-].
    """
    steps, surfaces = surface_temperature_c.shape
    age_h, strength = np.empty((steps, surfaces)), np.empty((steps, surfaces))
    energy = np.array([mix.activation_energy_j_mol for mix in mixes])
    growth = MixStrength(mixes)
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
                part[:] = ageing_rate(profile, energy, counted_c)
            else:
                part[:, columns] = ageing_rate(
                    profile, energy[columns], counted_c[:, columns]
                )
        np.copyto(part, 0.0, where=fresh)
        grown_h = age_at_starts_h(part, step_h)
        np.add(grown_h, carried_h, out=age_h[rows])
        carried_h = age_h[rows][-1] + part[-1] * step_h
        strength[rows] = growth.fraction(age_h[rows])
    return age_h, strength
