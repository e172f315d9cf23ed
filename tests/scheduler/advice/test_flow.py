"""Advice from site to ranking, on the clocks."""

from datetime import timedelta
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.records import (
    CoverStock,
    Element,
    MethodKey,
    Receives,
    Refusal,
    SiteInput,
    Supply,
)
from scheduler.advice.flow import advise_on, work_of
from scheduler.advice.versions import versions_of
from scheduler.clocked import clock
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import surfaces_of
from tests.builders import MONDAY, pour, site_input, weather
from tests.scheduler.advice.flow_builders import (
    advice_on,
    by_method,
    frosty_nights,
    hot_wind,
    under,
    wall,
)

ELEMENTS: tuple[Element, ...] = ("slab_on_ground", "deck", "wall", "column")
RECEIVES: tuple[Receives, ...] = ("none", "tile", "next_lift")


@settings(max_examples=6, deadline=None)
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
    assert sorted([*ranked, *refused]) == sorted(get_args(MethodKey))
    assert all(refusal.nearest not in refused for refusal in advice.refused)
    look = asked.site.costs.missed_inspection
    steps = [one.cost // look + one.outside_h for one in advice.ranked]
    assert steps == sorted(steps)


def test_the_present_method_has_the_work_of_the_plan() -> None:
    asked = site_input(pour(), wall(id="P2"), pour("P3", method="compound_white"))
    surfaces = surfaces_of(asked)
    planned = clock(asked, surfaces)
    plan = expand(asked, surfaces, planned.hydration, planned.drying)
    tried = tuple(
        version
        for surface in surfaces
        for attempts in versions_of(asked, surface).tried
        for version in attempts
    )
    clocked = clock(asked, tried)
    works = [work_of(clocked, s).surfaces[0] for s in tried if s in surfaces]
    assert works == list(plan.surfaces)


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
    assert white.outside_h == clear.outside_h
    # A cooler face dries no faster until it can be sprayed, so it wants no more fog.
    assert white.cost <= clear.cost
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
    # The pair lays the sheet in two strips of 30 m², mist at 300 and sheet at 25 m²/h,
    # by night × 1.3: 30 / 2 × (0.2 + 2.4) × 1.3 = 50.7 min, 51 + 6 = 57. So long the
    # other half is bare, drying too fast from striking on; half laid 28 min later.
    assert of["plastic_sheet"].dry_min == 57 + 28
    assert of["plastic_sheet"].rank < of["compound_clear"].rank
    # Nobody could spray sooner, so the compound is not late; but it leaves the face
    # bare for longer than burlap under a sheet does.
    assert of["sheet_over_burlap"].dry_min < of["compound_clear"].dry_min
    assert of["sheet_over_burlap"].rank < of["compound_clear"].rank


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
        "under its cover since Sun 20:00, so only that method is judged"
    )


def test_faces_struck_after_the_plan_are_left_to_the_next() -> None:
    asked = site_input(wall(strike_at=MONDAY + timedelta(days=7)))
    ends_at = asked.horizon.ends_at
    hours = tuple(hour for hour in asked.weather.hours if hour.at < ends_at)
    skies = asked.weather.model_copy(update={"hours": hours})
    advice = advice_on(asked.model_copy(update={"weather": skies}), "P1-faces")
    assert (advice.ranked, advice.refused) == ((), ())
    assert advice.settled == ("exposed only after the plan ends; nothing to judge yet")


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
    said = "Wet burlap, one layer: none in stock, 300 m² needed"
    single = of["burlap_single"]
    assert said in single.cautions
    assert not single.in_stock
    assert of["burlap_double"].in_stock
    # A compound comes in drums, a pond out of the tap.
    assert of["compound_white"].in_stock
    assert any(
        "the site owns 200 m²" in words for words in of["burlap_double"].cautions
    )


def refusals(asked: SiteInput, surface_id: str = "P1-top") -> dict[str, Refusal]:
    return {r.method: r for r in advice_on(asked, surface_id).refused}


def test_what_is_never_done_in_situ_is_refused_with_its_reason() -> None:
    refused = refusals(site_input(pour()))
    assert "never used in situ" in refused["autoclave"].reason
    assert "alternate wetting and drying" in refused["hand_sprinkling"].reason
    assert refused["hand_sprinkling"].nearest == "burlap_double"
    assert "steam_operator" in refused["live_steam"].reason


def test_a_pond_on_a_deck_waits_for_its_shoring_to_be_checked() -> None:
    slab = pour(element="suspended_slab")
    assert "shoring_checked" in refusals(site_input(slab))["ponding"].reason
    checked = slab.model_copy(update={"shoring_checked": True})
    pond = by_method(advice_on(site_input(checked)))["ponding"]
    (change,) = pond.changes
    assert "hard enough for a pond" in change
    # 50 mm on 300 m², and what the burlap took before it.
    assert pond.water_l > 300 * 50


def test_open_water_is_refused_before_frost_unless_something_follows_it() -> None:
    slab = pour(receives="none")
    refused = refusals(under(frosty_nights(), slab))
    assert "a then_method after 'frost'" in refused["sprinklers"].reason
    # Mild until Thursday 20:00, then frost: time for sprinklers, and to end them.
    cold_from = MONDAY + timedelta(days=3, hours=14)
    mild = weather(mean_c=16, swing_k=4)
    hours = tuple(
        hour.model_copy(update={"air_temperature_c": hour.air_temperature_c - 14})
        if hour.at > cold_from
        else hour
        for hour in mild.hours
    )
    follows = slab.model_copy(
        update={"then_method": "insulated_blankets", "then_after": "frost"}
    )
    asked = under(mild.model_copy(update={"hours": hours}), follows)
    found = by_method(advice_on(asked))["sprinklers"]
    assert found.keeps_then
    assert len(found.changes) == 1
    assert "frost" in found.changes[0]


def test_what_the_pour_plans_after_its_own_method_is_not_put_after_another() -> None:
    asked = site_input(pour(then_method="compound_white", then_after="1 d"))
    of = by_method(advice_on(asked))
    assert of["burlap_double"].keeps_then
    assert len(of["burlap_double"].changes) == 1
    assert not of["plastic_sheet"].keeps_then
    assert of["plastic_sheet"].changes == ()


def test_a_timer_is_judged_by_its_own_water_and_refused_beyond_it() -> None:
    asked = site_input(pour())
    timer = by_method(advice_on(asked))["sprinklers"]
    assert timer.rewets == 0
    # At least 10 L/m² a day for most of a week.
    assert timer.water_l > 300 * 10 * 3
    taps = tuple(
        point.model_copy(update={"flow_l_min": 1.0})
        for point in asked.site.water_points
    )
    site = asked.site.model_copy(update={"water_points": taps})
    refused = refusals(asked.model_copy(update={"site": site}))["sprinklers"]
    assert "which timers and others draw" in refused.reason
    assert "water tap: [[water]] flow is 1 L/min" in refused.reason


def test_a_timer_is_refused_where_the_others_of_the_plan_leave_too_little() -> None:
    first, second = pour(method="sprinklers"), pour("P2")
    asked = site_input(first, second)
    tap, *_ = asked.site.water_points
    zones = tuple(
        zone.model_copy(update={"water_points": ("tap",)}) for zone in asked.site.zones
    )

    def at_tap(flow_l_min: float) -> SiteInput:
        point = tap.model_copy(update={"flow_l_min": flow_l_min})
        update = {"water_points": (point,), "zones": zones}
        return asked.model_copy(update={"site": asked.site.model_copy(update=update)})

    # Sprinklers on 300 m² draw 36 L/m² a day, 7.5 L/min: 10 L/min feeds one of them.
    assert by_method(advice_on(at_tap(20), "P2-top"))["sprinklers"].rank
    scarce = at_tap(10)
    refused = refusals(scarce, "P2-top")
    assert "which timers and others draw" in refused["sprinklers"].reason
    assert by_method(advice_on(scarce, "P1-top"))["sprinklers"].planned
    both = scarce.model_copy(
        update={"pours": (first, second.model_copy(update={"method": "sprinklers"}))}
    )
    surfaces = surfaces_of(both)
    clocked = clock(both, surfaces)
    with pytest.raises(InputError, match="which timers and others draw"):
        expand(both, surfaces, clocked.hydration, clocked.drying)


def test_steam_is_no_choice_for_faces_that_are_struck_after_it() -> None:
    asked = site_input(wall())
    crews = tuple(
        crew.model_copy(update={"skills": (*crew.skills, "steam_operator")})
        for crew in asked.site.crews
    )
    site = asked.site.model_copy(update={"crews": crews})
    refused = refusals(asked.model_copy(update={"site": site}), "P1-faces")
    assert refused["live_steam"].reason.startswith("a surface that can take it long")


def test_a_mix_with_no_water_to_spare_wants_a_cover_that_adds_some() -> None:
    asked = site_input(pour(method="compound_white", area_m2=40, exposure="sheltered"))
    of = by_method(advice_on(asked))
    assert not of["compound_white"].needs_added_water
    assert of["compound_white"].rank < of["sheet_over_burlap"].rank
    mix = asked.site.mixes[0].model_copy(update={"water_cement_fraction": 0.36})
    site = asked.site.model_copy(update={"mixes": (mix,)})
    of = by_method(advice_on(asked.model_copy(update={"site": site})))
    assert of["compound_white"].needs_added_water
    assert of["sheet_over_burlap"].rank < of["compound_white"].rank
    assert any("adds no water" in words for words in of["compound_white"].cautions)


def test_edges_are_advised_on_like_tops() -> None:
    asked = site_input(
        pour(
            edge_area_m2=12, edge_method="burlap_single",
            edge_strike_at=MONDAY + timedelta(hours=25),
        )
    )  # fmt: skip
    advice = advice_on(asked, "P1-edges")
    assert (advice.face, advice.planned) == ("edges", "burlap_single")
    assert {c.method for c in advice.ranked if c.planned} == {"burlap_single"}
    assert "plastic_sheet" in by_method(advice)


def test_where_young_concrete_would_freeze_blankets_come_before_a_sheet() -> None:
    asked = under(weather(mean_c=-5, swing_k=2, wind_m_s=3), pour(thickness_mm=150))
    # 5 MPa before the first frost is EN 13670:2009's usual figure (from memory).
    rule = asked.profiles["seven_days"].model_copy(update={"freezing_strength_mpa": 5})
    asked = asked.model_copy(update={"profiles": {"seven_days": rule}})
    advice = advice_on(asked)
    of = by_method(advice)
    sheet, blankets = of["plastic_sheet"], of["insulated_blankets"]
    assert blankets.off_limits_h < sheet.off_limits_h
    assert blankets.rank < sheet.rank
    frost = [words for words in sheet.cautions if "it must not freeze" in words]
    assert frost
    # The page names the surface already.
    assert all(words.startswith("is at -") for words in frost)
