"""Instants by the clock on the wall."""

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from exports.wall_clock import WallClock, duration, minutes_between

BERLIN = WallClock("Europe/Berlin")


def utc(*parts: int) -> datetime:
    return datetime(*parts, tzinfo=UTC)  # type: ignore[misc, arg-type]  # mypy cannot count starred parts


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
        # summer time ends in the EU on the last Sunday of October at 01:00 UTC
        (
            utc(2027, 10, 31, 0, 50),
            utc(2027, 10, 31, 1, 20),
            "Sun 31 Oct 02:50 CEST to 02:20 CET",
        ),
        # and begins on the last Sunday of March at 01:00 UTC
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
    assert WallClock("Asia/Kolkata").day_time(utc(2027, 5, 3, 20)) == (
        "Tue 4 May 01:30 IST"
    )
    assert WallClock("America/New_York").time(utc(2027, 5, 3, 20)) == "16:00 EDT"


def test_minutes_run_on_through_a_clock_change() -> None:
    zone = ZoneInfo("Europe/Berlin")
    before = datetime(2027, 10, 31, 1, 0, tzinfo=zone)
    after = datetime(2027, 10, 31, 4, 0, tzinfo=zone)
    assert minutes_between(before, after) == 240  # the hour from two to three twice


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"),
        (45, "45 min"),
        (120, "2 h"),
        (130, "2 h 10 min"),
        (1440, "1 d"),
        (4573, "3 d 4 h"),
    ],
)
def test_duration(minutes: int, words: str) -> None:
    assert duration(minutes) == words
