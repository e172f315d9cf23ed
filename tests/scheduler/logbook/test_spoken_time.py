"""Times as people say them, and the nights in which the clocks change."""

from datetime import UTC, datetime, timedelta

import pytest

from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ValueRefused
from scheduler.logbook.spoken_time import Toward, is_spoken, read_spoken

BERLIN = LocalTime("Europe/Berlin")
#: Tuesday 11 May 2027, 16:00 in Berlin, which is two hours before UTC in summer.
TUESDAY = datetime(2027, 5, 11, 14, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("text", "toward", "day", "hour_utc"),
    [
        ("03:10", "back", 11, 1),
        ("3:10", "back", 11, 1),
        ("18:10", "back", 10, 16),  # 18:10 today is still to come
        ("Tue 07:10", "back", 11, 5),
        ("tuesday 18:10", "back", 4, 16),
        ("Wed 18:10", "back", 5, 16),
        ("Mon, 07:10", "back", 10, 5),
        ("2027-05-02 07:10", "back", 2, 5),
        ("2027-05-02T07:10+00:00", "back", 2, 7),
        ("18:10", "ahead", 11, 16),
        ("16:10", "ahead", 11, 14),
        ("15:10", "ahead", 12, 13),
        ("Tue 15:10", "ahead", 18, 13),
        ("Fri 07:10", "near", 14, 5),
        ("Mon 07:10", "near", 10, 5),
        ("03:10", "near", 12, 1),  # 12:50 back, 11:10 ahead
        ("05:10", "near", 11, 3),  # 10:50 back, 13:10 ahead
    ],
)
def test_a_time_without_its_day_is_the_one_that_is_meant(
    text: str, toward: Toward, day: int, hour_utc: int
) -> None:
    at = read_spoken(text, BERLIN, TUESDAY, toward)
    assert at == datetime(2027, 5, day, hour_utc, 10, tzinfo=UTC)


def test_a_time_that_is_now_is_today() -> None:
    assert read_spoken("16:00", BERLIN, TUESDAY, "back") == TUESDAY
    assert read_spoken("16:00", BERLIN, TUESDAY, "ahead") == TUESDAY + timedelta(days=1)


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("soon", ""),
        ("25:10", "No such hour"),
        ("Tuseday 07:10", "Days are mon, tue, wed, thu, fri, sat, sun"),
        ("Foo 07:10", "Days are mon, tue, wed, thu, fri, sat, sun"),
        ("11.5.2027 07:10", "write the year first"),
        ("2027-05-11", "The clock time is missing"),
    ],
)
def test_what_is_no_time_is_refused(text: str, hint: str) -> None:
    with pytest.raises(ValueRefused, match="a time such as 03:10") as refused:
        read_spoken(text, BERLIN, TUESDAY, "back")
    assert hint in refused.value.hint


def test_only_a_time_without_a_date_is_spoken() -> None:
    assert is_spoken("Tue 07:10")
    assert is_spoken(" 7:10 ")
    assert not is_spoken("2027-05-11 07:10")


# Europe/Berlin puts its clocks back at 03:00 on 31 October 2027 and forward at 02:00
# on 28 March 2027 (directive 2000/84/EC: the last Sundays of both months, 01:00 UTC).
AUTUMN = datetime(2027, 10, 31, 8, 0, tzinfo=UTC)
SPRING = datetime(2027, 3, 28, 8, 0, tzinfo=UTC)


@pytest.mark.parametrize("text", ["02:30", "Sun 02:30", "2027-10-31 02:30"])
def test_a_time_that_comes_twice_is_refused_with_both_readings(text: str) -> None:
    with pytest.raises(ValueRefused) as refused:
        read_spoken(text, BERLIN, AUTUMN, "back")
    assert refused.value.wanted == (
        "'2027-10-31 02:30+02:00' or '2027-10-31 02:30+01:00'"
    )
    assert "put back" in refused.value.hint


def test_both_readings_of_a_time_that_comes_twice_can_be_typed() -> None:
    first, second = (
        read_spoken(f"2027-10-31 02:30{offset}", BERLIN, AUTUMN, "back")
        for offset in ("+02:00", "+01:00")
    )
    assert first == datetime(2027, 10, 31, 0, 30, tzinfo=UTC)
    assert second == datetime(2027, 10, 31, 1, 30, tzinfo=UTC)


@pytest.mark.parametrize("text", ["02:30", "Sun 02:30", "2027-03-28 02:30"])
def test_a_time_that_never_was_is_refused_with_what_may_be_meant(text: str) -> None:
    with pytest.raises(ValueRefused) as refused:
        read_spoken(text, BERLIN, SPRING, "back")
    assert refused.value.wanted == (
        "'2027-03-28 01:30' (CET) or '2027-03-28 03:30' (CEST)"
    )
    assert "put forward" in refused.value.hint
