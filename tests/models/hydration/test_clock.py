from datetime import timedelta

import numpy as np
import pytest

from models.drying.surroundings import surroundings
from models.hydration import march
from models.hydration.clock import run
from models.records import (
    CoverProperties,
    CoverStage,
    Grid,
    HydrationHistory,
    Reading,
    SiteInput,
    SteamCycle,
    Surface,
)
from tests.builders import MONDAY, burlap, pour, site_input, surface, weather

GRID = Grid(MONDAY, 10, 9 * 144)
PLACED = 30  # placing ends 5 h into the grid


def go(*surfaces: Surface, of: SiteInput | None = None,
       grid: Grid = GRID) -> HydrationHistory:  # fmt: skip
    of = of or site_input()
    return run(surfaces, of, surroundings(surfaces, of, grid), grid)


def wall(hours: float = 30, **fields: object) -> Surface:
    of = pour("W", element="wall", thickness_mm=300)
    return surface(
        of, id="W-formed", face="formed", vertical=True,
        exposed_at=MONDAY + timedelta(hours=hours), **fields,
    )  # fmt: skip


def test_slab_warms_by_some_kelvin_above_the_air_and_then_follows_it() -> None:
    of = site_input()
    slab = surface(pour(thickness_mm=250))
    core_c = go(slab, of=of).core_temperature_c[PLACED:, 0]
    air_c = surroundings([slab], of, GRID).air_temperature_c[PLACED:, 0]
    peak = int(np.argmax(core_c[:144]))
    assert 6 <= peak / 6 <= 18
    assert 5 <= core_c[peak] - air_c[peak] <= 20
    week = slice(4 * 144, 8 * 144)
    assert abs(core_c[week].mean() - air_c[week].mean()) < 4


def test_events_come_in_order_with_their_spread() -> None:
    events = go(surface()).events[0]
    in_order = [events.sheen_gone, events.takes_cover, events.bears_people]
    for window in in_order:
        assert window.earliest_at < window.expected_at < window.latest_at
    expected = [window.expected_at for window in in_order]
    assert expected == sorted(expected)
    assert expected[0] > surface().placing_ends_at


def test_events_come_later_in_the_cold() -> None:
    cold, warm = (surface(placing_temperature_c=c) for c in (8, 30))
    events = go(cold, warm).events
    assert events[0].takes_cover.expected_at > events[1].takes_cover.expected_at


def test_setting_takes_the_hours_of_the_mix_at_20_degrees() -> None:
    # Whatever the weather, the setting age at the event is 5.5 h, of which 0.75 h were
    # brought along: a surface kept at exactly 20 °C by readings takes 4.75 h.
    at = [MONDAY + timedelta(minutes=300 + 10 * i) for i in range(40)]
    readings = tuple(
        Reading(surface_id="P1-top", at=t, place="surface", temperature_c=20)
        for t in at
    )
    of = site_input().model_copy(update={"readings": readings})
    found = go(surface(), of=of).events[0].takes_cover.expected_at
    wanted = surface().placing_ends_at + timedelta(hours=4.75)
    assert abs(found - wanted) <= timedelta(minutes=5)


def test_curing_ends_after_seven_warm_days_from_placing() -> None:
    events = go(surface(), wall()).events
    for event in events:
        assert event.curing_ends is not None
        days = event.curing_ends.expected_at - surface().placing_ends_at
        # This May stays above 10 °C, the surface of the concrete too.
        assert days == timedelta(days=7)
        assert event.curing_rule.startswith("7 days at 10 °C or more")


def test_curing_that_outlasts_the_grid_has_no_end() -> None:
    events = go(surface(), grid=Grid(MONDAY, 10, 500)).events[0]
    assert events.curing_ends is None
    assert "not reached" in events.curing_rule


def test_formed_face_has_no_event_before_it_is_struck() -> None:
    events = go(wall()).events[0]
    struck_at = MONDAY + timedelta(hours=30)
    assert events.takes_cover.earliest_at == struck_at
    assert events.takes_cover.latest_at == struck_at


def test_forms_struck_early_leave_the_events_to_setting() -> None:
    events = go(wall(hours=6)).events[0]
    assert events.bears_people.expected_at > MONDAY + timedelta(hours=6)


def test_reported_cover_was_taken_when_it_was_reported() -> None:
    covered_at = surface().placing_ends_at + timedelta(hours=2)
    events = go(surface(covered_at=covered_at)).events[0]
    assert events.takes_cover.expected_at == covered_at
    assert events.sheen_gone.latest_at <= covered_at
    assert events.bears_people.expected_at > covered_at


def test_reading_is_met_and_carries_on() -> None:
    at = MONDAY + timedelta(hours=20)
    # In a wall, where the middle is the warmest.
    reading = Reading(surface_id="W-formed", at=at, place="core", temperature_c=49)
    of = site_input().model_copy(update={"readings": (reading,)})
    plain, read = go(wall()), go(wall(), of=of)
    step = GRID.step(at)
    np.testing.assert_array_equal(
        read.core_temperature_c[:step], plain.core_temperature_c[:step]
    )
    assert read.core_temperature_c[step, 0] == pytest.approx(49)
    assert read.equivalent_age_h[-1, 0] > plain.equivalent_age_h[-1, 0]


def test_core_is_the_warmest_concrete_wherever_that_is() -> None:
    # Quilted on top, a slab on cold ground is warmest near its face; bare in a cold
    # wind near the ground. Neither is the middle.
    quilt = burlap().model_copy(update={"resistance_m2k_w": 2.0})
    deep = pour(thickness_mm=600)
    found = go(surface(deep, cover=quilt), surface(deep))
    core_c = found.core_temperature_c
    # It is looked for by the hour: the sun may warm the face meanwhile.
    after = slice(PLACED + 6, None)
    assert (core_c[after] >= found.mean_temperature_c[after] - 0.1).all()
    assert (core_c[after] >= found.surface_temperature_c[after] - 2).all()


def test_insulating_cover_keeps_the_night_warmer() -> None:
    mat = burlap().model_copy(update={"resistance_m2k_w": 1.0})
    thin, thick = surface(), surface(cover=CoverProperties.model_validate(mat))
    night = slice(20 * 6, 26 * 6)
    surface_c = go(thin, thick).surface_temperature_c[night]
    assert (surface_c[:, 1] > surface_c[:, 0] + 1).all()


def test_histories_are_whole() -> None:
    late = MONDAY + timedelta(days=3, minutes=7)
    third = surface(
        pour("L", placing_starts_at=late - timedelta(hours=2), placing_ends_at=late)
    )
    found = go(surface(), wall(), third)
    assert found.surface_ids == ("P1-top", "W-formed", "L-top")
    placed = [PLACED, PLACED, 3 * 144 + 1]
    before = np.arange(GRID.steps)[:, None] < placed
    for history in (
        found.surface_temperature_c, found.core_temperature_c, found.mean_temperature_c
    ):  # fmt: skip
        np.testing.assert_array_equal(np.isnan(history), before)
    for history in (found.equivalent_age_h, found.strength_fraction):
        assert (history[before] == 0).all()
        assert (np.diff(history, axis=0) >= 0).all()


def test_each_surface_is_what_it_is_alone() -> None:
    three = (surface(), wall(), surface(pour("D", element="deck"), id="D-top"))
    together = go(*three)
    for i, one in enumerate(three):
        alone = go(one)
        np.testing.assert_allclose(
            together.surface_temperature_c[:, i],
            alone.surface_temperature_c[:, 0],
            atol=1e-9,
        )
        assert together.events[i] == alone.events[0]


def test_finer_steps_tell_the_same_story() -> None:
    fine = go(surface(), grid=Grid(MONDAY, 5, 9 * 288))
    coarse = go(surface())
    apart = (
        fine.surface_temperature_c[::2][PLACED + 6 :]
        - (coarse.surface_temperature_c[PLACED + 6 :])
    )
    assert np.abs(apart).max() < 0.5


def test_two_runs_are_the_same_to_the_bit() -> None:
    one, other = go(surface(), wall()), go(surface(), wall())
    np.testing.assert_array_equal(one.equivalent_age_h, other.equivalent_age_h)
    assert one.events == other.events


def test_looking_once_an_hour_is_often_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    hourly = go(surface(), wall())
    monkeypatch.setattr(march, "REFRESH_MIN", 10)
    finest = go(surface(), wall())
    apart = hourly.surface_temperature_c - finest.surface_temperature_c
    after = apart[PLACED + 6 :]
    # Half an hour of weather too early or too late would show as 0.22 K.
    assert np.sqrt((after**2).mean(axis=0)).max() < 0.15
    assert np.abs(after.mean(axis=0)).max() < 0.03
    for one, other in zip(hourly.events, finest.events, strict=True):
        late = one.bears_people.expected_at - other.bears_people.expected_at
        assert abs(late) <= timedelta(minutes=5)


def test_mean_of_a_warm_slab_lies_below_its_core() -> None:
    found = go(surface(pour(thickness_mm=800)))
    evening = PLACED + 18 * 6
    core_c, mean_c = found.core_temperature_c, found.mean_temperature_c
    assert core_c[evening, 0] > mean_c[evening, 0] + 1
    assert mean_c[evening, 0] > found.surface_temperature_c[evening, 0] + 1


def test_blankets_keep_the_concrete_warm_from_the_night_they_go_on() -> None:
    cold = site_input().model_copy(update={"weather": weather(mean_c=4)})
    warm_cover = burlap().model_copy(update={"resistance_m2k_w": 0.7})
    change = GRID.step(MONDAY + timedelta(hours=36))
    blankets = CoverStage(
        method="insulated_blankets", cover=warm_cover,
        starts_at=GRID.at(change), reason="frost",
    )  # fmt: skip
    history = go(surface(), surface(later=(blankets,)), of=cold)
    face_c = history.surface_temperature_c
    assert (face_c[PLACED:change, 0] == face_c[PLACED:change, 1]).all()
    night = slice(change + 36, change + 72)
    assert (face_c[night, 1] - face_c[night, 0]).min() > 2


def test_steam_heats_the_concrete_up_to_its_hold_and_ages_it() -> None:
    hours = (9.0, 11.0, 19.0, 22.0)
    starts, hold, until, ends = (MONDAY + timedelta(hours=h) for h in hours)
    cycle = SteamCycle(
        starts_at=starts, hold_from_at=hold, hold_until_at=until, ends_at=ends,
        hold_c=60,
    )  # fmt: skip
    panel = pour(thickness_mm=100)
    plain, steamed = surface(panel), surface(panel, steam=cycle)
    history = go(plain, steamed)
    last_hold = GRID.step(until) - 1
    # Without heat of hydration, and with concrete in place of the ground, it would warm
    # like a half space behind a film (Carslaw and Jaeger, 2.7, worked by hand): burlap
    # 0.01 m² K/W, still air 5.6 and radiation 7.3 W/(m² K) make h = 11.4; nine hours,
    # the way up counted half, h √(a t)/k = 11.4 × 0.164/2 = 0.937; 1 - exp(0.878)
    # erfc(0.937) = 0.555 of the way from 25.7 to 60 °C is 44.7. Both bring it above
    # that, and it is still below the steam.
    assert 44.7 <= history.surface_temperature_c[last_hold, 1] <= 60
    ages_h = history.equivalent_age_h[GRID.step(ends)]
    assert ages_h[1] > 2 * ages_h[0]
