"""Figures of concrete, ground and forms; tests of a site's own brought back by ours."""

from collections.abc import Callable
from functools import cache

import numpy as np
from scipy.integrate import solve_ivp
from structuralcodes.codes import ec2_2004, mc2010

from models.drying.ranges import Floats
from models.hydration.course import curve_of, heat_of
from models.hydration.section import (
    CONCRETE_CAPACITY_J_M3K,
    CONCRETE_CONDUCTIVITY_W_MK,
    FORM_RESISTANCE_M2K_W,
    GROUND_CAPACITY_J_M3K,
    GROUND_CONDUCTIVITY_W_MK,
    STILL_AIR_W_M2K,
    sections,
)
from models.hydration.temperature_history import temperatures
from models.records import Mix
from tests.models.hydration.heat_builders import course, layers, steady_climate
from tests.references.case import Case
from tests.references.concretes import mix, share

_ISO_10456 = "ISO 10456, design values"
_ISO_13370 = "ISO 13370, ground"
_ISO_6946 = "ISO 6946, surface resistances"

#: An adiabatic test of 360 kg/m³ from 20 °C, as such tests look [h, K].
_TEST = ((0, 0), (6, 1.5), (9, 6), (12, 13), (18, 25), (24, 32), (36, 39), (48, 42),
         (72, 45), (120, 47.5), (168, 48.5))  # fmt: skip
_TESTED = mix(cement_kg_m3=360).model_copy(
    update={"adiabatic_rise_k": _TEST, "adiabatic_start_c": 20.0}
)


def _sealed_k(of: Mix, start_c: float) -> Floats:
    """Rise of the mix, sealed, at every hour."""
    closed = layers(1, 1e12, 0.0, 0.0)
    found = temperatures(
        sections(["insulated"], np.array([0.3])), heat_of([of], curve_of([of])),
        course(
            stages=(closed, closed, closed), placing_temperature_c=np.array([start_c])
        ),
        steady_climate(170), 170 * 6, 10, 6,
    )  # fmt: skip
    return np.asarray(found.mean_c[::6, 0] - start_c)


@cache
def _ours_k(start_c: float) -> Floats:
    return _sealed_k(_TESTED, start_c)


def _ours(start_c: float, hour: int) -> Callable[[], float]:
    return lambda: float(_ours_k(start_c)[hour])


@cache
def _colder_k() -> Floats:
    """The test begun at 10 °C: each kelvin of it at the pace of its temperature."""
    hours, rise = np.array(_TEST, dtype=np.float64).T
    per_k = 40_000 / 8.314

    def slope(_: float, risen_k: Floats) -> Floats:
        k = float(risen_k[0])
        section = min(int(np.searchsorted(rise, k, side="right")), len(rise) - 1)
        pace = (rise[section] - rise[section - 1]) / (
            hours[section] - hours[section - 1]
        )
        as_fast = np.exp(per_k * (1 / (293.15 + k) - 1 / (283.15 + k)))
        return np.array([pace * as_fast])

    found = solve_ivp(slope, (0, 168), [0.0], max_step=0.05, t_eval=np.arange(169.0))
    return np.asarray(found.y[0])


def _same_class(strength_mpa: float) -> Callable[[], float]:
    return lambda: share(mix(strength_mpa, water_cement_fraction=0.45), 7)


def _by_model_code(strength_mpa: float) -> float:
    mean = float(ec2_2004.fcm(strength_mpa, 8))
    return float(np.squeeze(mc2010.beta_cc(7, mean, "42.5 N")))


CASES = (
    # The test of a site comes back as it was; between its rows it is straight by the
    # clock, ours by the age.
    *(
        Case(
            f"own-test-{hour}h", "an adiabatic test, given to the clock", "analytic",
            f"sealed from 20 °C as tested, rise after {hour} h", "K", float(rise),
            _ours(20.0, hour), 0.5,
        )
        for hour, rise in _TEST
        if hour >= 9
    ),
    *(
        Case(
            f"colder-test-{hour}h", "scipy, initial value problem", "package",
            f"the same concrete from 10 °C, rise after {hour} h", "K",
            float(_colder_k()[hour]), _ours(10.0, hour), 0.7,
        )
        for hour in (12, 24, 36, 48, 72, 120)
    ),
    *(
        Case(
            f"class-counts-to-{strength}", "EN 1992-1-1, Table 3.1, structuralcodes",
            "package", f"share at 7 d of C{strength}, 8 MPa more on average, 42.5 N",
            "-", _by_model_code(strength), _same_class(strength), 0.001,
        )
        for strength in (30, 51, 53, 60)
    ),
    Case(
        "conducts", _ISO_10456, "from memory", "concrete of 2400 kg/m³", "W/(m K)",
        2.0, lambda: CONCRETE_CONDUCTIVITY_W_MK, 0.35,
    ),
    Case(
        "stores", _ISO_10456, "from memory", "concrete of 2400 kg/m³, 1000 J/(kg K)",
        "MJ/(m³ K)", 2.4, lambda: CONCRETE_CAPACITY_J_M3K / 1e6, 0.15,
    ),
    # Clay or silt 1.5, sand or gravel 2.0.
    Case(
        "ground-conducts", _ISO_13370, "from memory", "clay to gravel", "W/(m K)", 1.75,
        lambda: GROUND_CONDUCTIVITY_W_MK, 0.26,
    ),
    # 3.0 and 2.0.
    Case(
        "ground-stores", _ISO_13370, "from memory", "clay to gravel", "MJ/(m³ K)", 2.5,
        lambda: GROUND_CAPACITY_J_M3K / 1e6, 0.51,
    ),
    Case(
        "form-resists", _ISO_10456, "from memory", "18 mm of plywood, 0.13 W/(m K)",
        "m² K/W", 0.138, lambda: FORM_RESISTANCE_M2K_W, 0.1, True,
    ),
    Case(
        "form-resists-ashrae", "ASHRAE Fundamentals, plywood", "from memory",
        "18 mm at 0.115 W/(m K)", "m² K/W", 0.157, lambda: FORM_RESISTANCE_M2K_W, 0.15,
        True,
    ),
    # Heat down 0.17, sideways 0.13, up 0.10 m² K/W.
    Case(
        "still-air", _ISO_6946, "from memory", "inner face, down to up", "W/(m² K)",
        7.7, lambda: STILL_AIR_W_M2K, 2.3,
    ),
)  # fmt: skip
