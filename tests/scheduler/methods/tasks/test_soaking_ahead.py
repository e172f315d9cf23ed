"""The visit that puts covers into water before they are laid."""

import pytest

from models.records import CoverNeed, CoverStock, Pour, Task, WorkList
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import by_name, hour, work_of

BURLAP = CoverStock(kind="burlap_double", stock_m2=900, soak_lead_h=12)


def planned(one: Pour, owned: CoverStock = BURLAP) -> WorkList:
    given = site_input(one)
    site = given.site.model_copy(update={"covers": (owned,)})
    return work_of(given.model_copy(update={"site": site}))


def soaking(work: WorkList) -> tuple[Task, CoverNeed]:
    (need,) = work.surfaces[0].cover_needs
    return next(t for t in work.surfaces[0].tasks if t.kind == "soak_ahead"), need


def later(**fields: object) -> Pour:
    """Placed on the fifth day."""
    times = {"placing_starts_at": hour(97), "placing_ends_at": hour(101)}
    return pour("P1", **(times | fields))


def test_it_is_wanted_so_long_before_laying_and_may_be_done_three_days_sooner() -> None:
    work = planned(later())
    soak, need = soaking(work)
    first = by_name(work)["lay-1"]
    assert soak.due_min == first.earliest_min - 12 * 60
    assert soak.earliest_min == soak.due_min - 3 * 24 * 60
    assert soak.latest_min == first.latest_min - first.duration_min - 12 * 60
    assert (need.soaked_by, need.checked_by) == (soak.id, "P1-top/hold")


def test_it_takes_what_the_cover_holds_and_a_twentieth_of_a_minute_a_square_metre() -> (
    None
):
    # 300 m²: 15 minutes of work, 300 × 0.8 L at 20 L/min 12, and 6 of set-up.
    soak, _ = soaking(planned(later()))
    assert soak.water is not None
    assert soak.water.litres_l == pytest.approx(240)
    assert (soak.people, soak.duration_min) == (1, 21)
    assert soak.title == "Put 300 m² burlap into water"
    assert (soak.missed_cost, soak.late_cost_per_min) == (0, 0)


def test_what_is_laid_before_anybody_could_have_soaked_it_was_in_water_before() -> None:
    # The first shift begins at 60; with 21 minutes of soaking and 720 in water: 801.
    _, need = soaking(planned(pour()))
    assert need.in_water_until_min == 60 + 21 + 720


def test_under_a_sheet_it_is_the_burlap_that_goes_into_water() -> None:
    owned = CoverStock(kind="sheet_over_burlap", stock_m2=900)
    soak, _ = soaking(planned(later(method="sheet_over_burlap"), owned))
    assert soak.title == "Put 300 m² burlap into water"


@pytest.mark.parametrize(
    ("owned", "method"),
    [
        (BURLAP.model_copy(update={"soak_lead_h": 0}), "burlap_double"),
        (BURLAP, "cotton_mats"),
        (CoverStock(kind="plastic_sheet", stock_m2=900), "plastic_sheet"),
    ],
)
def test_nobody_is_sent_where_nothing_is_soaked_or_counted(
    owned: CoverStock, method: str
) -> None:
    """No lead; a stock of other covers than those laid; a sheet without burlap."""
    work = planned(later(method=method), owned)
    assert all(task.kind != "soak_ahead" for task in work.surfaces[0].tasks)
    assert all(need.soaked_by is None for need in work.surfaces[0].cover_needs)
