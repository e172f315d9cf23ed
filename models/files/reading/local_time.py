"""Instants as people write them: ISO, year first, in the site's own clock time.

A time without an offset is local. One that the clocks skip in spring does not exist
and is refused; one that comes twice in autumn has to say its offset.
"""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

import pendulum
from pendulum.tz.exceptions import AmbiguousTime, NonExistingTime

from models.files.reading.problems import ValueRefused
from models.local_clock import LocalClock
from models.wording import did_you_mean

_ISO = re.compile(
    r"(\d{4}-\d{2}-\d{2})[T ](\d{2}:\d{2}(?::\d{2}(?:\.\d{1,6})?)?)"
    r" ?(Z|[+-]\d{2}:?\d{2})?"
)
_CLOCK = re.compile(r"\d{2}:\d{2}(?::\d{2})?")
_NUMBERS_FIRST = re.compile(r"\d{1,2}[./-]\d{1,2}[./-]\d{2,4}\b")
#: A plan is made for weeks to come; other years are slips of the pen.
FIRST_YEAR, LAST_YEAR = 2000, 2099

WANTED_INSTANT = "a date and time such as 2027-06-07 06:00"
WANTED_CLOCK = "a clock time such as 06:00"


@dataclass(frozen=True)
class LocalTime:
    """Reads instants in one timezone; all come out in UTC."""

    timezone: str = "UTC"

    def __post_init__(self) -> None:
        """Refuse a name that is no timezone.

        Raises
        ------
        ValueRefused
            If the name is not an IANA timezone.
        """
        if self.timezone not in pendulum.timezones():
            raise ValueRefused(
                "an IANA timezone such as Europe/Berlin",
                did_you_mean(self.timezone, pendulum.timezones()),
            )

    def instant(self, raw: object) -> datetime:
        """Read an instant.

        Raises
        ------
        ValueRefused
            If it is no ISO date and time, or no or two moments of the local clock.
        """
        if isinstance(raw, str):
            moment = _parse(raw.strip())
        elif isinstance(raw, datetime):
            moment = raw
        elif isinstance(raw, date):
            raise ValueRefused(WANTED_INSTANT, "The clock time is missing")
        else:
            raise ValueRefused(WANTED_INSTANT)
        if not FIRST_YEAR <= moment.year <= LAST_YEAR:
            raise ValueRefused(f"a year from {FIRST_YEAR} to {LAST_YEAR}")
        return moment.astimezone(UTC) if moment.tzinfo else self.of_wall(moment)

    def of_wall(self, wall: datetime, *, first_of_two: bool = False) -> datetime:
        """Turn a time on the site's clock into an instant.

        Parameters
        ----------
        wall : datetime
            Without an offset.
        first_of_two : bool
            Take the earlier of two moments when the clock shows the time twice.

        Raises
        ------
        ValueRefused
            If the clock never shows the time, or shows it twice.
        """
        zone = pendulum.timezone(self.timezone)
        first, second = (wall.replace(tzinfo=zone, fold=fold) for fold in (0, 1))
        try:
            zone.convert(wall, raise_on_unknown_times=True)
        except NonExistingTime:
            raise ValueRefused(
                f"a time that exists in {self.timezone}",
                "The clocks skip it that night",
            ) from None
        except AmbiguousTime:
            if not first_of_two:
                raise ValueRefused(
                    f"an offset after it: {_offset(first)} or {_offset(second)}",
                    f"The clocks of {self.timezone} show it twice that night",
                ) from None
        return datetime.fromtimestamp(first.timestamp(), UTC)

    def wall(self, at: datetime) -> datetime:
        """Give what the site's clock shows at an instant, without an offset."""
        return LocalClock(self.timezone).local(at).replace(tzinfo=None)

    def words(self, at: datetime) -> str:
        """Say an instant as the site's clock shows it."""
        return self.wall(at).isoformat(" ", "minutes")


def read_clock(raw: object) -> time:
    """Read a local clock time.

    Raises
    ------
    ValueRefused
        If it is not HH:MM.
    """
    if isinstance(raw, time):
        return raw.replace(tzinfo=None)
    if isinstance(raw, str) and _CLOCK.fullmatch(raw.strip()):
        try:
            return time.fromisoformat(raw.strip())
        except ValueError:
            pass
    hint = "Midnight is 00:00" if raw == "24:00" else ""
    raise ValueRefused(WANTED_CLOCK, hint)


def _parse(text: str) -> datetime:
    match = _ISO.fullmatch(text)
    if not match:
        hint = ""
        if _NUMBERS_FIRST.match(text):
            hint = "Day and month can be read either way; write the year first"
        elif re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
            hint = "The clock time is missing"
        raise ValueRefused(WANTED_INSTANT, hint)
    day, clock, offset = match.groups()
    try:
        return datetime.fromisoformat(f"{day}T{clock}{offset or ''}")
    except ValueError:
        raise ValueRefused(WANTED_INSTANT, "No such day or hour") from None


def _offset(local: datetime) -> str:
    text = local.strftime("%z")
    return f"{text[:3]}:{text[3:]}"
