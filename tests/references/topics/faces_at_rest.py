"""Bare faces that have come to rest in steady weather, and covers that store heat.

The balance is written out again: the Army's film, Menzel in his own units, vapour
pressure and latent heat of packages, solved by bisection. What shares our figures is
the concrete's share of sun and sky.
"""

from collections.abc import Callable
from functools import partial
from math import exp
from typing import NamedTuple

import iapws
import numpy as np
import psychrolib
from scipy.optimize import brentq

from models.drying.covers import cover_properties
from models.hydration.course import (
    CONCRETE_EMISSIVITY_FRACTION,
    FORM_ABSORPTIVITY_FRACTION,
    WET_ABSORPTIVITY_FRACTION,
)
from models.hydration.face import with_capacity
from models.hydration.heat import DegreeOfHydration
from models.hydration.section import sections
from models.hydration.temperature_history import temperatures
from tests.models.hydration.heat_builders import course, layers, steady_climate
from tests.references.case import Case

_BALANCE = "psychrolib and USACE ETL 1110-2-365, bisection"
_HOURS = 96


class _Weather(NamedTuple):
    air_c: float
    humidity: float
    wind_m_s: float
    solar_w_m2: float
    sky_c: float


_WEATHERS = {
    "night": _Weather(15, 0.85, 1.0, 0, 2),
    "noon": _Weather(25, 0.5, 2.0, 800, 12),
    "desert": _Weather(40, 0.12, 4.0, 950, 18),
    "gale": _Weather(12, 0.7, 8.0, 200, 4),
    "calm noon": _Weather(30, 0.4, 0.3, 900, 15),
}


def _rests_at_c(weather: _Weather, *, wet: bool) -> float:
    """A thin slab without heat of its own and nothing behind it."""
    face = layers(1, 0.0, WET_ABSORPTIVITY_FRACTION, np.inf if wet else 0.0)
    none = DegreeOfHydration(*(np.array([x]) for x in (0.0, 15.0, 0.8, 0.7)))
    found = temperatures(
        sections(["insulated"], np.array([0.1])), none,
        course(stages=(face, face, face)), steady_climate(_HOURS, *weather),
        6 * _HOURS, 10, 6,
    )  # fmt: skip
    return float(found.surface_c[-1, 0])


def _by_bisection_c(weather: _Weather, *, wet: bool) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    mph = weather.wind_m_s / 0.44704
    etl = 0.0513 * mph + 0.165 if mph < 10.9 else 0.1132 * mph**0.8
    film = etl * 1055.06 / 86400 / 645.16e-6 * 1.8
    menzel = 0.44 * (0.253 + 0.096 * mph) * 4.88243 / 6.894757 if wet else 0.0
    steam, water = (iapws.IAPWS97(T=weather.air_c + 273.15, x=x).h for x in (1, 0))
    latent_wh_kg = (steam - water) * 1000 / 3600
    held = psychrolib.GetVapPresFromRelHum(weather.air_c, weather.humidity) / 1000

    def gains(at_c: float) -> float:
        lost = psychrolib.GetSatVapPres(at_c) / 1000 - held
        sky_k, face_k = weather.sky_c + 273.15, at_c + 273.15
        return float(
            WET_ABSORPTIVITY_FRACTION * weather.solar_w_m2
            + CONCRETE_EMISSIVITY_FRACTION * 5.6704e-8 * (sky_k**4 - face_k**4)
            + film * (weather.air_c - at_c)
            - latent_wh_kg * menzel * max(lost, 0.0)
        )

    return float(brentq(gains, 0.02, 90))


_POND = cover_properties("pond")


def _warmed(film: float, hours: int) -> Callable[[], float]:
    """Share of the way that a pond has gone towards outside, by the hour."""

    def ours() -> float:
        at = 0.0
        for _ in range(hours):
            _, met_c = with_capacity(
                np.array([film]), np.array([1.0]), np.array([at]),
                np.array([1000 * _POND.capacity_kj_m2k]), 3600,
            )  # fmt: skip
            at = float(met_c[0])
        return at

    return ours


def _density_times_heat_kj_m3k() -> float:
    water = iapws.IAPWS97(T=293.15, P=0.101325)
    return float(water.rho * water.cp)


def _sand(name: str) -> Callable[[], float]:
    return lambda: float(getattr(cover_properties("wet_sand"), name))


CASES = (
    # The films differ by 2 % in ordinary wind and 6 % in a gale.
    *(
        Case(
            f"rests-{'wet' if wet else 'dry'}-{name.replace(' ', '-')}", _BALANCE,
            "package", f"{'wet' if wet else 'dry'} face in steady weather, {name}",
            "°C", _by_bisection_c(weather, wet=wet),
            partial(_rests_at_c, weather, wet=wet), 0.6,
        )
        for wet in (True, False)
        for name, weather in _WEATHERS.items()
    ),
    # 0.59 dry and six weeks old; less by 0.23 when wet, by 0.08 when fresh.
    Case(
        "absorbs-wet", "Levinson and Akbari (2001), abstract", "read",
        "share of the sun that wet young concrete takes", "-", 1 - 0.59 + 0.23 + 0.08,
        lambda: WET_ABSORPTIVITY_FRACTION, 0.10,
    ),
    Case(
        "absorbs-form", "plywood, weathered, textbooks", "from memory",
        "share of the sun that a form takes", "-", 0.65,
        lambda: FORM_ABSORPTIVITY_FRACTION, 0.1,
    ),
    Case(
        "emits-concrete", "Marceau and VanGeem (2008)", "read",
        "emittance of concrete, 0.85 to 0.95", "-", 0.9,
        lambda: CONCRETE_EMISSIVITY_FRACTION, 0.05,
    ),
    Case(
        "pond-stores", "iapws, density and heat of water", "package",
        "25 mm of water", "kJ/(m² K)", 0.025 * _density_times_heat_kj_m3k(),
        lambda: _POND.capacity_kj_m2k, 0.02, True,
    ),
    Case(
        "pond-holds", "iapws, density of water", "package", "25 mm of water", "L/m²",
        25.0, lambda: _POND.held_l_m2, 0.1,
    ),
    # Implicit steps of an hour lag behind the exponential.
    *(
        Case(
            f"pond-warms-{hours}h", "lumped capacity (Incropera, ch. 5)", "analytic",
            f"share of the way of a pond in {hours} h, 20 W/(m² K) over 25 mm", "-",
            1 - exp(-20 * 3600 * hours / (0.025 * 4.18e6)), _warmed(20.0, hours), 0.1,
        )
        for hours in (1, 2, 4)
    ),
    # Sand full of water: 2.2 to 2.8 MJ/(m³ K), 1.7 to 5 W/(m K), 2.4 as a rule.
    Case(
        "sand-stores", "VDI 4640, sand full of water", "from memory", "50 mm of it",
        "kJ/(m² K)", 125.0, _sand("capacity_kj_m2k"), 15.5,
    ),
    Case(
        "sand-resists", "VDI 4640, sand full of water", "from memory", "50 mm of it",
        "m² K/W", 0.05 / 2.4, _sand("resistance_m2k_w"), 0.012,
    ),
)  # fmt: skip
