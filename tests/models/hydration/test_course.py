from datetime import timedelta

import numpy as np
import pytest

from models.drying.covers import cover_properties
from models.hydration.course import (
    course_of,
    curve_of,
    event_ages,
    section_of,
    shape_of,
    step_from,
)
from models.records import CoverStage, Grid, Mix, Reading
from tests.builders import MONDAY, burlap, pour, surface

GRID = Grid(MONDAY, 10, 1008)
MIX = Mix(id="C30", strength_mpa=30, cement_kg_m3=340)
FACE = {"face": "formed", "vertical": True}


@pytest.mark.parametrize(
    ("minutes", "step"), [(-10, -1), (-1, 0), (0, 0), (1, 1), (10, 1), (11, 2)]
)
def test_step_from_is_the_first_that_begins_then_or_later(
    minutes: int, step: int
) -> None:
    assert step_from(GRID, MONDAY + timedelta(minutes=minutes)) == step


@pytest.mark.parametrize(
    ("element", "shape"),
    [
        ("slab_on_ground", "on_ground"), ("pavement", "on_ground"),
        ("footing", "on_ground"), ("suspended_slab", "on_forms"),
        ("deck", "on_forms"), ("beam", "on_forms"),
        ("wall", "to_middle"), ("column", "to_middle"),
    ],
)  # fmt: skip
def test_element_tells_what_lies_behind_its_top(element: str, shape: str) -> None:
    of = pour(element=element)
    assert shape_of(surface(of)) == shape
    assert shape_of(surface(of, **FACE)) == "to_middle"
    assert shape_of(surface(of, face="edges", vertical=True)) == "to_middle"


@pytest.mark.parametrize(
    ("element", "thickness_mm", "shape"),
    [
        ("footing", 2000, "insulated"), ("slab_on_ground", 800, "insulated"),
        ("slab_on_ground", 790, "to_middle"), ("wall", 2000, "to_middle"),
        ("suspended_slab", 1000, "to_middle"),
    ],
)  # fmt: skip
def test_behind_a_raft_s_face_the_heat_stays(
    element: str, thickness_mm: float, shape: str
) -> None:
    of = pour(element=element, thickness_mm=thickness_mm)
    assert shape_of(surface(of, face="edges", vertical=True)) == shape


def test_sections_are_as_thick_as_the_surfaces() -> None:
    thick = [surface(pour(thickness_mm=t)) for t in (150, 400)]
    section = section_of(thick)
    totals = np.where(section.concrete, section.size_m, 0).sum(axis=0)
    assert totals.tolist() == pytest.approx([0.15, 0.4])


def test_heat_is_that_of_the_cement_in_the_mix() -> None:
    heat = curve_of([MIX, MIX.model_copy(update={"cement_kg_m3": 400})])
    assert heat.total_j_m3.tolist() == [340 * 460_000, 400 * 460_000]


def test_top_waits_for_the_event_from_which_its_cover_may_go_on() -> None:
    soon, later = surface(), surface(cover_from="bears_people")
    course = course_of([soon, later], [MIX, MIX], {}, GRID, 12.0)
    # Sets at 4.5 and 6.5 h: half way between for a laid cover, final set for people.
    assert course.cover_at_h.tolist() == [5.5, 6.5]
    assert (course.covered_step > GRID.steps).all()
    # Placing ends at 11:00 local, 5 h into the grid: step 30.
    assert course.placed_step.tolist() == course.bare_step.tolist() == [30, 30]


def test_reported_cover_needs_no_event() -> None:
    covered = surface(covered_at=MONDAY + timedelta(hours=9))
    course = course_of([covered], [MIX], {}, GRID, 12.0)
    assert course.covered_step.tolist() == [54]
    assert course.cover_at_h.tolist() == [np.inf]


@pytest.mark.parametrize("face", ["formed", "edges"])
def test_what_was_in_forms_is_covered_when_they_are_struck(face: str) -> None:
    struck = surface(
        pour(element="wall"), face=face, vertical=True,
        exposed_at=MONDAY + timedelta(hours=30),
    )  # fmt: skip
    course = course_of([struck], [MIX], {}, GRID, 12.0)
    assert course.placed_step.tolist() == [30]
    assert course.bare_step.tolist() == course.covered_step.tolist() == [180]


def test_formed_face_is_not_covered_before_it_is_struck() -> None:
    struck_at = MONDAY + timedelta(hours=30)
    early = struck_at - timedelta(hours=2)
    face = surface(pour(element="wall"), **FACE, exposed_at=struck_at, covered_at=early)
    assert course_of([face], [MIX], {}, GRID, 12.0).covered_step.tolist() == [180]


def test_stages_are_forms_bare_concrete_and_the_surface_s_own_cover() -> None:
    forms, bare, covered = course_of([surface()], [MIX], {}, GRID, 12.0).stages
    assert forms.film_kg_m2_h_kpa.tolist() == forms.leak_kg_m2_h_kpa.tolist() == [0]
    assert bare.resistance_m2k_w.tolist() == [0]
    assert bare.film_kg_m2_h_kpa.tolist() == [np.inf]
    cover = surface().cover
    assert [part.tolist() for part in covered] == [
        [cover.resistance_m2k_w], [cover.absorptivity_fraction],
        [cover.emissivity_fraction], [np.inf], [0], [0],
        [pytest.approx(np.nan, nan_ok=True)],
    ]  # fmt: skip


def test_a_pond_takes_its_heat_and_comes_as_warm_as_its_water() -> None:
    pond = cover_properties("pond").model_copy(update={"laid_at_c": 9.0})
    *_, filled = course_of([surface(cover=pond)], [MIX], {}, GRID, 12.0).stages
    assert filled.capacity_j_m2k.tolist() == [105_000]
    assert filled.laid_at_c.tolist() == [9]


def test_later_covers_come_when_planned_and_only_where_they_are() -> None:
    blankets = CoverStage(
        method="insulated_blankets",
        cover=burlap().model_copy(update={"resistance_m2k_w": 0.7}),
        starts_at=MONDAY + timedelta(minutes=601),
        reason="for the test",
    )
    plain, warm = surface(), surface(later=(blankets,))
    course = course_of([plain, warm], [MIX, MIX], {}, GRID, 12.0)
    (first,) = course.later_steps
    assert first[0] > GRID.steps
    assert first[1] == 61
    assert [s.resistance_m2k_w.tolist() for s in course.stages[2:]] == [
        [0.01, 0.01],
        [0.01, 0.7],
    ]


def test_readings_count_from_the_step_after_them_and_the_last_one_wins() -> None:
    def read(minutes: int, place: str, temperature_c: float) -> Reading:
        at = MONDAY + timedelta(minutes=minutes)
        return Reading.model_validate(
            {"surface_id": "P1-top", "at": at, "place": place,
             "temperature_c": temperature_c}
        )  # fmt: skip

    readings = [
        read(618, "surface", 25),
        read(612, "surface", 24),
        read(615, "core", 30),
    ]
    course = course_of([surface()], [MIX], {"P1-top": readings}, GRID, 12.0)
    assert course.measured == {62: [(0, 25, 30)]}


def test_events_of_each_surface_are_those_of_its_mix() -> None:
    late = MIX.model_copy(update={"initial_set_h": 8.0, "final_set_h": 11.0})
    ages = event_ages([MIX, late])
    assert ages["bears_people"].expected_h.tolist() == [6.5, 11.0]
    assert ages["initial_set"].expected_h.tolist() == [4.5, 8.0]
    assert ages["final_set"].expected_h.tolist() == [6.5, 11.0]
