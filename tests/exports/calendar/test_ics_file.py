"""The calendar file itself."""

from collections.abc import Sequence
from datetime import datetime, timedelta

import pytest

from exports.calendar.event import CalendarEntry
from exports.calendar.ics_file import FeedRange, ics_file
from tests.builders import MONDAY
from tests.exports.calendar.ic_checker import faults
from tests.exports.exports_builders import DRAFT, small_site


def entry(uid: str, at: datetime = MONDAY) -> CalendarEntry:
    return CalendarEntry(
        uid=uid, title="FOG", text="fog", place="Quay", categories=("fog",),
        starts_at=at, ends_at=at + timedelta(minutes=30),
    )  # fmt: skip


def shown(listed: Sequence[CalendarEntry], feed: FeedRange) -> list[str]:
    """Titles in a feed published on Monday."""
    data = ics_file(small_site(), "Red gang", listed, DRAFT, feed)
    assert faults(data) == []
    lines = data.decode().splitlines()
    return [line.removeprefix("SUMMARY:") for line in lines if "SUMMARY:" in line]


def test_two_entries_of_one_identity_are_refused() -> None:
    with pytest.raises(ValueError, match="'Red gang' share an identity"):
        ics_file(small_site(), "Red gang", [entry("a")] * 2, DRAFT, FeedRange())


def test_order_of_the_entries_does_not_show() -> None:
    one, two = entry("a"), entry("b")
    forth, back = (
        ics_file(small_site(), "Red gang", both, DRAFT, FeedRange())
        for both in ([one, two], [two, one])
    )
    assert forth == back


def test_a_name_is_escaped() -> None:
    data = ics_file(
        small_site(), "Red, green; \\ and\nblue", [entry("a")], DRAFT, FeedRange()
    )
    assert faults(data) == []
    assert "X-WR-CALNAME:DRAFT · Red\\, green\\; \\\\ and blue\r\n" in data.decode()


def test_clients_are_told_the_zone_and_when_to_ask_again() -> None:
    data = ics_file(small_site(), "Red gang", [entry("a")], DRAFT, FeedRange())
    assert b"X-WR-TIMEZONE:Europe/Berlin\r\n" in data
    assert b"REFRESH-INTERVAL;VALUE=DURATION:PT30M\r\n" in data
    assert b"X-PUBLISHED-TTL:PT30M\r\n" in data


LATER, NOTHING = "LATER WORK IS NOT IN THIS CALENDAR", "NO CURING WORK PLANNED HERE"


@pytest.mark.parametrize(
    ("ended_ago", "titles"),
    [
        (timedelta(days=3), [NOTHING]),
        (timedelta(days=3, minutes=-1), ["FOG"]),
    ],
)
def test_a_feed_reaches_three_days_back(
    ended_ago: timedelta, titles: list[str]
) -> None:
    past = entry("a", MONDAY - ended_ago - timedelta(minutes=30))
    assert shown([past], FeedRange()) == titles


@pytest.mark.parametrize(
    ("starts_in", "titles"),
    [
        (timedelta(days=14), [LATER]),
        (timedelta(days=14, minutes=-1), ["FOG"]),
    ],
)
def test_a_feed_reaches_two_weeks_ahead(
    starts_in: timedelta, titles: list[str]
) -> None:
    assert shown([entry("a", MONDAY + starts_in)], FeedRange()) == titles


def test_a_feed_is_as_large_as_it_may_be_and_no_larger() -> None:
    # Two entries and the notice that a third is left out, because it is far ahead.
    week = [entry(uid, MONDAY + timedelta(days=i)) for i, uid in enumerate("abc")]
    two_days = FeedRange(ahead=timedelta(days=2))
    size = len(ics_file(small_site(), "Red gang", week, DRAFT, two_days))
    assert shown(week, FeedRange(most_bytes=size)) == ["FOG", "FOG", LATER]
    assert shown(week, FeedRange(most_bytes=size - 1)) == ["FOG", LATER]
