"""Figures of a mix: what the site gives, else what its binder makes them.

The bridge from the record to ``binder.py``.
"""

from collections.abc import Callable, Sequence
from typing import TypeVar

from models.hydration.binder import (
    BinderHeat,
    Shares,
    binder_heat,
    cement_of,
    set_delay_h,
    strength_energy_j_mol,
)
from models.records import Mix

T = TypeVar("T")


def of_each(mixes: Sequence[Mix], figure: Callable[[Mix], T]) -> list[T]:
    """Work a figure out once for each mix, and give it to every surface of that mix."""
    known = {id(mix): figure(mix) for mix in {id(mix): mix for mix in mixes}.values()}
    return [known[id(mix)] for mix in mixes]


def shares_of(mix: Mix) -> Shares:
    """Shares of the binder; what has no name counts as slag."""
    return Shares(mix.as_slag_fraction, mix.fly_ash_fraction, mix.silica_fume_fraction)


def heat_figures(mix: Mix) -> BinderHeat:
    """Hydration curve of a mix's binder."""
    shares = shares_of(mix)
    cement = cement_of(mix.cement_class, shares)
    usual = binder_heat(cement, shares, mix.water_cement_fraction)
    own = (
        mix.heat_j_kg,
        mix.tau_h,
        mix.beta_fraction,
        mix.alpha_ultimate_fraction,
        mix.heat_activation_energy_j_mol,
    )
    return BinderHeat(
        *(u if given is None else given for given, u in zip(own, usual, strict=True))
    )


def energy_j_mol(mix: Mix) -> float:
    """Activation energy of setting and strength [J/mol]."""
    given = mix.activation_energy_j_mol
    return strength_energy_j_mol(shares_of(mix)) if given is None else given


def set_times_h(mix: Mix) -> tuple[float, float]:
    """Give both sets at 20 °C, from batching; one given moves the other [h]."""
    shares = shares_of(mix)
    cement = cement_of(mix.cement_class, shares)
    delay_h = set_delay_h(shares)
    between_h = cement.final_set_h - cement.initial_set_h
    initial_h, final_h = mix.initial_set_h, mix.final_set_h
    if initial_h is None:
        usual_h = cement.initial_set_h + delay_h
        initial_h = (
            usual_h if final_h is None else max(final_h - between_h, final_h / 2)
        )
    return initial_h, initial_h + between_h if final_h is None else final_h
