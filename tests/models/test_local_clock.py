"""The clock that people read, through the nights on which it is changed.

Berlin: summer time begins 2027-03-28 at 02:00 and ends 2027-10-31 at 03:00 (the last
Sundays of March and October, 01:00 UTC; EU Directive 2000/84/EC, from memory).
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from models.local_clock import LocalClock, ShortTimes, WeekClock, minutes_between
from models.records import Horizon, Stretch

BERLIN = LocalClock("Europe/Berlin")
FRIDAY = datetime(2027, 5, 14, 15, 0, tzinfo=UTC)  # 17:00 CEST
MORNING = FRIDAY + timedelta(hours=14)
CHANGE = datetime(2027, 10, 31, 1, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)


def utc(*parts: int) -> datetime:
    return datetime(*parts, tzinfo=UTC)  # type: ignore[misc, arg-type]  # mypy cannot count starred parts


def week(starts_at: datetime, days: int = 2) -> WeekClock:
    horizon = Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=days))
    return WeekClock("Europe/Berlin", horizon)


SPRING = week(utc(2027, 3, 27, 5))  # Sat 06:00 local
AUTUMN = week(utc(2027, 10, 30, 4))  # Sat 06:00 local


@pytest.mark.parametrize(
    ("starts_at", "ends_at", "words"),
    [
        (utc(2027, 5, 4, 0, 50), utc(2027, 5, 4, 1, 20), "Tue 4 May 02:50–03:20 CEST"),
        # over midnight: both days in full
        (
            utc(2027, 5, 3, 21, 50),
            utc(2027, 5, 3, 22, 20),
            "Mon 3 May 23:50 CEST to Tue 4 May 00:20 CEST",
        ),
        (
            utc(2027, 10, 31, 0, 50),
            utc(2027, 10, 31, 1, 20),
            "Sun 31 Oct 02:50 CEST to 02:20 CET",
        ),
        (
            utc(2027, 3, 28, 0, 50),
            utc(2027, 3, 28, 1, 20),
            "Sun 28 Mar 01:50 CET to 03:20 CEST",
        ),
    ],
)
def test_span(starts_at: datetime, ends_at: datetime, words: str) -> None:
    assert BERLIN.span(starts_at, ends_at) == words


def test_both_half_past_two_of_autumn_are_told_apart() -> None:
    assert BERLIN.time(utc(2027, 10, 31, 0, 30)) == "02:30 CEST"
    assert BERLIN.time(utc(2027, 10, 31, 1, 30)) == "02:30 CET"


def test_half_hours_off_and_zones_without_letters() -> None:
    assert LocalClock("Asia/Kolkata").day_time(utc(2027, 5, 3, 20)) == (
        "Tue 4 May 01:30 IST"
    )
    assert LocalClock("America/New_York").time(utc(2027, 5, 3, 20)) == "16:00 EDT"


def test_every_day_and_month_by_its_own_name() -> None:
    # 1 January 2027 is a Friday; each month begins its length in days later.
    firsts = [
        "Fri 1 Jan", "Mon 1 Feb", "Mon 1 Mar", "Thu 1 Apr", "Sat 1 May", "Tue 1 Jun",
        "Thu 1 Jul", "Sun 1 Aug", "Wed 1 Sep", "Fri 1 Oct", "Mon 1 Nov", "Wed 1 Dec",
    ]  # fmt: skip
    noons = [utc(2027, month, 1, 12) for month in range(1, 13)]
    assert [BERLIN.day(noon) for noon in noons] == firsts


def test_minutes_run_on_through_a_clock_change() -> None:
    zone = ZoneInfo("Europe/Berlin")
    before = datetime(2027, 10, 31, 1, 0, tzinfo=zone)
    after = datetime(2027, 10, 31, 4, 0, tzinfo=zone)
    assert minutes_between(before, after) == 240  # the hour from two to three twice


def test_in_a_list_the_zone_is_said_once() -> None:
    times = ShortTimes(BERLIN, FRIDAY, MORNING)
    assert times.note == "all times CEST"
    assert times.day_time(FRIDAY) == "Fri 17:00"


def test_a_list_names_the_day_once_and_both_over_midnight() -> None:
    times = ShortTimes(BERLIN, FRIDAY, MORNING)
    assert times.span(FRIDAY, FRIDAY + HOUR / 2) == "Fri 17:00–17:30"
    assert times.span(FRIDAY, MORNING) == "Fri 17:00 to Sat 07:00"


def test_a_list_tells_both_hours_of_a_clock_change_apart() -> None:
    times = ShortTimes(BERLIN, CHANGE - 8 * HOUR, CHANGE + 8 * HOUR)
    assert times.note == "clocks change: CEST, then CET"
    twice = [times.day_time(CHANGE - HOUR / 2), times.day_time(CHANGE + HOUR / 2)]
    assert twice == ["Sun 02:30 CEST", "Sun 02:30 CET"]
    assert times.span(CHANGE - HOUR / 2, CHANGE + HOUR / 2) == (
        "Sun 02:30 CEST to Sun 02:30 CET"
    )


def test_a_time_after_the_change_keeps_its_zone_in_a_list_before_it() -> None:
    times = ShortTimes(BERLIN, CHANGE - timedelta(days=1), CHANGE - 9 * HOUR)
    assert times.day_time(CHANGE + HOUR) == "Sun 03:00 CET"


def test_days_a_week_apart_get_their_dates_in_a_list() -> None:
    times = ShortTimes(BERLIN, FRIDAY, FRIDAY + timedelta(days=1))
    assert times.day_time(FRIDAY + timedelta(days=7)) == "Fri 21 May 17:00"


@pytest.mark.parametrize(
    ("after_start", "words"),
    [
        (2 * HOUR, "19:00"),  # within
        (15 * HOUR, "08:00"),  # an hour after the end, the same morning
        (27 * HOUR, "Sat 20:00"),  # 13 h after the end: that evening may be meant
        (50 * HOUR, "Sun 19:00"),
    ],
)
def test_a_bare_time_of_day_gets_its_day_where_it_may_be_doubted(
    after_start: timedelta, words: str
) -> None:
    assert ShortTimes(BERLIN, FRIDAY, MORNING).time(FRIDAY + after_start) == words


def test_a_night_in_spring_is_an_hour_shorter() -> None:
    # 22:00 to 06:00 on the wall: 8 h less 1 h. It begins 16 h after 06:00.
    night = SPRING.stretch(date(2027, 3, 27), time(22), time(6))
    assert night == Stretch(from_min=960, until_min=960 + 420)


def test_a_night_in_autumn_is_an_hour_longer() -> None:
    night = AUTUMN.stretch(date(2027, 10, 30), time(22), time(6))
    assert night == Stretch(from_min=960, until_min=960 + 540)


def test_a_time_that_spring_leaves_out_is_carried_past_the_change() -> None:
    # 02:30 winter time is 01:30 UTC, 20.5 h after 05:00 UTC.
    assert SPRING.minute(date(2027, 3, 28), time(2, 30)) == 1230
    assert SPRING.words(1230) == "Sun 03:30"


def test_of_a_time_that_autumn_brings_twice_the_first_is_meant() -> None:
    # 02:30 summer time is 00:30 UTC, 20.5 h after 04:00 UTC.
    assert AUTUMN.minute(date(2027, 10, 31), time(2, 30)) == 1230


def test_words_of_a_minute_tell_the_two_half_past_twos_apart() -> None:
    assert AUTUMN.words(1230) == "Sun 02:30 CEST"
    assert AUTUMN.words(1290) == "Sun 02:30 CET"
    assert AUTUMN.words(1350) == "Sun 03:30"


def test_days_begin_with_the_one_before_whose_night_reaches_in() -> None:
    days = [date(2027, 10, 29) + timedelta(n) for n in range(4)]
    assert list(AUTUMN.days()) == days


def test_a_day_that_begins_as_the_horizon_ends_is_not_touched() -> None:
    # Two days from local midnight: 22:00 UTC on the 13th to 22:00 UTC on the 15th.
    days = [date(2027, 5, day) for day in (13, 14, 15)]
    assert list(week(utc(2027, 5, 13, 22)).days()) == days


def test_a_span_of_minutes_names_the_second_day_only_if_it_is_another() -> None:
    assert AUTUMN.span(0, 90) == "Sat 06:00–07:30"
    assert AUTUMN.span(0, 1440) == "Sat 06:00 to Sun 05:00"


def test_a_span_of_a_week_gives_the_date() -> None:
    assert AUTUMN.span(0, 7 * 1440) == "Sat 06:00 to Sat 6 Nov 05:00"
