"""A slab on ground under a dry quilt, computed with the finite volumes of FiPy.

:func:`ours` is the project's solver; :func:`by_fipy` shares with it the figures at the
head of this file alone. Conductances, radiation and heat of hydration are written out
again there, in steps of six minutes and cells of 10 mm in concrete, 50 mm in ground.
"""

from functools import cache

import numpy as np

from models.drying.ranges import Floats
from models.hydration.face import climate
from models.hydration.heat import DegreeOfHydration
from models.hydration.section import sections
from models.hydration.temperature import Section
from models.hydration.temperature_history import Temperatures, temperatures
from tests.models.hydration.heat_builders import SURFACE_HELD_W_M2K, course, layers
from tests.references.packages import fipy

_HOURS = 30
_THICK_M, _DEEP_M = 0.25, 1.5
_CELLS, _GROUND_CELLS, _STEP_S = 25, 30, 360
#: Conductivity and heat capacity. [W/(m K), J/(m³ K)]
_CONCRETE, _GROUND = (2.0, 2.4e6), (1.5, 2.0e6)
_QUILT_M2K_W, _ABSORPTIVITY, _EMISSIVITY = 0.14, 0.6, 0.9
_PLACED_C, _DEEP_C = 20.0, 12.0
#: 350 kg/m³ at 460 kJ/kg of which 0.72, tau 14 h, beta 0.9, 40 kJ/mol.
_HEAT_J_M3, _TAU_H, _BETA, _ULTIMATE = 350 * 460_000.0, 14.0, 0.9, 0.72
_ENERGY_OVER_GAS_K, _REFERENCE_K = 40_000 / 8.314, 294.25

_HOUR = np.arange(_HOURS)
_DAY = np.sin(2 * np.pi * (_HOUR - 9) / 24)
_AIR_C, _HUMIDITY, _WIND_M_S = 14 + 6 * _DAY, 0.6 - 0.2 * _DAY, 2.5 + _DAY
_SUN_W_M2 = 600 * np.maximum(0, np.sin(np.pi * (_HOUR % 24 - 6) / 12))
_SKY_C = 2 + 4 * _DAY


@cache
def ours(*, same_cells: bool) -> Temperatures:
    """March the slab with the project's solver, in the cells of its clock or FiPy's."""
    as_cut = sections(["on_ground"], np.array([_THICK_M]))
    quilt = layers(1, _QUILT_M2K_W, _ABSORPTIVITY, 0.0)
    heat = (_HEAT_J_M3, _TAU_H, _BETA, _ULTIMATE)
    weather = (_AIR_C, _HUMIDITY, _WIND_M_S, _SUN_W_M2, _SKY_C)
    return temperatures(
        _fine_section() if same_cells else as_cut,
        DegreeOfHydration(*(np.array([figure]) for figure in heat)),
        course(stages=(quilt, quilt, quilt), ground_temperature_c=_DEEP_C),
        climate(*(row[:, None] for row in weather)),
        _HOURS * 6, 10, 6,
    )  # fmt: skip


def _fine_section() -> Section:
    """Cut the slab and its ground as :func:`by_fipy` does."""
    concrete = (np.arange(_CELLS + _GROUND_CELLS) < _CELLS)[:, None]
    return Section(
        size_m=_size_m()[:, None],
        conductivity_w_mk=np.where(concrete, _CONCRETE[0], _GROUND[0]),
        capacity_j_m3k=np.where(concrete, _CONCRETE[1], _GROUND[1]),
        concrete=concrete,
        middle_cell=np.array([_CELLS // 2]),
        far_w_m2k=np.array([SURFACE_HELD_W_M2K]),
    )


@cache
def by_fipy() -> tuple[Floats, Floats]:
    """Give the warmest and the mean of the concrete at every full hour, from 0 [°C]."""
    mesh = fipy.Grid1D(dx=_size_m())
    below_m = np.maximum(mesh.x.value - _THICK_M, 0)
    start_c = _AIR_C.mean() + (_DEEP_C - _AIR_C.mean()) * below_m / _DEEP_M
    start_c[:_CELLS] = _PLACED_C
    warmth = fipy.CellVariable(mesh=mesh, value=start_c)
    warmth.constrain(_DEEP_C, mesh.facesRight)
    conductivity = fipy.CellVariable(mesh=mesh, value=_GROUND[0])
    capacity = fipy.CellVariable(mesh=mesh, value=_GROUND[1])
    conductivity[:_CELLS], capacity[:_CELLS] = _CONCRETE
    source = fipy.CellVariable(mesh=mesh, value=0.0)
    flow = fipy.DiffusionTerm(coeff=conductivity.harmonicFaceValue)
    equation = fipy.TransientTerm(coeff=capacity) == flow + source
    solver = fipy.LinearLUSolver()

    first_m = _THICK_M / _CELLS
    into_first_w_m2k = 1 / (_QUILT_M2K_W + first_m / 2 / _CONCRETE[0])
    age_h, quilt_c = np.zeros(_CELLS), _PLACED_C
    warmest_c, mean_c = [], []
    for hour in range(_HOURS):
        warmest_c.append(warmth.value[:_CELLS].max())
        mean_c.append(warmth.value[:_CELLS].mean())
        for _ in range(3600 // _STEP_S):
            concrete_c = warmth.value[:_CELLS]
            quilt_c = _quilt_c(quilt_c, concrete_c[0], into_first_w_m2k, hour)
            older_h = age_h + _STEP_S / 3600 * _rate(concrete_c)
            source[:_CELLS] = (_released(older_h) - _released(age_h)) / _STEP_S
            source[0] += into_first_w_m2k * (quilt_c - concrete_c[0]) / first_m
            age_h = older_h
            equation.solve(var=warmth, dt=_STEP_S, solver=solver)
    return np.array(warmest_c), np.array(mean_c)


def _size_m() -> Floats:
    sizes_m = [_THICK_M / _CELLS, _DEEP_M / _GROUND_CELLS]
    return np.repeat(sizes_m, [_CELLS, _GROUND_CELLS])


def _rate(concrete_c: Floats) -> Floats:
    colder = 1 / _REFERENCE_K - 1 / (concrete_c + 273.15)
    return np.asarray(np.exp(_ENERGY_OVER_GAS_K * colder))


def _released(age_h: Floats) -> Floats:
    share = np.exp(-((_TAU_H / np.maximum(age_h, 1e-6)) ** _BETA))
    return np.asarray(_HEAT_J_M3 * _ULTIMATE * share)


def _quilt_c(
    guess_c: float, first_c: float, into_first_w_m2k: float, hour: int
) -> float:
    """Balance the quilt's outer face by Newton's steps."""
    film = 5.6 + 4.0 * _WIND_M_S[hour]
    black = _EMISSIVITY * 5.670374e-8
    for _ in range(4):
        kelvin = guess_c + 273.15
        gains = (
            _ABSORPTIVITY * _SUN_W_M2[hour]
            + film * (_AIR_C[hour] - guess_c)
            + black * ((_SKY_C[hour] + 273.15) ** 4 - kelvin**4)
            + into_first_w_m2k * (first_c - guess_c)
        )
        guess_c += gains / (film + into_first_w_m2k + 4 * black * kelvin**3)
    return float(guess_c)
