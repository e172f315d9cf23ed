"""One calendar entry."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from exports.calendar.event import CalendarEntry, vevent
from exports.calendar.identity import Revision

AT = datetime(2027, 5, 3, 21, 50, tzinfo=UTC)
FOG = CalendarEntry(
    uid="one", title="FOG B2", text="line one\nline two", place="Quay, gate 2",
    categories=("fog", "A"), starts_at=AT, ends_at=AT + timedelta(minutes=30),
    alarms_min=(20, 0),
)  # fmt: skip


def lines(entry: CalendarEntry, published_at: datetime = AT) -> list[str]:
    text: str = vevent(entry, Revision(0, published_at)).to_ical().decode()
    return text.replace("\r\n ", "").split("\r\n")


@pytest.mark.parametrize(
    "zone",
    [
        ZoneInfo("Asia/Kolkata"),
        ZoneInfo("Australia/Lord_Howe"),
        timezone(timedelta(hours=-3, minutes=-30)),
    ],
    ids=str,
)
def test_any_offset_is_written_as_utc(zone: ZoneInfo | timezone) -> None:
    there = replace(
        FOG,
        starts_at=FOG.starts_at.astimezone(zone),
        ends_at=FOG.ends_at.astimezone(zone),
    )
    assert lines(there, AT.astimezone(zone)) == lines(FOG)
    assert "DTSTART:20270503T215000Z" in lines(there)


def test_the_hour_that_comes_twice_is_told_apart() -> None:
    zone = ZoneInfo("Europe/Berlin")
    for fold, utc in ((0, "20271031T003000Z"), (1, "20271031T013000Z")):
        at = datetime(2027, 10, 31, 2, 30, tzinfo=zone, fold=fold)
        again = replace(FOG, starts_at=at, ends_at=at.astimezone(UTC) + timedelta(1))
        assert f"DTSTART:{utc}" in lines(again)


def test_the_stamp_is_that_of_the_roster() -> None:
    published_at = datetime(2027, 5, 1, 9, 0, 7, 654321, tzinfo=UTC)
    written = lines(FOG, published_at)
    assert "DTSTAMP:20270501T090007Z" in written
    assert "LAST-MODIFIED:20270501T090007Z" in written


def test_alarms_come_last_and_speak_the_title() -> None:
    written = lines(FOG)
    first = written.index("BEGIN:VALARM")
    assert written[first:-1] == [
        "BEGIN:VALARM", "ACTION:DISPLAY", "DESCRIPTION:FOG B2", "TRIGGER:-PT20M",
        "END:VALARM",
        "BEGIN:VALARM", "ACTION:DISPLAY", "DESCRIPTION:FOG B2", "TRIGGER:PT0S",
        "END:VALARM", "END:VEVENT",
    ]  # fmt: skip


def test_an_entry_does_not_block_the_day() -> None:
    assert {"TRANSP:TRANSPARENT", "X-MICROSOFT-CDO-BUSYSTATUS:FREE"} <= set(lines(FOG))


def test_without_a_place_no_location() -> None:
    assert "LOCATION:Quay\\, gate 2" in lines(FOG)
    assert not [line for line in lines(replace(FOG, place="")) if "LOCATION" in line]


def test_a_moment_becomes_a_quarter_of_an_hour() -> None:
    assert "DTEND:20270503T220500Z" in lines(replace(FOG, ends_at=AT))
