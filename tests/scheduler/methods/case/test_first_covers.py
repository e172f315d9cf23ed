"""Covers of a method with the site's own figures where it has them."""

import pytest

from models.drying.covers import cover_properties, seam_loss_l_m_d
from models.records import CoverStock
from scheduler.methods.case.method_table import cover_of, first_cover
from tests.builders import site


def test_a_site_without_figures_of_its_own_gets_the_defaults() -> None:
    assert cover_of("plastic_sheet", site()) == cover_properties("plastic_sheet")


@pytest.mark.parametrize("laps", ["taped", "lapped", "loose"])
def test_a_sheet_loses_by_its_laps_as_the_site_closes_them(laps: str) -> None:
    stock = CoverStock.model_validate(
        {"kind": "sheet_over_burlap", "stock_m2": 300, "laps": laps}
    )
    where = site().model_copy(update={"covers": (stock,)})
    cover = first_cover("soaker_under_sheet", where)
    assert cover.seam_loss_l_m_d == seam_loss_l_m_d(stock.laps or "lapped")
    assert cover_of("plastic_sheet", where) == cover_properties("plastic_sheet")


def test_measured_figures_of_the_site_come_first() -> None:
    stock = CoverStock(
        kind="plastic_sheet", stock_m2=300, held_l_m2=0.9, seam_loss_l_m_d=0.3
    )
    cover = cover_of("plastic_sheet", site().model_copy(update={"covers": (stock,)}))
    assert (cover.held_l_m2, cover.seam_loss_l_m_d) == (0.9, 0.3)


def test_a_pond_twice_as_deep_takes_twice_the_heat() -> None:
    usual = cover_properties("pond")
    stock = CoverStock(kind="pond", stock_m2=0, held_l_m2=50)
    cover = cover_of("pond", site().model_copy(update={"covers": (stock,)}))
    assert cover.capacity_kj_m2k == 2 * usual.capacity_kj_m2k
    assert cover.resistance_m2k_w == 2 * usual.resistance_m2k_w
