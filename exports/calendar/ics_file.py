"""A whole calendar file: its head, its entries in order, and a limit on its size.

The largest client refuses feeds above 1 MB, so a feed stays under 900 kB. What is
left out is never silent: an entry stands where the work goes on unseen.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from icalendar import Calendar, Event, vText

from exports.calendar.event import CalendarEntry, vevent
from exports.calendar.identity import uid
from exports.text import one_line
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
    published_at: datetime,
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
    published_at : datetime
        Instant of publication; the same roster and instant give the same bytes.
    feed_range : FeedRange
        Entries that ended before it or start after it are left out; so are the last
        ones of a feed that would grow too large.

    Raises
    ------
    ValueError
        If two entries share an identity: on a phone one would hide the other.
    """
    if len({entry.uid for entry in entries}) < len(entries):
        raise ValueError(f"two entries of the calendar {name!r} share an identity")
    shown = sorted(
        (entry for entry in entries if entry.ends_at > published_at - feed_range.past),
        key=lambda entry: (entry.starts_at, entry.uid),
    )
    calendar = _head(site, name)
    size = len(calendar.to_ical()) + len(_rest(site, name, published_at).to_ical())
    for entry in shown:
        event = vevent(entry, published_at)
        size += len(event.to_ical())
        too_far = entry.starts_at >= published_at + feed_range.ahead
        if too_far or size > feed_range.most_bytes:
            calendar.add_component(_rest(site, name, published_at, entry.starts_at))
            break
        calendar.add_component(event)
    if not shown:
        calendar.add_component(_nothing(site, name, published_at))
    return bytes(calendar.to_ical())


def _head(site: Site, name: str) -> Calendar:
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("name", vText(one_line(name)))
    calendar.add("x-wr-calname", vText(one_line(name)))
    calendar.add("x-wr-timezone", vText(site.timezone))
    calendar.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    minutes = REFRESH // timedelta(minutes=1)
    calendar.add("x-published-ttl", vText(f"PT{minutes}M"))
    return calendar


def _rest(
    site: Site, name: str, published_at: datetime, from_at: datetime | None = None
) -> Event:
    return _notice(
        uid(site.name, "rest", name),
        "LATER WORK IS NOT IN THIS CALENDAR",
        "This calendar ends here; the work goes on.\n"
        "Ask for a newer calendar or read the shift sheet.",
        from_at or published_at,
        published_at,
    )


def _nothing(site: Site, name: str, published_at: datetime) -> Event:
    return _notice(
        uid(site.name, "nothing", name),
        "NO CURING WORK PLANNED HERE",
        "The calendar works; nothing is planned in it for now.",
        published_at,
        published_at,
    )


def _notice(
    identity: str, title: str, text: str, at: datetime, published_at: datetime
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
        published_at,
    )
