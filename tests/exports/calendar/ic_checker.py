"""A checker of calendar files at the level of bytes, on purpose not a parser.

Parsers forgive: LF for CRLF, long lines, a lost alarm, the same UID twice. Phones do
not all forgive the same. So this reads the bytes and holds them against RFC 5545 (its
sections named at each rule, read) and against the stricter habits of this project:
UTC instants only, events only, no METHOD.
"""

import re
from collections import Counter
from dataclasses import dataclass, field

MOST_OCTETS = 75
UTC = re.compile(r"\d{8}T([01]\d|2[0-3])[0-5]\d[0-5]\dZ")
TRIGGER = re.compile(r"-?P(T(\d+H)?(\d+M)?(\d+S)?|\d+[DW])")
DURATION = re.compile(r"P(T(\d+H)?(\d+M)?(\d+S)?|\d+[DW])")
LINE = re.compile(r"([A-Z0-9-]+)((?:;[A-Z0-9-]+=(?:\"[^\"]*\"|[^\";:,]*))*):(.*)", re.S)
TEXTS = {"SUMMARY", "DESCRIPTION", "LOCATION", "NAME", "X-WR-CALNAME"}
FORBIDDEN = {"METHOD", "ORGANIZER", "ATTENDEE", "RRULE", "RDATE", "DURATION", "SOURCE"}
ONCE_IN_EVENT = (
    "UID", "DTSTAMP", "LAST-MODIFIED", "SEQUENCE", "DTSTART", "DTEND", "SUMMARY",
    "DESCRIPTION", "STATUS", "TRANSP",
)  # fmt: skip
INSTANTS = ("DTSTAMP", "LAST-MODIFIED", "DTSTART", "DTEND")
MOST_BYTES = 900_000


@dataclass
class Component:
    """A component with its properties as (name, parameters, value)."""

    name: str
    properties: list[tuple[str, str, str]] = field(default_factory=list)
    inner: list["Component"] = field(default_factory=list)

    def values(self, name: str) -> list[str]:
        return [value for found, _, value in self.properties if found == name]


def faults(data: bytes) -> list[str]:
    """Every fault found, in words; an empty list for a good file."""
    found = [*_byte_faults(data)]
    root = Component("ROOT")
    found += _build(data, root)
    if [part.name for part in root.inner] != ["VCALENDAR"]:
        return [*found, "not exactly one VCALENDAR"]
    calendar = root.inner[0]
    found += _calendar_faults(calendar)
    for event in calendar.inner:
        found += _event_faults(event)
    for uid, count in Counter(
        value for event in calendar.inner for value in event.values("UID")
    ).items():
        if count > 1:
            found.append(f"UID {uid} {count} times")
    return found


def _byte_faults(data: bytes) -> list[str]:
    """Section 3.1: CRLF, 75 octets; a fold never inside a character (3.1, note)."""
    found = []
    if data.startswith(b"\xef\xbb\xbf"):
        found.append("byte order mark")
    if not data.endswith(b"\r\n"):
        found.append("last line without CRLF")
    if re.search(rb"(?<!\r)\n|\r(?!\n)", data):
        found.append("line end other than CRLF")
    if re.search(rb"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]", data):
        found.append("control character")
    if len(data) > MOST_BYTES:
        found.append("larger than 900 kB")
    for line in re.split(rb"\r?\n", data):
        if len(line) > MOST_OCTETS:
            found.append(f"line of {len(line)} octets")
        try:
            line.decode()
        except UnicodeDecodeError:
            found.append("fold inside a UTF-8 character, or no UTF-8")
    return found


def _build(data: bytes, root: Component) -> list[str]:
    found: list[str] = []
    stack = [root]
    unfolded = re.sub(rb"\r?\n[ \t]", b"", data).decode(errors="replace")
    for line in re.split(r"\r?\n", unfolded):
        if not line:
            continue
        match = LINE.fullmatch(line)
        if match is None:
            found.append(f"no content line: {line[:40]!r}")
            continue
        name, parameters, value = match[1], match[2], match[3]
        if name == "BEGIN":
            stack.append(Component(value))
            stack[-2].inner.append(stack[-1])
        elif name == "END":
            if len(stack) < 2 or stack[-1].name != value:
                found.append(f"END:{value} without its BEGIN")
            else:
                stack.pop()
        else:
            if stack[-1].inner and stack[-1].name == "VEVENT":
                found.append(f"{name} after an alarm")
            stack[-1].properties.append((name, parameters, value))
    if len(stack) > 1:
        found.append(f"{stack[-1].name} never ends")
    return found


def _calendar_faults(calendar: Component) -> list[str]:
    """Section 3.6: PRODID and VERSION once, at least one component."""
    found = _common_faults(calendar)
    for name in ("PRODID", "VERSION", "CALSCALE", "REFRESH-INTERVAL"):
        if len(calendar.values(name)) != 1:
            found.append(f"{name} not once in the calendar")
    if calendar.values("VERSION") != ["2.0"]:
        found.append("VERSION other than 2.0")
    if not calendar.inner:
        found.append("calendar without a component")
    found += [
        f"{part.name} in the calendar"
        for part in calendar.inner
        if part.name != "VEVENT"
    ]
    for name, parameters, value in calendar.properties:
        # RFC 7986 section 5.7: no default type, so VALUE=DURATION must be there.
        if name == "REFRESH-INTERVAL":
            if parameters != ";VALUE=DURATION":
                found.append("REFRESH-INTERVAL without VALUE=DURATION")
            if calendar.values("X-PUBLISHED-TTL") != [value]:
                found.append("REFRESH-INTERVAL and X-PUBLISHED-TTL differ")
            if not DURATION.fullmatch(value):
                found.append(f"malformed REFRESH-INTERVAL {value}")
    return found


def _common_faults(part: Component) -> list[str]:
    found = []
    for name, parameters, value in part.properties:
        if name in FORBIDDEN:
            found.append(f"{name} in {part.name}")
        if "TZID" in parameters:
            found.append(f"TZID on {name}")
        if name in TEXTS and re.search(r"(?<!\\)(?:\\\\)*[,;]", value):
            found.append(f"raw comma or semicolon in {name}")
        if name in TEXTS and re.search(r"(?<!\\)(?:\\\\)*\\(?![\\;,nN])", value):
            found.append(f"unknown escape in {name}")
    return found


def _event_faults(event: Component) -> list[str]:
    """Section 3.6.1; instants of 3.3.5 in their third form, UTC."""
    found = _common_faults(event)
    for name in ONCE_IN_EVENT:
        if len(event.values(name)) != 1:
            found.append(f"{name} {len(event.values(name))} times in an event")
    for name in INSTANTS:
        found += [
            f"{name} {value} is no UTC instant"
            for value in event.values(name)
            if not UTC.fullmatch(value)
        ]
    if event.values("DTSTAMP") != event.values("LAST-MODIFIED"):
        found.append("DTSTAMP and LAST-MODIFIED differ")  # 3.8.7.2: same meaning
    if event.values("DTEND") <= event.values("DTSTART"):
        found.append("event ends before it starts")
    for value in event.values("SEQUENCE"):
        if not re.fullmatch(r"\d{1,9}", value):
            found.append(f"SEQUENCE {value}")
    for value in event.values("STATUS"):
        if value not in {"TENTATIVE", "CONFIRMED", "CANCELLED"}:
            found.append(f"STATUS {value} in an event")
    if event.values("TRANSP") != ["TRANSPARENT"]:
        found.append("event blocks the day")
    if "PRIVATE" in event.values("CLASS"):
        found.append("CLASS PRIVATE")
    if len(event.inner) > 2:
        found.append("more than two alarms")
    for alarm in event.inner:
        found += _alarm_faults(alarm)
    return found


def _alarm_faults(alarm: Component) -> list[str]:
    """Section 3.6.6: a display alarm has ACTION, DESCRIPTION and TRIGGER, each once."""
    found = _common_faults(alarm)
    if alarm.name != "VALARM":
        found.append(f"{alarm.name} in an event")
    for name in ("ACTION", "DESCRIPTION", "TRIGGER"):
        if len(alarm.values(name)) != 1:
            found.append(f"{name} {len(alarm.values(name))} times in an alarm")
    for value in alarm.values("TRIGGER"):
        if not TRIGGER.fullmatch(value) or value.endswith("T"):
            found.append(f"malformed TRIGGER {value}")
    return found
