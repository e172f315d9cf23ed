"""Short times never leave open which instant is meant."""

from datetime import UTC, datetime, timedelta

from exports.short_times import ShortTimes
from exports.wall_clock import WallClock

BERLIN = WallClock("Europe/Berlin")
FRIDAY = datetime(2027, 5, 14, 15, 0, tzinfo=UTC)  # 17:00 CEST
MORNING = FRIDAY + timedelta(hours=14)
#: Summer time ends in the EU on the last Sunday of October at 01:00 UTC.
CHANGE = datetime(2027, 10, 31, 1, 0, tzinfo=UTC)


def test_zone_is_said_once() -> None:
    times = ShortTimes(BERLIN, FRIDAY, MORNING)
    assert times.note == "all times CEST"
    assert times.day_time(FRIDAY) == "Fri 17:00"


def test_span_names_its_day_once_and_both_over_midnight() -> None:
    times = ShortTimes(BERLIN, FRIDAY, MORNING)
    half = FRIDAY + timedelta(minutes=30)
    assert times.span(FRIDAY, half) == "Fri 17:00–17:30"
    assert times.span(FRIDAY, MORNING) == "Fri 17:00 to Sat 07:00"


def test_both_hours_of_a_clock_change_are_told_apart() -> None:
    hour = timedelta(hours=1)
    times = ShortTimes(BERLIN, CHANGE - 8 * hour, CHANGE + 8 * hour)
    assert times.note == "clocks change: CEST, CET"
    twice = [times.day_time(CHANGE - hour / 2), times.day_time(CHANGE + hour / 2)]
    assert twice == ["Sun 02:30 CEST", "Sun 02:30 CET"]
    assert times.span(CHANGE - hour / 2, CHANGE + hour / 2) == (
        "Sun 02:30 CEST to Sun 02:30 CET"
    )


def test_a_time_after_the_change_keeps_its_zone_in_a_list_before_it() -> None:
    times = ShortTimes(BERLIN, CHANGE - timedelta(days=1), CHANGE - timedelta(hours=9))
    assert times.day_time(CHANGE + timedelta(hours=1)) == "Sun 03:00 CET"


def test_days_a_week_apart_get_their_dates() -> None:
    times = ShortTimes(BERLIN, FRIDAY, FRIDAY + timedelta(days=1))
    assert times.day_time(FRIDAY + timedelta(days=7)) == "Fri 21 May 17:00"
