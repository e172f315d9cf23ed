"""Local times as minutes, through the nights on which clocks change.

Berlin: summer time begins 2027-03-28 at 02:00 and ends 2027-10-31 at 03:00 (the last
Sundays of March and October, 01:00 UTC; EU Directive 2000/84/EC, from memory).
"""

from datetime import UTC, date, datetime, time, timedelta

from models.records import Horizon
from scheduler.audit.replayed.site_clock import SiteClock


def clock(starts_at: datetime, days: int = 2) -> SiteClock:
    horizon = Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=days))
    return SiteClock("Europe/Berlin", horizon)


SPRING = clock(datetime(2027, 3, 27, 5, 0, tzinfo=UTC))  # Sat 06:00 local
AUTUMN = clock(datetime(2027, 10, 30, 4, 0, tzinfo=UTC))  # Sat 06:00 local


def test_a_night_in_spring_is_an_hour_shorter() -> None:
    # 22:00 to 06:00 on the wall: 8 h less 1 h. It begins 16 h after 06:00.
    assert SPRING.stretch(date(2027, 3, 27), time(22), time(6)) == (960, 960 + 420)


def test_a_night_in_autumn_is_an_hour_longer() -> None:
    assert AUTUMN.stretch(date(2027, 10, 30), time(22), time(6)) == (960, 960 + 540)


def test_a_time_that_spring_leaves_out_is_carried_past_the_change() -> None:
    # 02:30 winter time is 01:30 UTC, 20.5 h after 05:00 UTC.
    assert SPRING.minute(date(2027, 3, 28), time(2, 30)) == 1230
    assert SPRING.words(1230) == "Sun 03:30"


def test_of_a_time_that_autumn_brings_twice_the_first_is_meant() -> None:
    # 02:30 summer time is 00:30 UTC, 20.5 h after 04:00 UTC.
    assert AUTUMN.minute(date(2027, 10, 31), time(2, 30)) == 1230


def test_words_tell_the_two_half_past_twos_apart() -> None:
    assert AUTUMN.words(1230) == "Sun 02:30 (UTC+0200)"
    assert AUTUMN.words(1290) == "Sun 02:30 (UTC+0100)"
    assert AUTUMN.words(1350) == "Sun 03:30"


def test_days_begin_with_the_one_before_whose_night_reaches_in() -> None:
    assert list(AUTUMN.days()) == [date(2027, 10, 29) + timedelta(n) for n in range(4)]


def test_a_span_names_the_second_day_only_if_it_is_another() -> None:
    assert AUTUMN.span(0, 90) == "Sat 06:00 to 07:30"
    assert AUTUMN.span(0, 1440) == "Sat 06:00 to Sun 05:00"


def test_a_span_of_a_week_gives_the_date() -> None:
    assert AUTUMN.span(0, 7 * 1440) == "Sat 06:00 to Sat 2027-11-06 05:00"
