from typing import get_args

import pytest

from models.drying.covers import cover_properties, cover_ranges, seam_loss_l_m_d
from models.drying.film import film_kg_m2_h_kpa
from models.records import CoverKind, CoverProperties, Laps
from tests.references.cover_table import burlap_dry_mass_g_m2, cover_sources

KINDS: tuple[CoverKind, ...] = get_args(CoverKind)
FIGURES = {
    name
    for name, field in CoverProperties.model_fields.items()
    if field.annotation in (float, float | None)
} - {"loss_factor"}  # learned on a site, no figure of the table


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_its_properties(kind: CoverKind) -> None:
    assert cover_properties(kind).kind == kind


@pytest.mark.parametrize("kind", KINDS)
def test_every_figure_says_how_it_is_known(kind: CoverKind) -> None:
    sources = cover_sources(kind)
    assert set(sources) <= FIGURES
    own = cover_properties(kind).model_dump()
    missing = {name for name in FIGURES if own[name] not in (0, None)} - set(sources)
    assert missing == set()
    for said in sources.values():
        assert said.startswith(
            ("read", "from memory", "own calculation", "assumption", "a film")
        )


@pytest.mark.parametrize("kind", ["compound_clear", "compound_white"])
def test_a_compound_holds_no_water_and_cannot_be_wetted(kind: CoverKind) -> None:
    cover = cover_properties(kind)
    assert (cover.held_l_m2, cover.rewettable, cover.takes_rain) == (0, False, False)


@pytest.mark.parametrize(
    "kind",
    [
        "plastic_sheet", "plastic_sheet_clear", "plastic_sheet_black",
        "impervious_paper", "sheet_over_burlap", "insulated_blankets",
    ],
)  # fmt: skip
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


def test_a_pond_holds_a_litre_a_millimetre_and_leaks() -> None:
    pond = cover_properties("pond")
    assert pond.title == f"Pond, {pond.held_l_m2:.0f} mm"
    assert pond.leak_mm_d > 0
    assert all(cover_properties(k).leak_mm_d == 0 for k in KINDS if k != "pond")


def test_sheets_take_more_sun_the_darker_they_are() -> None:
    kinds: tuple[CoverKind, ...] = (
        "plastic_sheet", "impervious_paper", "plastic_sheet_clear",
        "plastic_sheet_black",
    )  # fmt: skip
    taken = [cover_properties(kind).absorptivity_fraction for kind in kinds]
    assert taken == sorted(set(taken))


@pytest.mark.parametrize("kind", KINDS)
def test_a_cover_is_open_to_the_air_or_has_a_film_and_only_sheets_have_seams(
    kind: CoverKind,
) -> None:
    cover = cover_properties(kind)
    assert (cover.film_kg_m2_h_kpa is None) == cover.takes_rain
    assert (cover.seam_loss_l_m_d > 0) == (cover.form in ("sheet", "blankets"))


def test_a_film_is_that_of_its_test_class() -> None:
    # 0.55 kg/m² in 72 h (ASTM C309, read; C171, from memory).
    limit = float(film_kg_m2_h_kpa(0.55, 72))
    films = {cover_properties(kind).film_kg_m2_h_kpa for kind in KINDS}
    closed = films - {None, 0}  # neither open to the air nor full of steam
    assert sorted(closed, key=str) == [pytest.approx(limit, abs=5e-6)]


def test_each_way_to_close_a_sheet_is_some_ten_times_the_tighter_one() -> None:
    taped, lapped, loose = (seam_loss_l_m_d(laps) for laps in get_args(Laps))
    assert 5 <= lapped / taped <= 20
    assert 5 <= loose / lapped <= 20
    assert cover_properties("plastic_sheet").seam_loss_l_m_d == lapped


def test_only_blankets_insulate() -> None:
    # Curing blankets of 0.35 to 1.4 m² K/W (read in a secondary copy).
    warm = {k: cover_properties(k).resistance_m2k_w for k in KINDS}
    assert 0.35 <= warm.pop("insulated_blankets") <= 1.4
    assert max(warm.values()) < 0.1


@pytest.mark.parametrize("kind", KINDS)
def test_every_cover_that_can_be_re_wetted_states_its_ranges(kind: CoverKind) -> None:
    if not cover_properties(kind).rewettable:
        with pytest.raises(KeyError, match=kind):
            cover_ranges(kind)
        return
    for low, high in cover_ranges(kind):
        assert low <= 1 <= high
        assert low < high
