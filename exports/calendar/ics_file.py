"""A whole calendar file: its head, its entries in order, and a limit on its size.

The largest client refuses feeds above 1 MB, so a feed stays under 900 kB. What is
left out is never silent: an entry stands where the work goes on unseen.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from icalendar import Calendar, Event, vText

from exports.calendar.event import CalendarEntry, vevent
from exports.calendar.identity import of_file, uid
from exports.handed import Handed
from exports.text import one_line
from models.local_clock import LocalClock
from models.records import Site

PRODUCT = "-//keepdamp//curing calendar 1//EN"
REFRESH = timedelta(minutes=30)
MOST_BYTES = 900_000


@dataclass(frozen=True)
class FeedRange:
    """Which part of a roster a feed shows, seen from its publication."""

    past: timedelta = timedelta(days=3)
    ahead: timedelta = timedelta(days=14)
    most_bytes: int = MOST_BYTES


def ics_file(
    site: Site,
    name: str,
    entries: Sequence[CalendarEntry],
    handed: Handed,
    feed_range: FeedRange,
) -> bytes:
    """Write a calendar file as RFC 5545 wants it: CRLF, lines of 75 octets, UTF-8.

    Parameters
    ----------
    site : Site
        Its name is part of every identity; its zone is told to clients that ask.
    name : str
        What the phone shows in its list of calendars.
    entries : sequence of CalendarEntry
        The entries, in any order; not empty, for a calendar without an entry is no
        calendar to RFC 5545 section 3.6.
    handed : Handed
        As which issue; the same roster and issue give the same bytes. A draft says so
        in the calendar's name, an issue says its number beside it: the name of a
        calendar stays.
    feed_range : FeedRange
        Entries that ended before it or start after it are left out, unless they have to
        be shown as cancelled; so are the last ones of a feed that would grow too large.

    Raises
    ------
    ValueError
        If two entries share an identity: on a phone one would hide the other.
    """
    if len({entry.uid for entry in entries}) < len(entries):
        raise ValueError(f"two entries of the calendar {name!r} share an identity")
    shown = sorted(
        (
            entry
            for entry in entries
            if entry.ends_at > handed.at - feed_range.past or _cancelled(entry)
        ),
        key=lambda entry: (entry.starts_at, entry.uid),
    )
    calendar = _head(site, name, handed)
    size = len(calendar.to_ical()) + len(_rest(site, name, handed).to_ical())
    for entry in shown:
        event = vevent(entry, of_file(handed))
        size += len(event.to_ical())
        too_far = entry.starts_at >= handed.at + feed_range.ahead
        if too_far or size > feed_range.most_bytes:
            calendar.add_component(_rest(site, name, handed, entry.starts_at))
            break
        calendar.add_component(event)
    if not shown:
        calendar.add_component(_nothing(site, name, handed))
    return bytes(calendar.to_ical())


def _cancelled(entry: CalendarEntry) -> bool:
    return entry.revision is not None and entry.revision.status == "CANCELLED"


def _head(site: Site, name: str, handed: Handed) -> Calendar:
    shown = name if handed.number is not None else f"{handed.mark} · {name}"
    issue = f"{handed.words(LocalClock(site.timezone))}."
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", vText(one_line(shown)))
    calendar.add("x-wr-calname", vText(one_line(shown)))
    calendar.add("description", vText(issue))
    calendar.add("x-wr-caldesc", vText(issue))
    calendar.add("x-wr-timezone", vText(site.timezone))
    calendar.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    minutes = REFRESH // timedelta(minutes=1)
    calendar.add("x-published-ttl", vText(f"PT{minutes}M"))
    return calendar


def _rest(
    site: Site, name: str, handed: Handed, from_at: datetime | None = None
) -> Event:
    return _notice(
        uid(site.name, "rest", name),
        "LATER WORK IS NOT IN THIS CALENDAR",
        "This calendar ends here; the work goes on.\n"
        "Ask for a newer calendar or read the shift sheet.",
        from_at or handed.at,
        handed,
    )


def _nothing(site: Site, name: str, handed: Handed) -> Event:
    return _notice(
        uid(site.name, "nothing", name),
        "NO CURING WORK PLANNED HERE",
        "The calendar works; nothing is planned in it for now.",
        handed.at,
        handed,
    )


def _notice(
    identity: str, title: str, text: str, at: datetime, handed: Handed
) -> Event:
    return vevent(
        CalendarEntry(
            uid=identity,
            title=title,
            text=text,
            place="",
            categories=("notice",),
            starts_at=at,
            ends_at=at,
        ),
        of_file(handed),
    )
