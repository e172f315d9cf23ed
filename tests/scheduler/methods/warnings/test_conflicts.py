"""Methods that cannot be used where they are asked for."""

from typing import get_args

import pytest

from models.errors import InputError
from models.records import MethodKey, Receives, SiteInput
from models.records.rule_family import RuleFamily
from tests.builders import pour, profile, site_input
from tests.scheduler.methods.methods_builders import (
    FOR_TOPS,
    by_name,
    frosty,
    hour,
    operated,
    ruled,
    work_of,
)


def refused(given: SiteInput) -> str:
    with pytest.raises(InputError) as caught:
        work_of(given)
    (problem,) = caught.value.problems
    return str(problem)


@pytest.mark.parametrize("receives", [r for r in get_args(Receives) if r != "none"])
def test_compound_under_what_must_bond(receives: Receives) -> None:
    words = refused(site_input(pour(method="compound_clear", receives=receives)))
    assert words.startswith("pours P1, method: found compound_clear; expected")
    assert f"under which a {receives.replace('_', ' ')} can bond: UFGS-03300A" in words
    assert words.endswith("Nearest that fits: sheet_over_burlap")


def test_mats_on_a_wall() -> None:
    words = refused(site_input(pour(element="wall", method="cotton_mats")))
    assert "a method for a wall: mats are heavy" in words
    assert words.endswith("Nearest that fits: burlap_double")


def test_mats_on_upright_faces_name_the_other_column() -> None:
    edges = pour(formed_area_m2=20, strike_at=hour(30), formed_method="cotton_mats")
    words = refused(site_input(edges))
    assert words.startswith("pours P1, formed_method: found cotton_mats")
    assert "upright faces" in words


def test_mats_on_a_slope() -> None:
    words = refused(site_input(pour(method="cotton_mats", slope_pct=12)))
    assert "a slope of 12 %, this one ends at 10 %" in words
    work_of(site_input(pour(method="cotton_mats", slope_pct=10)))


def test_a_method_the_profile_bans_and_the_next_that_it_does_not() -> None:
    banned: tuple[RuleFamily, ...] = ("sheet", "covered_fabric")
    rule = profile().model_copy(update={"banned_families": banned})
    given = site_input(pour(method="plastic_sheet"))
    words = refused(given.model_copy(update={"profiles": {"seven_days": rule}}))
    said = "a method that Seven days allows: no sheet, covered fabric (invented)"
    assert said in words
    assert words.endswith("Nearest that fits: burlap_double")


def test_compound_without_anyone_who_sprays() -> None:
    given = site_input(pour(method="compound_white"))
    crews = tuple(
        crew.model_copy(update={"skills": ("labourer", "fogger")})
        for crew in given.site.crews
    )
    where = given.site.model_copy(update={"crews": crews})
    words = refused(given.model_copy(update={"site": where}))
    assert "a crew with the skill 'sprayer'" in words
    assert words.endswith("Nearest that fits: sheet_over_burlap")


def test_all_conflicts_come_at_once() -> None:
    given = site_input(
        pour("P1", method="compound_clear", receives="tile"),
        pour("P2", element="column", method="compound_white"),
    )
    with pytest.raises(InputError) as caught:
        work_of(given)
    assert [str(p.place) for p in caught.value.problems] == ["pours P1", "pours P2"]


@pytest.mark.parametrize("method", FOR_TOPS)
def test_a_plain_slab_takes_every_method(method: MethodKey) -> None:
    assert work_of(operated(site_input(pour(method=method)))).surfaces


def test_an_autoclave_in_situ() -> None:
    """High-pressure steam is a matter of factory vessels, never of a site."""
    words = refused(operated(site_input(pour(method="autoclave"))))
    assert "needs a factory's vessel, 8 bar and 175 °C, and is never used" in words
    assert words.endswith("Nearest that fits: live_steam")


def test_interval_wetting_of_a_bare_surface() -> None:
    """Alternate wetting and drying cracks the surface: common practice, no source."""
    words = refused(site_input(pour(method="hand_sprinkling")))
    assert "alternate wetting and drying cracks the surface" in words
    assert words.endswith("Nearest that fits: burlap_double")


def test_steam_without_a_licensed_operator() -> None:
    words = refused(site_input(pour(method="live_steam")))
    assert "a crew with the skill 'steam_operator'" in words
    assert words.endswith("Nearest that fits: insulated_blankets")


@pytest.mark.parametrize("method", ["plastic_sheet", "impervious_paper"])
def test_wrinkles_on_a_coloured_finish(method: str) -> None:
    words = refused(site_input(pour(method=method, finish="Coloured, brushed")))
    assert "leaves no marks on a Coloured, brushed finish: PCA" in words
    assert words.endswith("Nearest that fits: sheet_over_burlap")


def test_forms_left_on_a_top() -> None:
    words = refused(site_input(pour(method="forms_in_place")))
    assert "a method for a top: forms are left on formed faces" in words


def test_a_pond_on_a_suspended_slab_asks_for_its_shoring() -> None:
    """25 mm of water: 0.025 m × 9.81 kN/m³ = 0.245 kN/m², by the rounded-up 0.5."""
    slab = pour(element="suspended_slab", method="ponding")
    words = refused(site_input(slab))
    assert "shoring_checked by a competent person for 0.25 kN/m² of water" in words
    assert words.endswith("Nearest that fits: sheet_over_burlap")
    checked = slab.model_copy(update={"shoring_checked": True})
    steps = by_name(work_of(site_input(checked)))["hold"].steps
    assert "Shoring checked for 0.25 kN/m² of water, in writing." in steps


def test_a_pond_due_before_its_bridge_can_be_laid() -> None:
    """A bridge of 2.4 h after placing, on concrete that takes no cover yet."""
    given = site_input(pour(method="ponding"))
    site = given.site.model_copy(update={"rates": {"ponding.bridge": 2.4}})
    words = refused(given.model_copy(update={"site": site}))
    assert "a method for a surface that takes no cover before Mon 1" in words
    assert "or a longer ponding.bridge in [rates]" in words


def test_a_pond_on_a_slope() -> None:
    words = refused(site_input(pour(method="ponding", slope_pct=3)))
    assert "a slope of 3 %, this one ends at 2 %" in words


@pytest.mark.parametrize("method", ["ponding", "sprinklers", "soaker_under_sheet"])
def test_frost_where_water_stands_or_runs(method: str) -> None:
    """Hour 40 is Tuesday 22:00 local; curing goes on until Thursday."""
    words = refused(frosty(site_input(pour(method=method)), 40))
    assert "a method that stands frost, forecast from Tue 22:00" in words
    assert words.endswith("Nearest that fits: sheet_over_burlap")
    after_curing = frosty(site_input(pour(method=method)), 90)
    assert work_of(after_curing).surfaces


def test_frost_after_the_planned_change_to_blankets() -> None:
    pond = pour(method="ponding", then_method="insulated_blankets", then_after="frost")
    assert work_of(frosty(site_input(pond), 40)).surfaces


def test_a_pond_after_compound() -> None:
    film = pour(method="compound_white", then_method="ponding", then_after="2 d")
    words = refused(site_input(film))
    assert words.startswith("pours P1, then_method: found ponding")
    assert "a method that can follow compound_white: a film under" in words


def test_water_after_compound_is_for_the_rule_to_say() -> None:
    """Some decks are sprayed first and wetted then; others forbid it."""
    given = site_input(
        pour(method="compound_white", then_method="burlap_double", then_after="1 d")
    )
    assert work_of(given).surfaces
    words = refused(ruled(given, compound_before_water=False))
    assert "a method that Seven days allows after compound (invented)" in words
    other = site_input(
        pour(method="burlap_double", then_method="compound_white", then_after="1 d")
    )
    assert work_of(ruled(other, compound_before_water=False)).surfaces


def test_steam_only_opens() -> None:
    given = site_input(pour(then_method="live_steam", then_after="1 d"))
    assert "a method that can follow another" in refused(operated(given))


def test_open_covers_after_a_timer() -> None:
    given = site_input(
        pour(method="sprinklers", then_method="burlap_double", then_after="2 d")
    )
    words = refused(given)
    assert "from a timer to open covers somebody must wet" in words


def test_a_weekend_cover_that_the_rule_bans_is_a_matter_of_the_site() -> None:
    given = ruled(site_input(pour()), banned_families=("covered_fabric",))
    rules = given.site.rules.model_copy(update={"weekend_cover": "sheet_over_burlap"})
    where = given.site.model_copy(update={"rules": rules})
    with pytest.raises(InputError) as caught:
        work_of(given.model_copy(update={"site": where}), curing_h=160)
    (problem,) = caught.value.problems
    assert (problem.place.file, problem.field) == ("rules", "[rules] weekend_cover")
    assert problem.hint == "For P1 Quay slab, top"
