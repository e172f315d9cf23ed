from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from models.drying.covers import cover_properties
from models.drying.surroundings import surroundings
from models.hydration import march as march_module
from models.hydration.course import section_of
from models.hydration.section import (
    GROUND_CAPACITY_J_M3K,
    GROUND_CONDUCTIVITY_W_MK,
    GROUND_DEPTH_M,
    Shape,
    sections,
)
from models.hydration.temperature import HeatSolver, Section
from models.records import CoverKind, Grid, Surface
from tests.builders import MONDAY, pour, site_input, surface, weather
from tests.models.hydration.heat_builders import march, meet, plain_section, solver_at

SHAPES: list[Shape] = ["on_ground", "on_forms", "insulated", "to_middle"]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("thick_m", [0.05, 0.2, 1.5])
def test_concrete_cells_add_up_to_the_member(shape: Shape, thick_m: float) -> None:
    section = sections([shape], np.array([thick_m]))
    total = section.size_m[section.concrete].sum()
    assert total == pytest.approx(thick_m / 2 if shape == "to_middle" else thick_m)


def test_ground_reaches_to_its_depth() -> None:
    section = sections(["on_ground"], np.array([0.2]))
    assert section.size_m[~section.concrete].sum() == pytest.approx(GROUND_DEPTH_M)


@pytest.mark.parametrize("shape", ["on_ground", "on_forms", "insulated"])
def test_middle_cell_holds_the_middle(shape: Shape) -> None:
    section = sections([shape], np.array([0.3]))
    cell = section.middle_cell[0]
    outer = section.size_m[:cell, 0].sum()
    assert outer <= 0.15 <= outer + section.size_m[cell, 0]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("thick_m", [0.1, 0.3, 1.0, 2.0])
def test_faces_of_rafts_are_cut_as_finely_as_those_of_slabs(
    shape: Shape, thick_m: float
) -> None:
    assert sections([shape], np.array([thick_m])).size_m[0, 0] <= 0.0075


def halved(surfaces: Sequence[Surface]) -> Section:
    """The sections of surfaces with each cell cut in two."""
    whole = section_of(surfaces)

    def twice(values: NDArray[Any]) -> NDArray[Any]:
        return np.repeat(values, 2, axis=0)

    return replace(
        whole,
        size_m=twice(whole.size_m) / 2,
        conductivity_w_mk=twice(whole.conductivity_w_mk),
        capacity_j_m3k=twice(whole.capacity_j_m3k),
        concrete=twice(whole.concrete),
        middle_cell=2 * whole.middle_cell,
    )


@pytest.mark.parametrize(("mean_c", "wind_m_s"), [(-5, 10), (18, 4), (35, 2)])
def test_halving_the_cells_moves_no_face_of_a_raft_by_a_third_of_a_kelvin(
    mean_c: float, wind_m_s: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From half an hour after placing on; before, the face falls by the minute."""
    grid = Grid(MONDAY, 10, 6 * 144)
    kinds: tuple[CoverKind, ...] = ("burlap_double", "insulated_blankets")
    rafts = [
        surface(
            pour(element="footing", thickness_mm=mm),
            id=f"{mm}-{kind}",
            cover=cover_properties(kind),
            covered_at=MONDAY + timedelta(hours=11),
        )
        for mm in (600, 1200, 2000)
        for kind in kinds
    ]
    of = site_input().model_copy(
        update={"weather": weather(mean_c=mean_c, wind_m_s=wind_m_s)}
    )
    around = surroundings(rafts, of, grid)
    once = march_module.march(rafts, of, around, grid).history.surface_c
    monkeypatch.setattr(march_module, "section_of", halved)
    twice = march_module.march(rafts, of, around, grid).history.surface_c
    hard = slice(grid.step(rafts[0].placing_ends_at) + 3, None)
    assert np.abs(once - twice)[hard].max() < 0.3


@pytest.mark.parametrize(
    ("shape", "thick_m"), [("on_ground", 2.0), ("on_ground", 3.5), ("insulated", 3.0)]
)
def test_a_raft_agrees_with_many_cells(shape: Shape, thick_m: float) -> None:
    # Two days of 500 W/m³, more than concrete gives; a cold face.
    found = []
    fine = on_fine_ground(thick_m) if shape == "on_ground" else plain_section(3.0, 300)
    for section in (sections([shape], np.array([thick_m])), fine):
        solver = HeatSolver(section, 600, np.where(section.concrete, 20.0, 12.0))
        solver.set_far(np.array([12.0]))
        meet(solver, 20.0, 5.0)
        solver.set_source(np.where(section.concrete, 500.0, 0.0))
        march(solver, 48)
        found.append([solver.surface_c()[0], solver.core_c()[0], solver.mean_c()[0]])
    # The core is 30 K above the face.
    np.testing.assert_allclose(found[0], found[1], rtol=0, atol=0.35)


def test_core_of_a_half_is_its_innermost_cell() -> None:
    section = sections(["to_middle"], np.array([0.3]))
    assert section.middle_cell[0] == section.size_m.shape[0] - 1


def test_forms_let_heat_pass_but_a_middle_does_not() -> None:
    section = sections(SHAPES, np.full(4, 0.3))
    by_shape = dict(zip(SHAPES, section.far_w_m2k, strict=True))
    # 18 mm of plywood at 0.13 W/(m K), then 8 W/(m² K): 1 / (0.1385 + 0.125) = 3.80.
    assert by_shape["on_forms"] == pytest.approx(3.80, abs=0.01)
    assert by_shape["insulated"] == by_shape["to_middle"] == 0


def test_growing_cells_agree_with_many_equal_ones() -> None:
    section = sections(["insulated"], np.array([0.5]))
    coarse = HeatSolver(section, 600, np.full(section.size_m.shape, 30.0))
    fine = solver_at(plain_section(0.5, 200), 600, 30.0)
    for solver in (coarse, fine):
        meet(solver, 20.0, 10.0)
        march(solver, 12)
    assert coarse.surface_c()[0] == pytest.approx(fine.surface_c()[0], abs=0.1)
    assert coarse.mean_c()[0] == pytest.approx(fine.mean_c()[0], abs=0.1)


def on_fine_ground(thick_m: float) -> Section:
    """A slab of 80 cells on ground of 120, small where they meet."""
    coarse = sections(["on_ground"], np.array([thick_m]))
    ground_m = 1.04 ** np.arange(120)
    ground_m *= GROUND_DEPTH_M / ground_m.sum()
    concrete = (np.arange(200) < 80)[:, None]
    return Section(
        size_m=np.concatenate([np.full(80, thick_m / 80), ground_m])[:, None],
        conductivity_w_mk=np.where(concrete, 2.0, GROUND_CONDUCTIVITY_W_MK),
        capacity_j_m3k=np.where(concrete, 2.4e6, GROUND_CAPACITY_J_M3K),
        concrete=concrete,
        middle_cell=np.array([40]),
        far_w_m2k=coarse.far_w_m2k,
    )


@pytest.mark.parametrize("thick_m", [0.15, 0.3, 0.5])
def test_slab_on_ground_agrees_with_many_cells(thick_m: float) -> None:
    found = []
    for section in (sections(["on_ground"], np.array([thick_m])),
                    on_fine_ground(thick_m)):  # fmt: skip
        start_c = np.where(section.concrete, 30.0, 12.0)
        solver = HeatSolver(section, 600, start_c)
        solver.set_far(np.array([12.0]))
        meet(solver, 20.0, 10.0)
        for hours in (3, 9, 36):
            march(solver, hours)
            found.append([solver.surface_c()[0], solver.mean_c()[0]])
    coarse, fine = np.split(np.array(found), 2)
    # Within 1 % of the 20 K between concrete and air.
    np.testing.assert_allclose(coarse, fine, rtol=0, atol=0.2)
