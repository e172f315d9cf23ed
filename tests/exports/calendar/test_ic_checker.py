"""The checker finds each planted fault, so a clean bill of it means something."""

import pytest

from tests.exports.calendar.ic_checker import faults

GOOD = (
    "BEGIN:VCALENDAR\r\n"
    "VERSION:2.0\r\n"
    "PRODID:-//keepdamp//test//EN\r\n"
    "CALSCALE:GREGORIAN\r\n"
    "NAME:Red gang\r\n"
    "REFRESH-INTERVAL;VALUE=DURATION:PT30M\r\n"
    "X-PUBLISHED-TTL:PT30M\r\n"
    "BEGIN:VEVENT\r\n"
    "UID:one\r\n"
    "DTSTAMP:20270503T040000Z\r\n"
    "LAST-MODIFIED:20270503T040000Z\r\n"
    "SEQUENCE:0\r\n"
    "DTSTART:20270503T215000Z\r\n"
    "DTEND:20270503T222000Z\r\n"
    "SUMMARY:RE-WET B2\\, 300 m²\r\n"
    "DESCRIPTION:wet\\nwrite \\\\ down\r\n"
    "STATUS:CONFIRMED\r\n"
    "TRANSP:TRANSPARENT\r\n"
    "BEGIN:VALARM\r\n"
    "ACTION:DISPLAY\r\n"
    "DESCRIPTION:RE-WET B2\r\n"
    "TRIGGER:-PT20M\r\n"
    "END:VALARM\r\n"
    "END:VEVENT\r\n"
    "END:VCALENDAR\r\n"
)
EVENT = GOOD[GOOD.index("BEGIN:VEVENT") : GOOD.index("END:VCALENDAR")]
ALARM = GOOD[GOOD.index("BEGIN:VALARM") : GOOD.index("END:VEVENT")]


def test_a_good_file_has_no_fault() -> None:
    assert faults(GOOD.encode()) == []


def test_a_fold_between_characters_is_no_fault() -> None:
    assert faults(GOOD.replace("RE-WET B2\\", "RE-WET\r\n  B2\\", 1).encode()) == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("\r\n", "\n", "line end other than CRLF"),
        ("END:VCALENDAR\r\n", "END:VCALENDAR", "last line without CRLF"),
        ("RE-WET B2\\", "R\x07EWET B2\\", "control character"),
        ("wet\\n", "w" * 80, "octets"),
        ("wet\\n", "wet\r\nwet\\n", "no content line: 'wet"),
        ("VERSION:2.0\r\n", "", "VERSION not once"),
        ("VERSION:2.0", "VERSION:1.0", "VERSION other than 2.0"),
        ("PRODID:-//keepdamp//test//EN\r\n", "", "PRODID not once"),
        ("CALSCALE", "METHOD:PUBLISH\r\nCALSCALE", "METHOD in VCALENDAR"),
        (";VALUE=DURATION:PT30M", ":PT30M", "without VALUE=DURATION"),
        ("TTL:PT30M", "TTL:PT60M", "X-PUBLISHED-TTL differ"),
        (EVENT, "", "calendar without a component"),
        (EVENT, EVENT.replace("VEVENT", "VTODO"), "VTODO in the calendar"),
        (EVENT, EVENT + EVENT, "UID one 2 times"),
        ("UID:one\r\n", "", "UID 0 times"),
        ("DTSTAMP:20270503T040000Z\r\n", "", "DTSTAMP 0 times"),
        ("DTSTAMP:20270503T04", "DTSTAMP:20270503T05", "DTSTAMP and LAST-MODIFIED"),
        ("DTSTART:20270503T215000Z", "DTSTART:20270503T215000", "no UTC instant"),
        ("DTSTART:20270503T215000Z", "DTSTART:20270503", "no UTC instant"),
        ("DTSTART:20270503T21", "DTSTART:20270503T25", "no UTC instant"),
        ("DTSTART:", "DTSTART;TZID=Europe/Berlin:", "TZID on DTSTART"),
        ("DTEND:20270503T222000Z", "DTEND:20270503T212000Z", "ends before it starts"),
        ("DTEND:20270503T222000Z", "DURATION:PT30M", "DURATION in VEVENT"),
        ("SEQUENCE:0", "SEQUENCE:-1", "SEQUENCE -1"),
        ("STATUS:CONFIRMED", "STATUS:COMPLETED", "STATUS COMPLETED in an event"),
        ("TRANSP:TRANSPARENT", "TRANSP:OPAQUE", "event blocks the day"),
        ("TRANSP", "CLASS:PRIVATE\r\nTRANSP", "CLASS PRIVATE"),
        ("SUMMARY:", "SUMMARY:again\r\nSUMMARY:", "SUMMARY 2 times"),
        ("B2\\, 300", "B2, 300", "raw comma or semicolon in SUMMARY"),
        ("write \\\\ down", "write \\ down", "unknown escape in DESCRIPTION"),
        ("-PT20M", "-P1H", "malformed TRIGGER -P1H"),
        ("-PT20M", "-PT", "malformed TRIGGER -PT"),
        ("TRIGGER:-PT20M\r\n", "", "TRIGGER 0 times"),
        ("ACTION:DISPLAY\r\n", "", "ACTION 0 times"),
        ("DESCRIPTION:RE-WET B2\r\n", "", "DESCRIPTION 0 times in an alarm"),
        ("END:VEVENT", ALARM + ALARM + "END:VEVENT", "more than two alarms"),
        ("END:VEVENT", "LOCATION:quay\r\nEND:VEVENT", "LOCATION after an alarm"),
        ("END:VEVENT\r\n", "", "END:VCALENDAR without its BEGIN"),
        ("END:VCALENDAR\r\n", "", "VCALENDAR never ends"),
    ],
)
def test_a_planted_fault_is_found(old: str, new: str, fault: str) -> None:
    assert old in GOOD
    found = faults(GOOD.replace(old, new).encode())
    assert any(fault in each for each in found), found


def test_a_fold_inside_a_character_is_found() -> None:
    """The two octets of ``²`` on two lines: legal to some parsers, mojibake to most."""
    good = GOOD.encode()
    inside = good.index("²".encode()) + 1
    found = faults(good[:inside] + b"\r\n " + good[inside:])
    assert any("inside a UTF-8 character" in each for each in found)


def test_size_and_byte_order_mark() -> None:
    assert any("byte order" in each for each in faults(b"\xef\xbb\xbf" + GOOD.encode()))
    many = "".join(EVENT.replace("UID:one", f"UID:{i}") for i in range(3000))
    assert "larger than 900 kB" in faults(GOOD.replace(EVENT, many).encode())
