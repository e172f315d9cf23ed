"""The calendar file itself."""

from datetime import timedelta

import pytest

from exports.calendar.event import CalendarEntry
from exports.calendar.ics_file import FeedRange, ics_file
from tests.builders import MONDAY
from tests.exports.calendar.ic_checker import faults
from tests.exports.exports_builders import small_site


def entry(uid: str) -> CalendarEntry:
    return CalendarEntry(
        uid=uid, title="FOG", text="fog", place="Quay", categories=("fog",),
        starts_at=MONDAY, ends_at=MONDAY + timedelta(minutes=30),
    )  # fmt: skip


def test_two_entries_of_one_identity_are_refused() -> None:
    with pytest.raises(ValueError, match="'Red gang' share an identity"):
        ics_file(small_site(), "Red gang", [entry("a")] * 2, MONDAY, FeedRange())


def test_order_of_the_entries_does_not_show() -> None:
    one, two = entry("a"), entry("b")
    forth, back = (
        ics_file(small_site(), "Red gang", both, MONDAY, FeedRange())
        for both in ([one, two], [two, one])
    )
    assert forth == back


def test_a_name_is_escaped() -> None:
    data = ics_file(
        small_site(), "Red, green; \\ and\nblue", [entry("a")], MONDAY, FeedRange()
    )
    assert faults(data) == []
    assert b"X-WR-CALNAME:Red\\, green\\; \\\\ and blue\r\n" in data


def test_clients_are_told_the_zone_and_when_to_ask_again() -> None:
    data = ics_file(small_site(), "Red gang", [entry("a")], MONDAY, FeedRange())
    assert b"X-WR-TIMEZONE:Europe/Berlin\r\n" in data
    assert b"REFRESH-INTERVAL;VALUE=DURATION:PT30M\r\n" in data
