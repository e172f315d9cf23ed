"""Concretes held at one temperature: strength and heat as the clock has them."""

from functools import cache
from typing import Literal

import numpy as np

from models.drying.ranges import Floats
from models.hydration.ageing import ageing_rate
from models.hydration.binder import BinderHeat
from models.hydration.heat import DegreeOfHydration, heat_rate
from models.hydration.mix_figures import energy_j_mol, heat_figures, set_times_h
from models.hydration.mix_strength import MixStrength
from models.hydration.section import sections
from models.hydration.setting import setting_rate
from models.hydration.temperature_history import temperatures
from models.records import Mix
from tests.builders import profile
from tests.models.hydration.heat_builders import course, layers, steady_climate

Maturity = Literal["arrhenius", "eurocode"]


def mix(strength_mpa: float = 30, cement_kg_m3: float = 350, **fields: object) -> Mix:
    """A mix; what is not said is as the record has it."""
    base = {"id": "x", "strength_mpa": strength_mpa, "cement_kg_m3": cement_kg_m3}
    return Mix.model_validate(base | fields)


def shares_at(of: Mix, temperature_c: float, hours: Floats, by: Maturity) -> Floats:
    """Share of the mean strength after hours at one temperature."""
    energy = np.array([energy_j_mol(of)])
    rule = profile().model_copy(update={"maturity": by})
    pace = ageing_rate(rule, energy, np.array([[temperature_c]]), np.zeros(1))[0, 0]
    sets_h = set_times_h(of)[1] / float(setting_rate(temperature_c, energy[0]))
    growth = MixStrength([of], np.array([sets_h * pace]))
    return growth.fraction((hours * pace)[:, None])[:, 0]


def share(of: Mix, days: float, temperature_c: float = 20.0) -> float:
    """Share of the mean strength after days at one temperature."""
    hours = np.array([24.0 * days])
    return float(shares_at(of, temperature_c, hours, "arrhenius")[0])


def hours_to(of: Mix, wanted_share: float, temperature_c: float, by: Maturity) -> float:
    """Hours at one temperature until a share of the mean strength is there."""
    hours = np.linspace(0, 400, 40_001)
    reached = shares_at(of, temperature_c, hours, by) >= wanted_share
    return float(hours[np.argmax(reached)])


def heat_kj_kg(of: Mix, days: float, temperature_c: float = 20.0) -> float:
    """Heat of a kilogram of binder after days at one temperature."""
    figures = heat_figures(of)
    pace = float(heat_rate(np.array(temperature_c), np.array(figures.energy_j_mol)))
    curve = _curve(figures, 1.0)
    age = np.array([[24 * days * pace]])
    return float(curve.released_j_m3(age)[0, 0]) / 1000


@cache
def adiabatic_rise_k(of: Mix, start_c: float, days: float) -> float:
    """Rise of sealed concrete, from its placing on."""
    closed = layers(1, 1e12, 0.0, 0.0)
    hours = round(24 * days)
    figures = heat_figures(of)
    history = temperatures(
        sections(["insulated"], np.array([0.3])), _curve(figures, of.cement_kg_m3),
        course(
            stages=(closed, closed, closed),
            heat_energy_j_mol=np.array([figures.energy_j_mol]),
            placing_temperature_c=np.array([start_c]),
        ),
        steady_climate(hours + 1), (hours + 1) * 6, 10, 6,
    )  # fmt: skip
    return float(history.mean_c[hours * 6, 0]) - start_c


def _curve(figures: BinderHeat, binder_kg_m3: float) -> DegreeOfHydration:
    return DegreeOfHydration(
        total_j_m3=np.array([figures.heat_j_kg * binder_kg_m3]),
        tau_h=np.array([figures.tau_h]),
        beta=np.array([figures.beta]),
        ultimate_fraction=np.array([figures.ultimate_fraction]),
    )
