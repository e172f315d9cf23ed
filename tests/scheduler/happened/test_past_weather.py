"""Weather of an earlier week in front of a forecast that begins now."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from models.records import Weather, WeatherHour
from scheduler.happened.past_weather import joined

MONDAY = datetime(2027, 5, 10, tzinfo=UTC)
HOUR = timedelta(hours=1)
OLD_C, NEW_C = 11.0, 22.0


def weather(hours: Iterable[int], air_c: float) -> Weather:
    return Weather(
        hours=tuple(
            WeatherHour(
                at=MONDAY + hour * HOUR, air_temperature_c=air_c, humidity_fraction=0.5,
                wind_m_s=2,
            )
            for hour in hours
        )
    )  # fmt: skip


def temperatures(found: Weather) -> list[float]:
    return [hour.air_temperature_c for hour in found.hours]


def test_the_forecast_counts_from_its_first_hour_on() -> None:
    found = joined(weather(range(-5, 5), OLD_C), weather(range(6), NEW_C), MONDAY)
    assert found.weather == weather(range(6), NEW_C)
    earlier_at = MONDAY - 3 * HOUR
    found = joined(weather(range(-5, 5), OLD_C), weather(range(6), NEW_C), earlier_at)
    assert found.holes == ()
    assert temperatures(found.weather) == [OLD_C] * 3 + [NEW_C] * 6


def test_the_hour_in_which_weather_is_first_needed_is_kept() -> None:
    half_past = MONDAY - 2.5 * HOUR
    found = joined(weather(range(-9, 5), OLD_C), weather(range(6), NEW_C), half_past)
    assert found.weather.hours[0].at == MONDAY - 3 * HOUR


def test_hours_that_nobody_has_are_named() -> None:
    now, first_at = weather(range(6), NEW_C), MONDAY - 9 * HOUR
    assert joined(None, now, first_at).holes == ((first_at, MONDAY),)
    short = weather(range(-9, -2), OLD_C)
    assert joined(short, now, first_at).holes == ((MONDAY - 2 * HOUR, MONDAY),)
    young = weather(range(-4, 0), OLD_C)
    assert joined(young, now, first_at).holes == ((first_at, MONDAY - 4 * HOUR),)
    later = weather(range(3, 9), OLD_C)
    assert joined(later, now, first_at).holes == ((first_at, MONDAY),)


def test_clocks_that_change_make_no_hole() -> None:
    # On Sunday 28 March 2027 it is 03:00 in Berlin an hour after 01:00.
    berlin = ZoneInfo("Europe/Berlin")
    midnight = datetime(2027, 3, 28, tzinfo=berlin).astimezone(UTC)
    hours = [
        WeatherHour(
            at=(midnight + hour * HOUR).astimezone(berlin), air_temperature_c=5,
            humidity_fraction=0.5, wind_m_s=2,
        )
        for hour in range(47)
    ]  # fmt: skip
    before, now = Weather(hours=tuple(hours[:25])), Weather(hours=tuple(hours[23:]))
    found = joined(before, now, midnight)
    assert found.holes == ()
    assert found.weather.hours == tuple(hours)


@given(
    old=st.tuples(st.integers(-40, 20), st.integers(2, 40)),
    needed=st.integers(-30, 30),
)
def test_hours_follow_one_another_from_the_first_needed_or_are_missed(
    old: tuple[int, int], needed: int
) -> None:
    first_at = MONDAY + needed * HOUR
    before = weather(range(old[0], old[0] + old[1]), OLD_C)
    found = joined(before, weather(range(10), NEW_C), first_at)
    hours = [hour.at for hour in found.weather.hours]
    assert all(b - a == HOUR for a, b in pairwise(hours))
    has_all = old[0] <= needed and old[0] + old[1] >= 0
    assert (found.holes == ()) == (needed >= 0 or has_all)
    if found.holes:
        assert found.weather == weather(range(10), NEW_C)
    else:
        assert hours[0] == min(first_at, MONDAY)
