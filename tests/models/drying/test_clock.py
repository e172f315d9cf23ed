from datetime import datetime, timedelta
from typing import get_args

import numpy as np
import pytest

from models.drying.clock import run
from models.drying.covers import cover_properties
from models.drying.evaporation import menzel_rate_kg_m2_h
from models.drying.surroundings import surroundings
from models.records import (
    CoverKind,
    CoverStage,
    DryingHistory,
    Mix,
    Rules,
    SiteInput,
    Surface,
    Weather,
)
from tests.builders import MONDAY, pour, site_input, surface, weather
from tests.models.drying.drying_builders import GRID, hydration

PLACING = GRID.step(MONDAY + timedelta(hours=1))
EXPOSED = GRID.step(MONDAY + timedelta(hours=5))


def history(
    *surfaces: Surface,
    concrete_c: float = 22.0,
    given: SiteInput | None = None,
    sky: Weather | None = None,
) -> DryingHistory:
    of = given or site_input()
    if sky:
        of = of.model_copy(update={"weather": sky})
    around = surroundings(surfaces, of, GRID)
    return run(surfaces, of, around, hydration(surfaces, concrete_c))


def lasts_h(drying: DryingHistory, soaked_at: datetime) -> float:
    """How long what a cover holds lasts from a soaking on; there is no rain."""
    lost_l_m2 = np.cumsum(drying.cover_loss_l_m2_h[GRID.step(soaked_at) :, 0]) / 6
    return int(np.argmax(lost_l_m2 >= drying.held_l_m2[0])) / 6


def with_rules(fog_from: float, low_bleed: bool = False) -> SiteInput:
    given = site_input()
    mix = Mix(id="C30", strength_mpa=30, cement_kg_m3=340, low_bleed=low_bleed)
    site = given.site.model_copy(
        update={"rules": Rules(fog_from_kg_m2_h=fog_from), "mixes": (mix,)}
    )
    return given.model_copy(update={"site": site})


def test_every_array_has_a_column_a_surface() -> None:
    drying = history(surface(), surface(id="P2-top"))
    shape = (GRID.steps, 2)
    assert drying.fresh_rate_kg_m2_h.shape == shape
    assert drying.cover_loss_l_m2_h.shape == shape
    assert drying.fog_needed.shape == shape
    assert drying.held_l_m2.tolist() == [0.8, 0.8]
    assert drying.surface_ids == ("P1-top", "P2-top")


def test_before_placing_nothing_dries() -> None:
    drying = history(surface())
    assert drying.fresh_rate_kg_m2_h[:PLACING].max() == 0
    assert drying.cover_loss_l_m2_h[:PLACING].max() == 0
    assert not drying.fog_needed[:PLACING].any()
    assert (drying.fresh_rate_kg_m2_h[PLACING:] > 0).all()


def test_fresh_rate_is_that_of_the_concrete_not_of_the_air() -> None:
    given = site_input()
    around = surroundings((surface(),), given, GRID)
    drying = history(surface(), concrete_c=27.0)
    by_hand = menzel_rate_kg_m2_h(
        27.0,
        around.air_temperature_c[EXPOSED, 0],
        around.humidity_fraction[EXPOSED, 0],
        around.wind_m_s[EXPOSED, 0],
    )
    assert drying.fresh_rate_kg_m2_h[EXPOSED, 0] == pytest.approx(by_hand, abs=1e-6)


def test_rates_have_six_decimals() -> None:
    drying = history(surface())
    for rates in (drying.fresh_rate_kg_m2_h, drying.cover_loss_l_m2_h):
        assert (np.round(rates, 6) == rates).all()
        assert not np.signbit(rates[rates == 0]).any()


def test_a_trace_of_rain_on_a_cover_that_loses_nothing_is_a_plain_zero() -> None:
    mist = weather(mean_c=15, swing_k=0, humidity=1.2)
    hours = tuple(h.model_copy(update={"rain_mm": 1e-9}) for h in mist.hours)
    drying = history(
        surface(), concrete_c=5.0, sky=mist.model_copy(update={"hours": hours})
    )
    assert not drying.cover_loss_l_m2_h.any()
    assert not np.signbit(drying.cover_loss_l_m2_h).any()


def test_each_surface_is_driven_by_its_own_cover() -> None:
    sheet = surface(id="P2-top", cover=cover_properties("sheet_over_burlap"))
    loss = history(surface(), sheet).cover_loss_l_m2_h[PLACING:]
    share = loss[:, 1].sum() / loss[:, 0].sum()
    assert 0.01 < share < 0.1


def test_dew_is_credited_to_no_cover() -> None:
    mist = weather(mean_c=25, swing_k=0, humidity=1.2, wind_m_s=4)
    kinds = get_args(CoverKind)
    surfaces = [
        surface(id=f"{kind}-top", cover=cover_properties(kind)) for kind in kinds
    ]
    drying = history(*surfaces, concrete_c=10.0, sky=mist)
    night = slice(*(GRID.step(MONDAY + timedelta(hours=h)) for h in (17, 24)))
    seeps_l_m2_h = np.array([one.cover.leak_mm_d / 24 for one in surfaces])
    lost_l_m2_h = drying.cover_loss_l_m2_h[night]
    assert lost_l_m2_h == pytest.approx(
        np.broadcast_to(seeps_l_m2_h, lost_l_m2_h.shape), abs=1e-6
    )
    assert (drying.cover_loss_l_m2_h >= 0).all()
    assert not drying.fresh_rate_kg_m2_h.any()


def test_held_water_is_that_of_the_surface() -> None:
    cover = cover_properties("burlap_double").model_copy(update={"held_l_m2": 1.3})
    assert history(surface(cover=cover)).held_l_m2.tolist() == [1.3]


def test_warm_concrete_dries_its_cover_at_night() -> None:
    night = weather(mean_c=12, swing_k=0, humidity=0.85, wind_m_s=2)
    cold, warm = (
        history(surface(), concrete_c=c, sky=night).cover_loss_l_m2_h[-6:, 0].sum()
        for c in (12.0, 30.0)
    )
    assert warm > 4 * cold


def test_rain_is_credited_to_open_burlap_and_not_to_what_lies_under_a_sheet() -> None:
    fine = weather()
    wet = fine.model_copy(
        update={
            "hours": tuple(h.model_copy(update={"rain_mm": 2.0}) for h in fine.hours)
        }
    )
    pair = (
        surface(),
        surface(id="P2-top", cover=cover_properties("sheet_over_burlap")),
    )
    without = history(*pair, sky=fine).cover_loss_l_m2_h[PLACING:]
    credited = without - history(*pair, sky=wet).cover_loss_l_m2_h[PLACING:]
    assert credited[:, 0] == pytest.approx(2.0)
    assert credited[:, 1] == pytest.approx(0.0)


def test_fog_is_needed_from_exposure_on_where_it_dries_fast() -> None:
    drying = history(surface(), given=with_rules(0.01))
    assert not drying.fog_needed[:EXPOSED].any()
    assert drying.fog_needed[EXPOSED:].all()


def test_fog_is_not_needed_below_the_level_once_set() -> None:
    drying = history(surface(), given=with_rules(5.0))
    assert not drying.fog_needed.any()


def test_plastic_concrete_that_outruns_its_bleed_needs_fog_from_half_the_level() -> (
    None
):
    drying = history(surface(), given=with_rules(0.6))
    rate = drying.fresh_rate_kg_m2_h[:, 0]
    sets = EXPOSED + 5 * 6
    just_before = drying.fog_needed[sets - 1, 0]
    assert 0.3 < rate[sets - 1] < 0.6
    assert just_before
    assert not drying.fog_needed[sets:, 0][rate[sets:] < 0.6].any()


def test_mixes_that_bleed_little_need_fog_from_half_the_level() -> None:
    usual, low = (
        history(surface(), given=with_rules(0.6, low_bleed=low))
        for low in (False, True)
    )
    rate = usual.fresh_rate_kg_m2_h[EXPOSED:, 0]
    assert (low.fog_needed[EXPOSED:, 0] == (rate >= 0.3)).all()
    assert low.fog_needed.sum() > usual.fog_needed.sum()


def test_a_surface_reported_covered_needs_no_fog_after_it() -> None:
    covered_at = MONDAY + timedelta(hours=8)
    drying = history(surface(covered_at=covered_at), given=with_rules(0.01))
    step = GRID.step(covered_at)
    assert drying.fog_needed[EXPOSED:step].all()
    assert not drying.fog_needed[step:].any()


def test_double_burlap_lasts_an_hour_or_two_on_a_hot_dry_afternoon() -> None:
    hot = weather(mean_c=29, swing_k=6, humidity=0.45, wind_m_s=4)
    drying = history(surface(pour("P1")), concrete_c=34.0, sky=hot)
    soaked_at = MONDAY + timedelta(hours=7)  # 13:00 local
    assert 0.6 < lasts_h(drying, soaked_at) < 2


def test_double_burlap_on_cool_concrete_lasts_much_of_a_cool_night() -> None:
    cool = weather(mean_c=13, swing_k=4, humidity=0.75, wind_m_s=2)
    drying = history(surface(), concrete_c=14.0, sky=cool)
    soaked_at = MONDAY + timedelta(hours=16)  # 22:00 local
    assert lasts_h(drying, soaked_at) > 8


def test_the_height_of_the_site_counts() -> None:
    given = site_input()
    site = given.site.model_copy(update={"elevation_m": 3000.0})
    hills = given.model_copy(update={"site": site})
    low, high = (history(surface(), given=g).cover_loss_l_m2_h for g in (given, hills))
    # Some 30 % less air: some percent of what the wind adds to or takes from a cover.
    changed = np.abs(high - low)[EXPOSED:].mean() / low[EXPOSED:].mean()
    assert 0.005 < changed < 0.2


def test_the_same_input_gives_the_same_rates() -> None:
    one, other = history(surface()), history(surface())
    assert one.cover_loss_l_m2_h.tobytes() == other.cover_loss_l_m2_h.tobytes()
    assert one.fresh_rate_kg_m2_h.tobytes() == other.fresh_rate_kg_m2_h.tobytes()


def then(kind: CoverKind, hours: float) -> CoverStage:
    return CoverStage(
        method="ponding",
        cover=cover_properties(kind),
        starts_at=MONDAY + timedelta(hours=hours),
        reason="for the test",
    )


def test_a_later_cover_loses_as_if_it_were_there_alone() -> None:
    change = GRID.step(MONDAY + timedelta(hours=30))
    burlap = surface()
    sheet = surface(cover=cover_properties("sheet_over_burlap"))
    both = surface(later=(then("sheet_over_burlap", 30),))
    drying = history(burlap, sheet, both)
    loss = drying.cover_loss_l_m2_h
    assert (loss[:change, 2] == loss[:change, 0]).all()
    assert (loss[change:, 2] == loss[change:, 1]).all()
    assert (loss[change:, 2] < loss[change:, 0]).any()


def test_what_is_held_follows_the_covers() -> None:
    change = GRID.step(MONDAY + timedelta(hours=30))
    drying = history(surface(later=(then("pond", 30),)))
    assert drying.held_l_m2.tolist() == [0.8]
    assert set(drying.held_steps_l_m2[:change, 0]) == {0.8}
    assert set(drying.held_steps_l_m2[change:, 0]) == {25.0}


def test_a_pond_leaks_on_top_of_what_evaporates() -> None:
    pond = cover_properties("pond")
    tight = surface(cover=pond.model_copy(update={"leak_mm_d": 0}))
    leaky = surface(cover=pond.model_copy(update={"leak_mm_d": 6}))
    loss = history(tight, leaky).cover_loss_l_m2_h
    # 6 mm a day are 0.25 L/m² an hour, from placing on.
    assert (loss[PLACING:, 1] - loss[PLACING:, 0]) == pytest.approx(0.25, abs=2e-6)
    assert not loss[:PLACING].any()


def test_what_was_learned_scales_evaporation_and_leaks() -> None:
    """The pond of this table leaks; no rain falls here."""
    pond = cover_properties("pond")
    usual = surface(cover=pond)
    fast = surface(cover=pond.model_copy(update={"loss_factor": 1.6}))
    loss = history(usual, fast).cover_loss_l_m2_h
    assert loss[PLACING:, 1] == pytest.approx(1.6 * loss[PLACING:, 0], abs=2e-6)
    bare = history(usual, fast).fresh_rate_kg_m2_h
    assert (bare[:, 0] == bare[:, 1]).all()


def test_nothing_is_lost_in_steam() -> None:
    enclosed = surface(cover=cover_properties("steam_enclosure"))
    assert not history(enclosed).cover_loss_l_m2_h.any()


def test_formulas_that_are_off_scale_what_evaporates_not_rain_or_leaks() -> None:
    """A pond leaks 5 mm a day and takes rain, 1 mm in each hour here."""
    wet = weather().model_copy(
        update={
            "hours": tuple(
                hour.model_copy(update={"rain_mm": 1.0}) for hour in weather().hours
            )
        }
    )
    given = site_input().model_copy(update={"weather": wet})
    pond = surface(cover=cover_properties("pond"))
    around = surroundings((pond,), given, GRID)
    warm = hydration((pond,), 22.0)
    as_is, more = (
        run((pond,), given, around, warm, fraction) for fraction in (1.0, 1.4)
    )
    steady_l_m2_h = 5 / 24 - 1.0
    evaporated = as_is.cover_loss_l_m2_h[PLACING:, 0] - steady_l_m2_h
    assert more.cover_loss_l_m2_h[PLACING:, 0] == pytest.approx(
        1.4 * evaporated + steady_l_m2_h, abs=3e-6
    )
    assert more.fresh_rate_kg_m2_h == pytest.approx(
        1.4 * as_is.fresh_rate_kg_m2_h, abs=3e-6
    )
