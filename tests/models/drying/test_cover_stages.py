from datetime import timedelta

import pytest

from models.drying.cover_stages import covers_by_step, film_of, leak_of, stage_steps
from models.drying.covers import cover_properties
from models.records import CoverKind, CoverStage, Surface
from tests.builders import MONDAY, surface
from tests.models.drying.drying_builders import GRID

#: MONDAY is four hours into the grid.
MONDAY_STEP = 24


def then(kind: CoverKind, minutes: int) -> CoverStage:
    return CoverStage(
        method="sheet_over_burlap",
        cover=cover_properties(kind),
        starts_at=MONDAY + timedelta(minutes=minutes),
        reason="for the test",
    )


def staged(*later: CoverStage) -> Surface:
    return surface(later=later)


@pytest.mark.parametrize(
    ("minutes", "step"), [(0, 0), (1, 1), (10, 1), (11, 2), (-600, -60)]
)
def test_a_stage_counts_from_the_step_that_begins_then_or_next(
    minutes: int, step: int
) -> None:
    steps = stage_steps(staged(then("sheet_over_burlap", minutes)), GRID)
    assert steps == [0, MONDAY_STEP + step]


def test_each_step_has_the_figures_of_its_cover() -> None:
    first = surface().cover
    covers = covers_by_step(
        [staged(then("pond", 60), then("insulated_blankets", 600)), surface()], GRID
    )
    pond, blankets = cover_properties("pond"), cover_properties("insulated_blankets")
    change, last = MONDAY_STEP + 6, MONDAY_STEP + 60
    for step, cover in (
        (0, first), (change - 1, first), (change, pond), (last - 1, pond),
        (last, blankets), (GRID.steps - 1, blankets),
    ):  # fmt: skip
        assert covers.held_l_m2[step, 0] == cover.held_l_m2
        assert covers.film_kg_m2_h_kpa[step, 0] == film_of(cover)
        assert covers.leak_kg_m2_h_kpa[step, 0] == leak_of(cover, surface().area_m2)
        assert covers.resistance_m2k_w[step, 0] == cover.resistance_m2k_w
        assert covers.absorptivity_fraction[step, 0] == cover.absorptivity_fraction
        assert covers.emissivity_fraction[step, 0] == cover.emissivity_fraction
        assert covers.takes_rain[step, 0] == float(cover.takes_rain)
        assert covers.leak_mm_d[step, 0] == cover.leak_mm_d
    assert (covers.held_l_m2[:, 1] == first.held_l_m2).all()


def test_an_open_cover_has_no_film_and_a_small_sheet_leaks_more_than_a_large() -> None:
    assert film_of(surface().cover) == float("inf")
    assert leak_of(surface().cover, 10) == 0
    sheet = cover_properties("plastic_sheet")
    assert film_of(sheet) == sheet.film_kg_m2_h_kpa
    assert leak_of(sheet, 6) > 2 * leak_of(sheet, 400) > 0


def test_a_stage_that_began_before_the_grid_holds_all_along() -> None:
    covers = covers_by_step([staged(then("pond", -3000))], GRID)
    assert (covers.held_l_m2 == cover_properties("pond").held_l_m2).all()


def test_a_surface_counts_its_water_in_the_first_cover_that_holds_any() -> None:
    blankets = cover_properties("insulated_blankets")
    assert staged(then("pond", 60)).held_l_m2 == surface().cover.held_l_m2
    assert surface(cover=blankets).held_l_m2 == 0
    wet_later = surface(cover=blankets, later=(then("sheet_over_burlap", 60),))
    assert wet_later.held_l_m2 == cover_properties("sheet_over_burlap").held_l_m2


def test_stages_out_of_order_are_refused() -> None:
    with pytest.raises(ValueError, match="later stages in order of time"):
        staged(then("pond", 60), then("pond", 60))
