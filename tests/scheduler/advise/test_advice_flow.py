"""Advice from site to ranking, on the clocks."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import CoverStock, Element, Receives, SiteInput, Supply
from scheduler.advice_flow import advise_on, clocks, versions_of
from scheduler.methods.expand import expand
from scheduler.methods.registry import METHODS
from scheduler.methods.surfaces import surfaces_of
from tests.builders import MONDAY, pour, site_input, weather
from tests.scheduler.advise.flow_builders import (
    advice_on,
    by_method,
    frosty_nights,
    hot_wind,
    under,
    wall,
)

ELEMENTS: tuple[Element, ...] = ("slab_on_ground", "deck", "wall", "column")
RECEIVES: tuple[Receives, ...] = ("none", "tile", "next_lift")


@settings(max_examples=12, deadline=None)
@given(
    st.sampled_from(ELEMENTS), st.sampled_from(RECEIVES), st.sampled_from([0, 12, 40])
)
def test_each_method_is_ranked_or_refused_and_never_both(
    element: Element, receives: Receives, slope_pct: float
) -> None:
    asked = site_input(pour(element=element, receives=receives, slope_pct=slope_pct))
    advice = advice_on(asked)
    ranked = [candidate.method for candidate in advice.ranked]
    refused = [refusal.method for refusal in advice.refused]
    assert sorted([*ranked, *refused]) == sorted(METHODS)
    assert all(refusal.nearest not in refused for refusal in advice.refused)
    costs = [round(candidate.cost) for candidate in advice.ranked]
    assert costs == sorted(costs)


def test_the_present_method_has_the_work_of_the_plan() -> None:
    asked = site_input(pour(), wall(id="P2"), pour("P3", method="compound_white"))
    surfaces = surfaces_of(asked)
    planned = clocks(asked, surfaces)
    plan = expand(asked, surfaces, planned.hydration, planned.drying)
    versions = tuple(v for s in surfaces for v in versions_of(asked, s).allowed)
    tried = clocks(asked, versions)
    works = expand(asked, versions, tried.hydration, tried.drying).surfaces
    by_id = {work.surface_id: work for work in works}
    assert [by_id[work.surface_id] for work in plan.surfaces] == list(plan.surfaces)


def test_advice_is_the_same_alone_and_among_others() -> None:
    asked = site_input(pour(), wall(id="P2"))
    together = advise_on(asked, [versions_of(asked, s) for s in surfaces_of(asked)])
    alone = tuple(advice_on(asked, s.id) for s in surfaces_of(asked))
    assert together == alone


def test_a_suspended_deck_in_hot_wind_wants_a_cover_that_keeps_its_water() -> None:
    deck = pour(element="deck", thickness_mm=220, method="burlap_single", risk=3)
    advice = advice_on(under(hot_wind(), deck))
    of = by_method(advice)
    assert "compound_clear" in {refusal.method for refusal in advice.refused}
    # Open burlap loses ten times what a sheet lets through (covers.toml).
    single, sheet = of["burlap_single"], of["sheet_over_burlap"]
    assert single.lasts_day_h is not None
    assert sheet.lasts_day_h is not None
    assert single.lasts_day_h < 1 < 4 * single.lasts_day_h < sheet.lasts_day_h
    assert sheet.rank < of["burlap_double"].rank < single.rank
    assert single.rewets > 2 * sheet.rewets
    # Wind over 5.6 m/s carries compound off, over 8.3 m/s it takes the sheet.
    assert of["compound_white"].outside_h > 0
    assert any("wind" in words for words in of["sheet_over_burlap"].cautions)


def test_white_compound_comes_before_clear_in_hot_sun() -> None:
    slab = pour(method="compound_clear")
    calm = weather(mean_c=29, swing_k=6, humidity=0.5, wind_m_s=2)
    of = by_method(advice_on(under(calm, slab)))
    white, clear = of["compound_white"], of["compound_clear"]
    assert white.rank < clear.rank
    assert white.hottest_c < clear.hottest_c
    # Clear wants shade for three days where the air reaches 32 °C.
    assert clear.outside_h > white.outside_h
    assert any("shade" in words for words in clear.cautions)


def test_white_compound_is_cooler_in_mild_sun_too_and_so_comes_first() -> None:
    of = by_method(advice_on(site_input(pour(method="compound_clear"))))
    white, clear = of["compound_white"], of["compound_clear"]
    assert (white.cost, white.outside_h) == (clear.cost, clear.outside_h)
    assert white.hottest_c < clear.hottest_c
    assert white.rank < clear.rank


def test_wall_faces_struck_in_the_night_want_what_the_night_pair_can_do() -> None:
    advice = advice_on(site_input(wall()), "P1-faces")
    of = by_method(advice)
    refused = {refusal.method for refusal in advice.refused}
    assert {"cotton_mats", "compound_white"} <= refused
    # The pair has no sprayer: bare until the day gang comes at 07:00, eight hours after
    # striking, of which half an hour is grace and two are a compound's own time.
    assert of["compound_clear"].dry_min > 240
    assert of["plastic_sheet"].dry_min == 0
    assert of["plastic_sheet"].rank < of["compound_clear"].rank
    assert of["burlap_double"].rank < of["compound_clear"].rank


def test_compound_is_refused_under_tiles_and_says_why_and_what_instead() -> None:
    advice = advice_on(site_input(pour(receives="tile", method="compound_white")))
    refused = {refusal.method: refusal for refusal in advice.refused}
    assert {"compound_clear", "compound_white"} <= set(refused)
    white = refused["compound_white"]
    assert white.reason == (
        "a method under which a tile can bond: UFGS-03300A: no compound where "
        "something must bond; white on pavements, hidden flat work and its edges (read)"
    )
    assert white.nearest == "sheet_over_burlap"
    assert white.planned
    assert not any(candidate.planned for candidate in advice.ranked)


def test_before_a_frosty_night_open_wet_covers_are_outside_their_limits() -> None:
    slab = pour(method="burlap_double")
    of = by_method(advice_on(under(frosty_nights(), slab)))
    # Air below 5 °C from the evening to the morning: more than half of each day.
    assert of["burlap_double"].outside_h > 12
    assert of["plastic_sheet"].outside_h + 12 < of["burlap_double"].outside_h
    assert any("freeze" in words for words in of["burlap_double"].cautions)
    assert of["plastic_sheet"].rank < of["burlap_double"].rank


def covered() -> SiteInput:
    since = MONDAY - timedelta(hours=10)
    return site_input(
        pour(
            placing_starts_at=MONDAY - timedelta(hours=30),
            placing_ends_at=MONDAY - timedelta(hours=26),
            covered_at=since,
            wetted_at=since,
        )
    )


def test_a_surface_under_its_cover_keeps_it() -> None:
    advice = advice_on(covered())
    assert [candidate.method for candidate in advice.ranked] == ["burlap_double"]
    assert advice.refused == ()
    assert advice.settled == (
        "under its cover since Sun 20:00, so only that is looked at"
    )


def test_faces_struck_after_the_plan_are_left_to_the_next() -> None:
    asked = site_input(wall(strike_at=MONDAY + timedelta(days=7)))
    ends_at = asked.horizon.ends_at
    hours = tuple(hour for hour in asked.weather.hours if hour.at < ends_at)
    skies = asked.weather.model_copy(update={"hours": hours})
    advice = advice_on(asked.model_copy(update={"weather": skies}), "P1-faces")
    assert (advice.ranked, advice.refused) == ((), ())
    assert advice.settled == (
        "bare only after the plan ends, so there is nothing to judge yet"
    )


def test_a_candidate_names_what_it_puts_on() -> None:
    of = by_method(advice_on(site_input(pour(method="burlap_double"))))
    # Two coats of 0.1 L/m² on 300 m².
    assert of["compound_white"].supplies == (Supply(name="compound", volume_l=60),)
    for method in ("burlap_single", "cotton_mats", "plastic_sheet"):
        (supply,) = of[method].supplies
        assert supply.area_m2 == pytest.approx(300, abs=1)  # parts are rounded to 1 m²


def test_covers_the_site_does_not_own_are_told() -> None:
    asked = site_input(pour())
    of = by_method(advice_on(asked))
    assert not any("stock" in words for one in of.values() for words in one.cautions)
    owned = (CoverStock(kind="burlap_double", stock_m2=200),)
    site = asked.site.model_copy(update={"covers": owned})
    of = by_method(advice_on(asked.model_copy(update={"site": site})))
    said = "none of it in the site's stock; 300 m²"
    assert said in of["burlap_single"].cautions
    assert said in of["plastic_sheet"].cautions
    assert said not in of["burlap_double"].cautions
    assert said not in of["compound_white"].cautions
    assert any(
        "the site owns 200 m²" in words for words in of["burlap_double"].cautions
    )
