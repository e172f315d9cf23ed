"""Pours become surfaces, and the grid reaches as far as the weather."""

from datetime import timedelta
from typing import get_args

import pytest

from models.errors import InputError
from models.records import (
    CoverKind,
    CoverStock,
    EventName,
    MethodKey,
    Pour,
    SiteInput,
)
from scheduler.methods.case.method_table import first_cover
from scheduler.methods.surfaces import planning_grid, surfaces_of
from tests.builders import MONDAY, pour, site_input, weather
from tests.scheduler.methods.methods_builders import hour, utc


def wall() -> Pour:
    return pour(
        "W1", element="wall", area_m2=10, formed_area_m2=120, strike_at=hour(48),
        formed_method="sheet_over_burlap", covered_at=hour(9), wetted_at=hour(10),
    )  # fmt: skip


def test_a_pour_with_forms_has_a_top_and_faces() -> None:
    top, faces = surfaces_of(site_input(wall()))
    assert (top.id, top.face, top.vertical, top.area_m2) == ("W1-top", "top", False, 10)
    assert (faces.id, faces.face, faces.vertical) == ("W1-faces", "formed", True)
    assert (faces.area_m2, faces.method) == (120, "sheet_over_burlap")
    assert faces.cover.kind == "sheet_over_burlap"
    assert (top.label, faces.label) == ("W1 Quay slab, top", "W1 Quay slab, faces")


def test_each_is_exposed_in_its_own_time_and_only_the_top_is_reported() -> None:
    top, faces = surfaces_of(site_input(wall()))
    assert (top.exposed_at, faces.exposed_at) == (hour(5), hour(48))
    assert (top.covered_at, top.wetted_at) == (hour(9), hour(10))
    assert (faces.covered_at, faces.wetted_at) == (None, None)


@pytest.mark.parametrize(
    ("method", "event"),
    [
        ("burlap_single", "takes_cover"),
        ("burlap_double", "takes_cover"),
        ("cotton_mats", "bears_people"),
        ("plastic_sheet", "takes_cover"),
        ("sheet_over_burlap", "takes_cover"),
        ("compound_clear", "sheen_gone"),
        ("compound_white", "sheen_gone"),
        ("wet_sand", "bears_people"),
        ("impervious_paper", "takes_cover"),
        ("insulated_blankets", "bears_people"),
    ],
)
def test_the_event_a_cover_waits_for(method: MethodKey, event: EventName) -> None:
    (surface,) = surfaces_of(site_input(pour(method=method)))
    assert surface.cover_from == event
    assert surface.cover.kind == method


@pytest.mark.parametrize(
    ("method", "cover"),
    [
        ("ponding", "burlap_single"),
        ("sprinklers", "burlap_single"),
        ("soaker_under_sheet", "sheet_over_burlap"),
        ("live_steam", "steam_enclosure"),
    ],
)
def test_what_lies_first_where_the_method_is_not_named_for_it(
    method: MethodKey, cover: CoverKind
) -> None:
    (surface,) = surfaces_of(site_input(pour(method=method)))
    assert surface.cover.kind == cover


@pytest.mark.parametrize("method", get_args(MethodKey))
def test_every_method_has_a_first_cover(method: MethodKey) -> None:
    assert first_cover(method, site_input().site).kind in get_args(CoverKind)


def test_edges_are_a_surface_between_top_and_faces() -> None:
    of = wall().model_copy(
        update={
            "edge_area_m2": 6.0, "edge_strike_at": hour(20),
            "edge_method": "compound_white",
        }
    )  # fmt: skip
    top, edges, faces = surfaces_of(site_input(of))
    assert (edges.id, edges.label) == ("W1-edges", "W1 Quay slab, edges")
    assert (edges.face, edges.vertical, edges.area_m2) == ("edges", True, 6)
    assert (edges.method, edges.cover.kind) == ("compound_white", "compound_white")
    assert (edges.exposed_at, edges.covered_at) == (hour(20), None)
    assert (top.face, faces.face) == ("top", "formed")
    assert [one.part for one in (top, edges, faces)] == ["top", "edges", "faces"]
    assert all(one.label.endswith(f", {one.part}") for one in (top, edges, faces))


def test_the_sites_own_cover_holds_what_the_site_says() -> None:
    given = site_input()
    stock = CoverStock(kind="burlap_double", stock_m2=500, held_l_m2=1.1)
    where = given.site.model_copy(update={"covers": (stock,)})
    (surface,) = surfaces_of(given.model_copy(update={"site": where}))
    assert surface.cover.held_l_m2 == 1.1


def test_a_pours_own_profile_comes_before_the_sites() -> None:
    a, b = surfaces_of(site_input(pour("P1"), pour("P2", profile="other")))
    assert (a.profile_id, b.profile_id) == ("seven_days", "other")


def test_pours_after_the_horizon_are_the_next_plans() -> None:
    late = pour("P2", placing_starts_at=hour(168), placing_ends_at=hour(171))
    assert [s.pour_id for s in surfaces_of(site_input(pour("P1"), late))] == ["P1"]


def test_the_grid_begins_at_the_full_hour_before_the_first_placing() -> None:
    early = pour(
        placing_starts_at=hour(-20) + timedelta(minutes=40), placing_ends_at=hour(-17)
    )
    grid = planning_grid(site_input(early))
    assert grid.starts_at == hour(-20)
    assert grid.step_min == 10


def test_the_grid_begins_with_the_horizon_if_that_is_sooner() -> None:
    assert planning_grid(site_input()).starts_at == MONDAY


def test_full_hours_are_those_of_the_weather() -> None:
    """In India the local hour begins at half past by UTC."""
    given = site_input().model_copy(
        update={"weather": weather(starts_at=MONDAY - timedelta(hours=24.5))}
    )
    assert planning_grid(given).starts_at == MONDAY - timedelta(minutes=30)


def test_the_grid_ends_with_the_weather_or_ten_days_on() -> None:
    """Weather from Saturday for 11 days ends two days after the week."""
    short = planning_grid(site_input())
    assert short.at(short.steps) == hour(7 * 24 + 48)
    given = site_input().model_copy(update={"weather": weather(hours=30 * 24)})
    long = planning_grid(given)
    assert long.at(long.steps) == hour(17 * 24)


def with_weather(from_h: float, hours: int) -> SiteInput:
    some = weather(starts_at=hour(from_h), hours=hours)
    return site_input().model_copy(update={"weather": some})


def test_weather_that_begins_too_late_is_refused() -> None:
    with pytest.raises(InputError, match=r"weather, time: found weather from .*05:00"):
        planning_grid(with_weather(1, 9 * 24))


def test_weather_that_ends_too_early_is_refused() -> None:
    with pytest.raises(InputError, match="expected weather until 2027-05-10 04:00"):
        planning_grid(with_weather(-24, 7 * 24))


def test_weather_that_is_just_long_enough_will_do() -> None:
    grid = planning_grid(with_weather(0, 7 * 24))
    assert grid.at(grid.steps) == utc(2027, 5, 10, 4)
