"""Work that keeps crews from curing, counted again from the site folder and clock 1."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from models.local_clock import WeekClock
from models.records import HydrationHistory, SiteInput


class OtherWork(NamedTuple):
    """What a crew does besides curing, between two minutes."""

    from_min: int
    until_min: int
    doing: str


def other_work(
    site_input: SiteInput, hydration: HydrationHistory, clock: WeekClock
) -> Mapping[str, Sequence[OtherWork]]:
    """List the other work of every gang and party that has some.

    Whoever places a pour stays on it until it can be covered, or until it was.
    """
    found: dict[str, list[OtherWork]] = defaultdict(list)
    minute = clock.horizon.minute
    tops = dict(zip(hydration.surface_ids, hydration.events, strict=True))
    for crew in site_input.site.crews:
        members = (crew.id, *(party.id for party in crew.parties))
        for busy in crew.busy:
            for name in members:
                found[name].append(_own(busy.from_at, busy.until_at, busy.why, clock))
        for party in crew.parties:
            for busy in party.busy:
                for name in (crew.id, party.id):
                    found[name].append(
                        _own(busy.from_at, busy.until_at, busy.why, clock)
                    )
        for pour in (one for one in site_input.pours if one.crew_id == crew.id):
            events = tops.get(f"{pour.id}-top")
            if events is None:
                continue
            covered_at = pour.covered_at or max(
                pour.placing_ends_at, events.takes_cover.expected_at
            )
            first, over = minute(pour.placing_starts_at), minute(covered_at)
            doing = f"placing and finishing {pour.id}"
            for name in members:
                found[name].append(OtherWork(first, over, doing))
    return {name: sorted(own) for name, own in found.items()}


def _own(
    from_at: datetime, until_at: datetime, why: str, clock: WeekClock
) -> OtherWork:
    """Take a stretch as the site gives it."""
    minute = clock.horizon.minute
    words = f"busy ({why})" if why else "busy"
    return OtherWork(minute(from_at), minute(until_at), words)
