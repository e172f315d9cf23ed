"""Two parsers of other hands: what they read is what we meant."""

# Neither of the two carries types; what is taken from them is typed here.
from datetime import UTC, datetime
from typing import Any

import ics
import vobject

Read = dict[str, tuple[datetime, datetime, str, str]]


def with_ics(data: bytes) -> Read:
    """UID to start, end, summary and description."""
    calendar: Any = ics.Calendar(data.decode())
    return {
        event.uid: (
            event.begin.datetime.astimezone(UTC),
            event.end.datetime.astimezone(UTC),
            event.name,
            event.description,
        )
        for event in calendar.events
    }


def with_vobject(data: bytes) -> Read:
    """The same, after the parser's own validation."""
    calendar: Any = vobject.readOne(data.decode())
    calendar.validate()
    return {
        event.uid.value: (
            event.dtstart.value.astimezone(UTC),
            event.dtend.value.astimezone(UTC),
            event.summary.value,
            event.description.value,
        )
        for event in calendar.vevent_list
    }
