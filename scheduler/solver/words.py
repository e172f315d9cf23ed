"""Times and amounts as people on the site say them."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from models.records import Horizon


class SiteWords:
    """Says minutes of the horizon in the site's local time."""

    def __init__(self, horizon: Horizon, timezone: str) -> None:
        self.horizon, self.zone = horizon, ZoneInfo(timezone)

    def local(self, minute: int) -> datetime:
        """Local date and time of a minute."""
        return self.horizon.at(minute).astimezone(self.zone)

    def at(self, minute: int) -> str:
        """Weekday and time: ``Mon 14:20``."""
        return f"{self.local(minute):%a %H:%M}"

    def until(self, start: int, end: int) -> str:
        """From and to, the weekday once where it is the same."""
        same = self.local(start).date() == self.local(end).date()
        last = f"{self.local(end):%H:%M}" if same else self.at(end)
        return f"{self.at(start)} to {last}"


def litres(units: float) -> str:
    """Say an amount in whole litres, counted in millionths."""
    return f"{units / 1e6:,.0f} L"


def flow(units: float) -> str:
    """Say a flow, counted in millionths of a litre a minute."""
    return f"{units / 1e6:,.0f} L/min"


def listed(names: Iterable[str], most: int = 3) -> str:
    """Join a few names; more than ``most`` are counted."""
    known = list(dict.fromkeys(names))
    if len(known) > most:
        known = [*known[: most - 1], f"{len(known) - most + 1} more"]
    return ", ".join(known)
