from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.special import erf, erfcx

from models.drying.ranges import Floats
from models.hydration.section import sections
from models.hydration.temperature import (
    HeatSolver,
)
from tests.models.hydration.heat_builders import (
    CAPACITY_J_M3K,
    CONDUCTIVITY_W_MK,
    SURFACE_HELD_W_M2K,
    at_depth_c,
    march,
    meet,
    plain_section,
    solver_at,
)

DIFFUSIVITY_M2_S = CONDUCTIVITY_W_MK / CAPACITY_J_M3K


# Exact: Carslaw and Jaeger, semi-infinite solid, surface temperature raised at once.
@pytest.mark.parametrize(("depth_m", "hours"), [(0.05, 1), (0.05, 6), (0.1, 6)])
def test_deep_concrete_whose_surface_is_held_follows_erf(
    depth_m: float, hours: float
) -> None:
    solver = solver_at(plain_section(1.0, 160), 30, 30.0)
    meet(solver, SURFACE_HELD_W_M2K, 10.0)
    march(solver, hours)
    exact = erf(depth_m / (2 * np.sqrt(DIFFUSIVITY_M2_S * hours * 3600)))
    assert (at_depth_c(solver, depth_m) - 10) / 20 == pytest.approx(exact, abs=0.002)


# Exact: Carslaw and Jaeger, semi-infinite solid, convection at the surface.
@pytest.mark.parametrize(("depth_m", "hours"), [(0, 1), (0, 6), (0.1, 6)])
def test_deep_concrete_in_the_wind_follows_its_exact_solution(
    depth_m: float, hours: float
) -> None:
    film = 20.0
    solver = solver_at(plain_section(1.0, 160), 30, 0.0)
    meet(solver, film, 1.0)
    march(solver, hours)
    root = np.sqrt(DIFFUSIVITY_M2_S * hours * 3600)
    x = depth_m / (2 * root)
    y = film / CONDUCTIVITY_W_MK * root
    exact = np.exp(-x * x) * (erfcx(x) - erfcx(x + y))
    assert at_depth_c(solver, depth_m) == pytest.approx(exact, abs=0.002)


def plane_wall(half_m: float, film: float, hours: float) -> tuple[float, float]:
    """Centre and face of a wall cooled on both faces, by its series."""
    biot = film * half_m / CONDUCTIVITY_W_MK
    fourier = DIFFUSIVITY_M2_S * hours * 3600 / half_m**2
    centre = face = 0.0
    for n in range(30):
        low, high = n * np.pi + 1e-9, n * np.pi + np.pi / 2 - 1e-9
        zeta = brentq(lambda z: z * np.tan(z) - biot, low, high)
        part = 4 * np.sin(zeta) / (2 * zeta + np.sin(2 * zeta))
        part *= np.exp(-(zeta**2) * fourier)
        centre, face = centre + part, face + part * np.cos(zeta)
    return centre, face


@pytest.mark.parametrize(
    ("half_m", "film", "hours"), [(0.15, 10, 6), (0.15, 10, 24), (0.5, 20, 48)]
)
def test_wall_cooled_on_both_faces_follows_its_series(
    half_m: float, film: float, hours: float
) -> None:
    solver = solver_at(plain_section(half_m, 50), 60, 1.0)
    meet(solver, film, 0.0)
    march(solver, hours)
    centre, face = plane_wall(half_m, film, hours)
    assert solver.core_c()[0] == pytest.approx(centre, abs=0.002)
    assert solver.surface_c()[0] == pytest.approx(face, abs=0.002)


def test_steady_even_heat_stands_as_a_parabola() -> None:
    # Both faces held: q L² / (2 k) = 500 × 0.5² / (2 × 2) = 31.25 K at the middle.
    solver = solver_at(plain_section(0.5, 200), 86_400, 0.0)
    meet(solver, SURFACE_HELD_W_M2K, 0.0)
    solver.set_source(np.full((200, 1), 500.0))
    march(solver, 24 * 60)
    assert solver.core_c()[0] == pytest.approx(31.25, abs=0.01)
    # Its mean is two thirds of its height.
    assert solver.mean_c()[0] == pytest.approx(31.25 * 2 / 3, abs=0.01)


def test_one_step_is_the_solution_of_the_written_out_equations() -> None:
    rng = np.random.default_rng(5)
    section = sections(["on_ground"], np.array([0.25]))
    start_c = rng.uniform(0, 40, section.size_m.shape)
    solver = HeatSolver(section, 600, start_c)
    solver.set_far(np.array([9.0]))
    solver.set_source(np.full(section.size_m.shape, 700.0))
    solver.set_face(np.array([0.2]), np.array([15.0]), np.array([31.0]))
    solver.step()

    cells = section.size_m.shape[0]
    size, k = section.size_m[:, 0], section.conductivity_w_mk[:, 0]
    matrix = np.diag(section.capacity_j_m3k[:, 0] * size / 600)
    right = matrix @ start_c[:, 0]
    right[section.concrete[:, 0]] += 700.0 * size[section.concrete[:, 0]]
    for i in range(cells - 1):
        g = 1 / (size[i] / 2 / k[i] + size[i + 1] / 2 / k[i + 1])
        matrix[i, i] += g
        matrix[i + 1, i + 1] += g
        matrix[i, i + 1] -= g
        matrix[i + 1, i] -= g
    face = 1 / (size[0] / 2 / k[0] + 0.2 + 1 / 15)
    far = 1 / (size[-1] / 2 / k[-1] + 1 / section.far_w_m2k[0])
    matrix[0, 0] += face
    matrix[-1, -1] += far
    right[0] += face * 31.0
    right[-1] += far * 9.0
    np.testing.assert_allclose(
        solver.temperature_c[:, 0], np.linalg.solve(matrix, right), rtol=1e-12
    )


def test_slab_on_ground_agrees_with_the_method_of_lines() -> None:
    # The same layers cut 8 times finer and handed to a stiff integrator.
    section = sections(["on_ground"], np.array([0.3]))
    solver = HeatSolver(section, 120, np.full(section.size_m.shape, 20.0))
    solver.set_far(np.array([10.0]))
    meet(solver, 12.0, 5.0)
    source = np.full(section.size_m.shape, 300.0)
    solver.set_source(source)
    march(solver, 24)

    def fine(values: Floats) -> Floats:
        return np.repeat(values[:, 0], 8)

    size, k = fine(section.size_m) / 8, fine(section.conductivity_w_mk)
    capacity = fine(section.capacity_j_m3k) * size
    heat = fine(np.where(section.concrete, source, 0.0)) * size
    g = 1 / (size[:-1] / 2 / k[:-1] + size[1:] / 2 / k[1:])
    face = 1 / (size[0] / 2 / k[0] + 1 / 12.0)
    far = 2 * k[-1] / size[-1]

    def slope(_: float, t: Floats) -> Floats:
        flow = np.concatenate(
            [[face * (5.0 - t[0])], g * (t[:-1] - t[1:]), [far * (t[-1] - 10.0)]]
        )
        return np.asarray((flow[:-1] - flow[1:] + heat) / capacity)

    end = solve_ivp(
        slope, (0, 86_400), np.full(size.size, 20.0), method="BDF", rtol=1e-7, atol=1e-6
    ).y[:, -1]
    surface = end[0] + face * (5.0 - end[0]) * size[0] / 2 / k[0]
    concrete = fine(section.concrete.astype(np.float64)) > 0
    mean = np.average(end[concrete], weights=capacity[concrete])
    assert solver.surface_c()[0] == pytest.approx(surface, abs=0.1)
    assert solver.mean_c()[0] == pytest.approx(mean, abs=0.4)


@settings(deadline=None, max_examples=40)
@given(
    seed=st.integers(0, 10_000),
    thick_m=st.floats(0.05, 3),
    shape=st.sampled_from(["on_ground", "on_forms", "insulated", "to_middle"]),
    resistance=st.floats(0, 2),
)
def test_heat_stored_changes_by_what_enters_and_is_released(
    seed: int, thick_m: float, shape: str, resistance: float
) -> None:
    rng = np.random.default_rng(seed)
    section = sections([shape], np.array([thick_m]))  # type: ignore[list-item]  # sampled from the four
    solver = HeatSolver(section, 600, rng.uniform(0, 50, section.size_m.shape))
    storage_j_m2k = section.capacity_j_m3k * section.size_m
    half_cell_m2k_w = section.size_m[-1] / (2 * section.conductivity_w_mk[-1])
    far_w_m2k = section.far_w_m2k / (1 + section.far_w_m2k * half_cell_m2k_w)
    before_j_m2 = (storage_j_m2k * solver.temperature_c).sum()
    entered, throughput = 0.0, 0.0
    for _ in range(60):
        film, outside, far = (
            rng.uniform(2, 40),
            rng.uniform(-20, 60),
            rng.uniform(0, 30),
        )
        source = rng.uniform(0, 3000, section.size_m.shape)
        solver.set_face(np.array([resistance]), np.array([film]), np.array([outside]))
        solver.set_far(np.array([far]))
        solver.set_source(source)
        solver.step()
        released = (source * section.size_m)[section.concrete].sum()
        from_far = (far_w_m2k * (far - solver.temperature_c[-1]))[0]
        flows = [solver.face_flow_w_m2()[0], from_far, released]
        entered += 600 * sum(flows)
        throughput += 600 * sum(map(abs, flows))
    stored = (storage_j_m2k * solver.temperature_c).sum() - before_j_m2
    assert abs(stored - entered) <= 1e-6 * throughput


def test_many_sections_march_as_each_does_alone() -> None:
    shapes = ["on_ground", "on_forms", "to_middle", "insulated"]
    thick_m = np.array([0.2, 0.3, 0.4, 1.0])
    section = sections(shapes, thick_m)  # type: ignore[arg-type]  # all four
    together = HeatSolver(section, 600, np.full(section.size_m.shape, 25.0))
    outside = np.array([5.0, 10.0, 15.0, 20.0])
    together.set_face(np.zeros(4), np.full(4, 12.0), outside)
    march(together, 12)
    for i, shape in enumerate(shapes):
        one = sections([shape], thick_m[i : i + 1])  # type: ignore[list-item]  # as above
        alone = HeatSolver(one, 600, np.full(one.size_m.shape, 25.0))
        meet(alone, 12.0, outside[i])
        march(alone, 12)
        np.testing.assert_array_equal(
            together.temperature_c[:, i], alone.temperature_c[:, 0]
        )


def test_nothing_moves_in_a_section_as_warm_as_its_surroundings() -> None:
    solver = solver_at(plain_section(0.3, 10, far_w_m2k=8.0), 600, 17.0)
    meet(solver, 20.0, 17.0)
    solver.set_far(np.array([17.0]))
    march(solver, 24)
    np.testing.assert_allclose(solver.temperature_c, 17.0, rtol=1e-12)


def test_layer_holds_the_warmth_in() -> None:
    surfaces_c = []
    for resistance in (0.0, 0.1, 1.0):
        solver = solver_at(plain_section(0.3, 10), 600, 30.0)
        solver.set_face(np.array([resistance]), np.array([15.0]), np.array([5.0]))
        march(solver, 12)
        surfaces_c.append(solver.surface_c()[0])
    assert surfaces_c == sorted(surfaces_c)


def test_face_of_a_layer_lies_between_surface_and_outside() -> None:
    solver = solver_at(plain_section(0.3, 10), 600, 30.0)
    solver.set_face(np.array([0.25]), np.array([4.0]), np.array([6.0]))
    # Layer and film are 0.25 m² K/W each: the face is half way.
    surface_c = solver.surface_c()[0]
    assert solver.face_c()[0] == pytest.approx((surface_c + 6.0) / 2)


@pytest.mark.parametrize(
    ("surface_c", "core_c"), [(33.0, None), (None, 41.0), (33.0, 41.0)]
)
def test_section_passes_through_what_was_measured(
    surface_c: float | None, core_c: float | None
) -> None:
    section = sections(["on_ground"], np.array([0.3]))
    solver = HeatSolver(section, 600, np.full(section.size_m.shape, 20.0))
    meet(solver, 15.0, 10.0)
    march(solver, 3)
    ground = ~section.concrete[:, 0]
    before = solver.temperature_c[ground, 0].copy()
    solver.pass_through(0, surface_c, core_c)
    if surface_c is not None:
        assert solver.surface_c()[0] == pytest.approx(surface_c)
    if core_c is not None:
        assert solver.middle_c()[0] == pytest.approx(core_c)
    np.testing.assert_array_equal(solver.temperature_c[ground, 0], before)


def test_far_side_that_lets_no_heat_pass_may_be_as_cold_as_it_likes() -> None:
    cold, hot = (solver_at(plain_section(0.3, 10), 600, 30.0) for _ in range(2))
    cold.set_far(np.array([-40.0]))
    hot.set_far(np.array([60.0]))
    march(cold, 5)
    march(hot, 5)
    np.testing.assert_array_equal(cold.temperature_c, hot.temperature_c)


def test_section_is_not_changed_by_its_solver() -> None:
    section = plain_section(0.3, 10)
    copy = replace(section, size_m=section.size_m.copy())
    march(solver_at(section, 600, 20.0), 1)
    np.testing.assert_array_equal(section.size_m, copy.size_m)


def test_section_laid_anew_leaves_the_others_alone() -> None:
    section = sections(["on_ground", "insulated"], np.array([0.2, 0.4]))
    solver = HeatSolver(section, 600, np.full(section.size_m.shape, 20.0))
    meet(solver, 10.0, 0.0)
    march(solver, 5)
    before = solver.temperature_c
    solver.lay(np.full(section.size_m.shape, 31.0), np.array([1]))
    np.testing.assert_allclose(solver.temperature_c[:, 1], 31.0, rtol=1e-12)
    np.testing.assert_array_equal(solver.temperature_c[:, 0], before[:, 0])


@pytest.mark.parametrize("thick_m", [0.03, 0.3, 5.0])
def test_state_is_kept_exactly_however_thick_the_member(thick_m: float) -> None:
    shapes = ["on_ground", "on_forms", "to_middle", "insulated"]
    section = sections(shapes, np.full(4, thick_m))  # type: ignore[arg-type]  # all four
    given_c = np.random.default_rng(1).uniform(-20, 70, section.size_m.shape)
    solver = HeatSolver(section, 600, given_c)
    np.testing.assert_allclose(solver.temperature_c, given_c, rtol=1e-13)


def test_core_is_the_warmest_concrete_even_where_the_sun_has_just_come() -> None:
    section = sections(["on_ground"], np.array([0.3]))
    start_c = np.where(section.concrete, 20.0, 40.0)
    solver = HeatSolver(section, 600, start_c)
    meet(solver, 20.0, 60.0)
    march(solver, 1)
    concrete_c = solver.temperature_c[section.concrete]
    assert solver.core_c()[0] == pytest.approx(concrete_c.max())
    assert concrete_c.argmax() == 0  # not the middle, and the ground is none
