"""No open water outside its weather: what is planned, and what is warned of."""

from datetime import timedelta

import pytest
from hypothesis import given as drawn
from hypothesis import settings
from hypothesis import strategies as st

from models.errors import InputError
from models.records import Finding, MethodKey, SiteInput, Stretch
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import MONDAY, pour, site_input
from tests.scheduler.methods.methods_builders import (
    case,
    drying,
    frosty,
    hour,
    hydration,
    operated,
    work_of,
)


def weather(given: SiteInput, **fields: float) -> SiteInput:
    """The same site with weather fields as given in every hour."""
    hours = tuple(h.model_copy(update=fields) for h in given.weather.hours)
    changed = given.weather.model_copy(update={"hours": hours})
    return given.model_copy(update={"weather": changed})


def mild(given: SiteInput) -> SiteInput:
    return weather(given, air_temperature_c=15, wind_m_s=2, solar_w_m2=0)


def warned(given: SiteInput) -> list[Finding]:
    surfaces, grid = surfaces_of(given), planning_grid(given)
    clocks = hydration(surfaces, grid, 72), drying(surfaces, grid)
    return [f for f in warnings_of(given, surfaces, *clocks) if f.kind == "temperature"]


@settings(deadline=None, max_examples=60)
@drawn(
    method=st.sampled_from(["ponding", "sprinklers", "soaker_under_sheet"]),
    cold_h=st.lists(st.integers(0, 120), max_size=12),
    air_c=st.sampled_from([-5.0, 1.0, 3.0]),
    then=st.booleans(),
)
def test_open_water_is_planned_in_its_own_weather_only(
    method: MethodKey, cold_h: list[int], air_c: float, then: bool
) -> None:
    """5 °C for a pond and for heads, 2 °C for hose under a sheet (from memory)."""
    fields = {"then_method": "insulated_blankets", "then_after": "frost"}
    slab = pour(method=method, area_m2=90, **(fields if then else {}))
    given = frosty(
        weather(site_input(slab), air_temperature_c=15), *cold_h, air_c=air_c
    )
    least_c = 2 if method == "soaker_under_sheet" else 5
    cold = [range(60 * h, 60 * h + 60) for h in cold_h if air_c < least_c]
    if not then and air_c < 2 and any(10 <= h < 72 for h in cold_h):
        with pytest.raises(InputError, match="a method that stands frost"):
            work_of(given)
        return
    try:
        (surface,) = work_of(given).surfaces
    except InputError:
        return  # frost on the very first day, before any change can be planned
    for flow in surface.automatic:
        assert not any(
            flow.from_min < h.stop and h.start < flow.until_min for h in cold
        )
    for task in surface.tasks:
        if task.kind == "top_up":
            whole = range(task.earliest_min, task.latest_min)
            assert not any(whole.start < h.stop and h.start < whole.stop for h in cold)


def test_the_parts_between_cold_stretches() -> None:
    given = frosty(mild(site_input(pour(method="ponding"))), 1, 2, 5)
    parts = list(case(given).mild_parts(0, 400))
    assert parts == [
        Stretch(from_min=0, until_min=60),
        Stretch(from_min=180, until_min=300),
        Stretch(from_min=360, until_min=400),
    ]
    assert list(case(given).mild_parts(70, 90)) == []


@pytest.mark.parametrize(
    ("method", "fields", "said"),
    [
        ("sprinklers", {"wind_m_s": 8}, "limit for burlap is 6.9 m/s"),
        ("ponding", {"wind_m_s": 12}, "limit for pond is 11.0 m/s"),
        (
            "plastic_sheet_black",
            {"air_temperature_c": 25},
            "limit for black sheet is 16 °C",
        ),
        (
            "insulated_blankets",
            {"air_temperature_c": 25},
            "limit for blankets is 20 °C",
        ),
        ("live_steam", {"wind_m_s": 9}, "limit for enclosure is 8.3 m/s"),
        ("wet_sand", {"air_temperature_c": 4}, "sand needs 5 °C or more"),
    ],
)
def test_weather_that_does_not_suit_a_method_is_said(
    method: MethodKey, fields: dict[str, float], said: str
) -> None:
    given = operated(mild(site_input(pour(method=method, area_m2=90))))
    assert not warned(given)
    found = warned(weather(given, **fields))
    assert any(said in f.words for f in found), [f.words for f in found]


def test_forms_alone_are_not_enough_in_the_heat() -> None:
    """Concrete Construction, question on walls in hot weather (read)."""
    wall = pour(
        element="wall", area_m2=20, formed_area_m2=60, strike_at=hour(49),
        formed_method="forms_in_place",
    )  # fmt: skip
    hot = weather(mild(site_input(wall)), air_temperature_c=31)
    assert any("limit for a face in forms is 30 °C" in f.words for f in warned(hot))
    assert not warned(mild(site_input(wall)))


def test_a_stage_is_judged_by_the_weather_of_its_own_time() -> None:
    """Frost after the blankets are on is no matter of the burlap under them before."""
    slab = pour(then_method="insulated_blankets", then_after="frost")
    given = frosty(mild(site_input(slab)), 46)
    (stage,) = surfaces_of(given)[0].later
    assert stage.starts_at < MONDAY + timedelta(hours=46)
    assert not any("burlap" in f.words for f in warned(given))
    bare = frosty(mild(site_input(pour())), 46)
    assert any("burlap needs 5 °C" in f.words for f in warned(bare))
