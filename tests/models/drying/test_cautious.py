from datetime import timedelta

import numpy as np
import pytest

from models.drying.air import vapour_pressure_kpa
from models.drying.cautious import cautious, lenient
from models.drying.clock import run
from models.drying.surroundings import surroundings
from models.records import SiteInput, WeatherHour
from tests.builders import MONDAY, site_input, surface
from tests.models.drying.drying_builders import GRID, hydration


def hour(given: SiteInput, hours_ahead: float) -> WeatherHour:
    at = MONDAY + timedelta(hours=hours_ahead)
    return next(h for h in given.weather.hours if h.at == at)


def with_hours(**fields: object) -> SiteInput:
    given = site_input()
    hours = tuple(h.model_copy(update=fields) for h in given.weather.hours)
    weather = given.weather.model_copy(update={"hours": hours})
    return given.model_copy(update={"weather": weather})


def test_what_was_measured_stays() -> None:
    given = site_input()
    assert hour(cautious(given), -1) == hour(given, -1)


def test_a_given_spread_is_taken_as_it_is() -> None:
    given = with_hours(air_temperature_spread_k=2.5, wind_spread_m_s=1.5)
    before, after = hour(given, 30), hour(cautious(given), 30)
    assert after.air_temperature_c == pytest.approx(before.air_temperature_c + 2.5)
    assert after.wind_m_s == pytest.approx(before.wind_m_s + 1.5)
    late = hour(lenient(given), 30)
    assert late.air_temperature_c == pytest.approx(before.air_temperature_c - 2.5)
    assert late.wind_m_s == pytest.approx(max(0, before.wind_m_s - 1.5))


def test_without_one_the_spread_grows_with_the_days_ahead() -> None:
    given, shifted = site_input(), cautious(site_input())
    warmer = [
        hour(shifted, ahead).air_temperature_c - hour(given, ahead).air_temperature_c
        for ahead in (0, 24, 96)
    ]
    assert 0 < warmer[0] < warmer[1] < warmer[2] < 4


def test_the_water_in_the_air_stays() -> None:
    before, after = hour(site_input(), 40), hour(cautious(site_input()), 40)
    held = [
        float(vapour_pressure_kpa(h.air_temperature_c, h.humidity_fraction))
        for h in (before, after)
    ]
    assert held[1] == pytest.approx(held[0])


def test_rain_is_counted_on_for_the_late_clock_only() -> None:
    assert hour(cautious(with_hours(rain_mm=4.0)), 5).rain_mm == 0
    assert hour(lenient(with_hours(rain_mm=4.0)), 5).rain_mm == 4


def test_cooler_air_that_cannot_hold_its_water_is_saturated() -> None:
    damp = lenient(with_hours(humidity_fraction=0.98))
    assert hour(damp, 5).humidity_fraction == 1


def test_hours_stay_within_the_bounds_of_their_record() -> None:
    stormy = cautious(with_hours(air_temperature_c=59.5, wind_m_s=39.5))
    still = lenient(with_hours(air_temperature_c=-39.5, wind_m_s=0.2))
    for one in (*stormy.weather.hours, *still.weather.hours):
        assert WeatherHour.model_validate(one.model_dump()) == one


def test_the_early_clock_never_runs_slower_nor_the_late_one_faster() -> None:
    surfaces = (surface(),)
    given = site_input()
    clocks = [
        run(surfaces, of, surroundings(surfaces, of, GRID), hydration(surfaces))
        for of in (given, cautious(given), lenient(given))
    ]
    later = GRID.step(MONDAY + timedelta(hours=2))
    expected, early, late = (c.cover_loss_l_m2_h[later:] for c in clocks)
    assert (early >= expected).all()
    assert (late <= expected).all()
    assert float(np.mean(late)) < 0.9 * float(np.mean(expected))
    assert float(np.mean(early)) > 1.1 * float(np.mean(expected))
