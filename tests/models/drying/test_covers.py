from typing import get_args

import pytest

from models.drying.covers import (
    burlap_dry_mass_g_m2,
    cover_properties,
    cover_sources,
)
from models.records import CoverKind, CoverProperties

KINDS: tuple[CoverKind, ...] = get_args(CoverKind)
FIGURES = {
    name
    for name, field in CoverProperties.model_fields.items()
    if field.annotation is float
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_properties(kind: CoverKind) -> None:
    assert cover_properties(kind).kind == kind


@pytest.mark.parametrize("kind", KINDS)
def test_every_figure_says_how_it_is_known(kind: CoverKind) -> None:
    sources = cover_sources(kind)
    assert set(sources) <= FIGURES
    own = cover_properties(kind).model_dump()
    missing = {name for name in FIGURES if own[name] not in (0, 1)} - set(sources)
    assert missing == set()
    for said in sources.values():
        assert said.startswith(
            ("read", "from memory", "own calculation", "assumption", "a film")
        )


@pytest.mark.parametrize("kind", ["compound_clear", "compound_white"])
def test_a_compound_holds_no_water_and_cannot_be_wetted(kind: CoverKind) -> None:
    cover = cover_properties(kind)
    assert (cover.held_l_m2, cover.rewettable, cover.takes_rain) == (0, False, False)


@pytest.mark.parametrize("kind", ["plastic_sheet", "sheet_over_burlap"])
def test_rain_does_not_reach_under_a_sheet(kind: CoverKind) -> None:
    assert not cover_properties(kind).takes_rain


def test_one_layer_of_burlap_holds_one_to_two_times_its_dry_mass() -> None:
    held_g_m2 = 1000 * cover_properties("burlap_single").held_l_m2
    assert 1 <= held_g_m2 / burlap_dry_mass_g_m2(3) <= 2


def test_two_layers_hold_twice_as_much() -> None:
    single, double = (
        cover_properties(kind).held_l_m2 for kind in ("burlap_single", "burlap_double")
    )
    assert double == pytest.approx(2 * single)


def test_white_takes_less_sun_than_clear() -> None:
    white, clear = (
        cover_properties(kind).absorptivity_fraction
        for kind in ("compound_white", "compound_clear")
    )
    assert white < clear
