"""Heat through concrete: closed solutions of textbooks against the heat solver."""

from collections.abc import Callable

import numpy as np
from scipy.optimize import brentq
from scipy.special import erf, erfcx

from models.hydration.face import convection_w_m2k
from models.hydration.heat import DegreeOfHydration
from models.hydration.section import sections
from models.hydration.temperature_history import temperatures
from tests.models.hydration.heat_builders import (
    CAPACITY_J_M3K,
    CONDUCTIVITY_W_MK,
    SURFACE_HELD_W_M2K,
    at_depth_c,
    course,
    layers,
    march,
    meet,
    plain_section,
    solver_at,
    steady_climate,
)
from tests.references.case import Case

_DIFFUSIVITY_M2_S = CONDUCTIVITY_W_MK / CAPACITY_J_M3K
_SOLID = "semi-infinite solid (Carslaw and Jaeger)"
_WALL = "plane wall, series (Incropera, ch. 5)"


def _deep(film: float, depth_m: float, hours: float) -> Callable[[], float]:
    """Share of the way from the start to the outside."""

    def ours() -> float:
        solver = solver_at(plain_section(1.0, 160), 30, 0.0)
        meet(solver, film, 1.0)
        march(solver, hours)
        return at_depth_c(solver, depth_m)

    return ours


def _held(depth_m: float, hours: float) -> float:
    return float(1 - erf(depth_m / 2 / np.sqrt(_DIFFUSIVITY_M2_S * hours * 3600)))


def _in_wind(film: float, depth_m: float, hours: float) -> float:
    root = np.sqrt(_DIFFUSIVITY_M2_S * hours * 3600)
    x = depth_m / 2 / root
    y = film / CONDUCTIVITY_W_MK * root
    return float(np.exp(-x * x) * (erfcx(x) - erfcx(x + y)))


def _wall(half_m: float, film: float, hours: float, *, face: bool) -> float:
    biot = film * half_m / CONDUCTIVITY_W_MK
    fourier = _DIFFUSIVITY_M2_S * hours * 3600 / half_m**2
    total = 0.0
    for n in range(30):
        edges = (n * np.pi + 1e-9, n * np.pi + np.pi / 2 - 1e-9)
        zeta = brentq(lambda z: z * np.tan(z) - biot, *edges)
        part = 4 * np.sin(zeta) / (2 * zeta + np.sin(2 * zeta))
        total += part * np.exp(-(zeta**2) * fourier) * (np.cos(zeta) if face else 1)
    return float(total)


def _our_wall(
    half_m: float, film: float, hours: float, *, face: bool
) -> Callable[[], float]:
    def ours() -> float:
        solver = solver_at(plain_section(half_m, 50), 60, 1.0)
        meet(solver, film, 0.0)
        march(solver, hours)
        return float((solver.surface_c() if face else solver.core_c())[0])

    return ours


def _our_parabola() -> float:
    solver = solver_at(plain_section(0.5, 200), 86_400, 0.0)
    meet(solver, SURFACE_HELD_W_M2K, 0.0)
    solver.set_source(np.full((200, 1), 500.0))
    march(solver, 24 * 60)
    return float(solver.core_c()[0])


def _our_adiabatic_c(hours: int) -> Callable[[], float]:
    """350 kg/m³ at 460 kJ/kg, of which 0.72; tau 14 h and beta 0.9 at 21.1 °C."""

    def ours() -> float:
        closed = layers(1, 1e12, 0.0, 0.0)
        heat = DegreeOfHydration(
            *(np.array([x]) for x in (350 * 460_000.0, 14.0, 0.9, 0.72))
        )
        history = temperatures(
            sections(["insulated"], np.array([0.3])), heat,
            course(stages=(closed, closed, closed)), steady_climate(hours + 1),
            (hours + 1) * 6, 10, 6,
        )  # fmt: skip
        return float(history.mean_c[hours * 6, 0])

    return ours


def _degree(age_h: float) -> Callable[[], float]:
    curve = DegreeOfHydration(*(np.array([x]) for x in (1.0, 15.06, 0.662, 0.72)))
    return lambda: float(curve.released_j_m3(np.array([[age_h]]))[0, 0])


def _film(wind_m_s: float) -> Callable[[], float]:
    return lambda: float(convection_w_m2k(wind_m_s))


CASES = (
    *(
        Case(
            f"held-{x:g}m-{t}h", _SOLID, "analytic",
            f"share of a surface step at {x:g} m after {t} h", "-",
            _held(x, t), _deep(SURFACE_HELD_W_M2K, x, t), 0.002,
        )
        for x, t in ((0.05, 1), (0.05, 6), (0.1, 6))
    ),
    *(
        Case(
            f"wind-{x:g}m-{t}h", _SOLID, "analytic",
            f"share of 20 W/(m² K) convection at {x:g} m after {t} h", "-",
            _in_wind(20, x, t), _deep(20, x, t), 0.002,
        )
        for x, t in ((0, 1), (0, 6), (0.1, 6))
    ),
    *(
        Case(
            f"wall-{half:g}m-{t}h-{'face' if face else 'centre'}", _WALL, "analytic",
            f"{'face' if face else 'centre'} of 2 × {half:g} m, {film} W/(m² K), {t} h",
            "-", _wall(half, film, t, face=face),
            _our_wall(half, film, t, face=face), 0.002,
        )
        for half, film, t in ((0.15, 10, 6), (0.15, 10, 24), (0.5, 20, 48))
        for face in (False, True)
    ),
    Case(
        "even-source", "q L² / (2 k)", "analytic",
        "middle over both faces held, 500 W/m³ over 2 × 0.5 m", "K",
        31.25, _our_parabola, 0.01,
    ),
    *(
        Case(
            f"adiabatic-{t}h", "own integration in steps of 0.01 h, noted down",
            "regression", f"adiabatic temperature from 20 °C at {t} h", "°C",
            expected, _our_adiabatic_c(t), 0.05,
        )
        for t, expected in ((24, 58.99), (48, 64.95), (72, 66.29), (168, 67.51))
    ),
    *(
        Case(
            f"hydration-{t}h", "Schindler and Folliard (2005), worked mix",
            "regression", f"degree of hydration at {t} h", "-",
            expected, _degree(t), 0.001,
        )
        for t, expected in ((12, 0.225), (24, 0.346), (72, 0.505), (168, 0.588))
    ),
    *(
        Case(
            f"film-{v}m_s", "NISTIR 6551 (Bentz 2000)", "regression",
            f"convective film at {v} m/s", "W/(m² K)", expected, _film(v), 0.01,
        )
        for v, expected in ((0, 5.6), (3, 17.6), (5, 25.6), (10, 43.38))
    ),
)  # fmt: skip
