"""Methods that cannot be used where they are asked for."""

from typing import get_args

import pytest

from models.errors import InputError
from models.records import MethodKey, Receives, SiteInput
from tests.builders import pour, profile, site_input
from tests.scheduler.methods.methods_builders import hour, work_of


def refused(given: SiteInput) -> str:
    with pytest.raises(InputError) as caught:
        work_of(given)
    (problem,) = caught.value.problems
    return str(problem)


@pytest.mark.parametrize("receives", [r for r in get_args(Receives) if r != "none"])
def test_compound_under_what_must_bond(receives: Receives) -> None:
    words = refused(site_input(pour(method="compound_clear", receives=receives)))
    assert words.startswith("pours, P1, method: found compound_clear; wanted")
    assert f"under which a {receives.replace('_', ' ')} can bond: UFGS-03300A" in words
    assert words.endswith("Nearest: sheet_over_burlap")


def test_mats_on_a_wall() -> None:
    words = refused(site_input(pour(element="wall", method="cotton_mats")))
    assert "a method for a wall: mats are heavy" in words
    assert words.endswith("Nearest: burlap_double")


def test_mats_on_upright_faces_name_the_other_column() -> None:
    edges = pour(formed_area_m2=20, strike_at=hour(30), formed_method="cotton_mats")
    words = refused(site_input(edges))
    assert words.startswith("pours, P1, formed_method: found cotton_mats")
    assert "upright faces" in words


def test_mats_on_a_slope() -> None:
    words = refused(site_input(pour(method="cotton_mats", slope_pct=12)))
    assert "a slope of 12 %, this one ends at 10 %" in words
    work_of(site_input(pour(method="cotton_mats", slope_pct=10)))


def test_a_method_the_profile_bans_and_the_next_that_it_does_not() -> None:
    banned: tuple[MethodKey, ...] = ("plastic_sheet", "sheet_over_burlap")
    rule = profile().model_copy(update={"banned_methods": banned})
    given = site_input(pour(method="plastic_sheet"))
    words = refused(given.model_copy(update={"profiles": {"seven_days": rule}}))
    assert "a method that Seven days allows (invented)" in words
    assert words.endswith("Nearest: burlap_double")


def test_compound_without_anyone_who_sprays() -> None:
    given = site_input(pour(method="compound_white"))
    crews = tuple(
        crew.model_copy(update={"skills": ("labourer", "fogger")})
        for crew in given.site.crews
    )
    where = given.site.model_copy(update={"crews": crews})
    words = refused(given.model_copy(update={"site": where}))
    assert "a crew with the skill 'sprayer'" in words
    assert words.endswith("Nearest: sheet_over_burlap")


def test_all_conflicts_come_at_once() -> None:
    given = site_input(
        pour("P1", method="compound_clear", receives="tile"),
        pour("P2", element="column", method="compound_white"),
    )
    with pytest.raises(InputError) as caught:
        work_of(given)
    assert [p.place for p in caught.value.problems] == ["pours, P1", "pours, P2"]


@pytest.mark.parametrize("method", get_args(MethodKey))
def test_a_plain_slab_takes_every_method(method: MethodKey) -> None:
    assert work_of(site_input(pour(method=method))).surfaces
