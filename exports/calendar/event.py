"""One calendar entry, written so that every phone reads the same instant from it.

RFC 5545 section 3.6.1 (VEVENT) and 3.6.6 (VALARM), with these habits of clients in
mind: UTC instants need no VTIMEZONE, which several clients read wrongly; an alarm
without DESCRIPTION or ahead of the event's own properties is lost on some phones;
without TRANSP a crew lead shows as busy all week; text may carry no HTML.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from icalendar import Alarm, Event, vText

from exports.calendar.identity import Revision
from exports.text import clean, one_line

#: Shorter boxes cannot be read on a phone.
SHORTEST = timedelta(minutes=15)


@dataclass(frozen=True)
class CalendarEntry:
    """What a calendar entry says, before it becomes text.

    ``categories`` are words to filter by; ``alarms_min`` minutes before the start.
    ``revision`` is None for what is written anew with each file.
    """

    uid: str
    title: str
    text: str
    place: str
    categories: tuple[str, ...]
    starts_at: datetime
    ends_at: datetime
    alarms_min: tuple[int, ...] = ()
    revision: Revision | None = None


def vevent(entry: CalendarEntry, of_file: Revision) -> Event:
    """Write an entry as a VEVENT, its alarms last.

    Parameters
    ----------
    entry : CalendarEntry
        What it says.
    of_file : Revision
        Of entries that have none of their own. DTSTAMP and LAST-MODIFIED are of a
        revision, never the time of day at which the file happens to be written.
    """
    revision = entry.revision or of_file
    starts_at, ends_at = _utc(entry.starts_at), _utc(entry.ends_at)
    event = Event()
    event.add("uid", entry.uid)
    event.add("dtstamp", _utc(revision.changed_at))
    if revision.created_at is not None:
        event.add("created", _utc(revision.created_at))
    event.add("last-modified", _utc(revision.changed_at))
    event.add("sequence", revision.sequence)
    event.add("dtstart", starts_at)
    event.add("dtend", max(ends_at, starts_at + SHORTEST))
    event.add("summary", vText(one_line(entry.title)))
    event.add("description", vText(clean(entry.text)))
    if entry.place:
        event.add("location", vText(one_line(entry.place)))
    event.add("categories", [one_line(word) for word in entry.categories])
    event.add("status", revision.status)
    event.add("transp", "TRANSPARENT")
    event.add("x-microsoft-cdo-busystatus", "FREE")
    for minutes in entry.alarms_min:
        event.add_component(_alarm(entry.title, minutes))
    return event


def _alarm(title: str, minutes: int) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", vText(one_line(title)))
    # As text, because the library writes nought as P0D: legal, but a length in days.
    alarm["trigger"] = vText(f"-PT{minutes}M" if minutes else "PT0S")
    return alarm


def _utc(at: datetime) -> datetime:
    """Return the instant in UTC to the second, the form that needs no time zone."""
    return at.astimezone(UTC).replace(microsecond=0)
