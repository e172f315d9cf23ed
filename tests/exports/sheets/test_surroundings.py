"""Weather and water of a shift in words."""

from datetime import timedelta

import pytest

from exports.sheets.surroundings import water_lines, weather_lines
from models.records import Weather, WeatherHour
from tests.builders import MONDAY
from tests.exports.exports_builders import small_report, small_site


def forecast(*hours: tuple[float, float, float]) -> Weather:
    """Air temperature, wind and rain from the hour before Monday's start."""
    return Weather(
        hours=tuple(
            WeatherHour(
                at=MONDAY + timedelta(hours=number - 1),
                air_temperature_c=air,
                humidity_fraction=0.5,
                wind_m_s=wind,
                rain_mm=rain,
            )
            for number, (air, wind, rain) in enumerate(hours)
        )
    )


FOUR = forecast((30, 20, 9), (11.6, 3, 0), (14.2, 5.25, 0.1), (13, 4, 0.3), (-9, 20, 9))


def test_only_the_hours_of_the_shift_count() -> None:
    lines = weather_lines(small_site(), FOUR, MONDAY, MONDAY + timedelta(hours=3))
    assert lines == (
        "Air 12 °C to 14 °C",
        "Wind up to 5.2 m/s",
        "Rain, first at 07:00 CEST, last at 08:00 CEST",
    )


def test_an_hour_begun_counts() -> None:
    starts_at = MONDAY + timedelta(minutes=30)
    lines = weather_lines(small_site(), FOUR, starts_at, MONDAY + timedelta(hours=1))
    assert lines == ("Air 12 °C to 12 °C", "Wind up to 3.0 m/s", "No rain forecast")


def test_us_units() -> None:
    site = small_site(units="us")
    lines = weather_lines(site, FOUR, MONDAY, MONDAY + timedelta(hours=2))
    # 11.6 °C = 52.9 °F, 14.2 °C = 57.6 °F, 5.25 m/s = 11.7 mph
    assert lines == (
        "Air 53 °F to 58 °F",
        "Wind up to 12 mph",
        "Rain in the hour from 07:00 CEST",
    )


@pytest.mark.parametrize("weather", [None, FOUR])
def test_no_forecast_no_words(weather: Weather | None) -> None:
    far = MONDAY + timedelta(days=9)
    assert weather_lines(small_site(), weather, far, far + timedelta(hours=8)) == ()


def test_water_of_all_crews_in_the_shift() -> None:
    # night: slab 180 L in 30 min from the tap; pit 2 × 80 L in 20 min from the tank,
    # which the refill of 2 L/min keeps full
    lines = water_lines(
        small_site(),
        small_report(),
        MONDAY + timedelta(minutes=960),
        MONDAY + timedelta(minutes=1440),
    )
    assert lines == (
        "Tap at gate: 180 L to draw, up to 6 L/min of 40 L/min",
        "Hall tank: 160 L to draw, up to 4 L/min of 30 L/min, lowest level 4,000 L",
    )


def test_a_days_share_and_a_falling_tank() -> None:
    report = small_report()
    hours = tuple(
        hour.model_copy(update={"level_l": 900.0, "allotment_left_l": 340.0})
        for hour in report.water[1].hours
    )
    short = report.model_copy(
        update={"water": (report.water[1].model_copy(update={"hours": hours}),)}
    )
    (line,) = water_lines(small_site(), short, MONDAY, MONDAY + timedelta(minutes=660))
    assert line == (
        "Hall tank: 80 L to draw, up to 4 L/min of 30 L/min, lowest level 900 L, "
        "340 L of the day's allotment left"
    )


def test_points_not_in_use_are_left_out() -> None:
    lines = water_lines(
        small_site(), small_report(), MONDAY, MONDAY + timedelta(minutes=300)
    )
    assert lines == ()
