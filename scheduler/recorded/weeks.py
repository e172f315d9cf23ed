"""Weeks of one pour joined: what was published for it from its placing on.

A pour that cures longer than a week is in the issues of several weeks. The last issue
of each week says what was planned in it; the next week's takes over where it begins.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from models.records import Horizon, Pour, Roster, SurfaceWork
from scheduler.happened.begun import all_tasks
from scheduler.recorded.played import of_pour


@dataclass(frozen=True)
class Published:
    """An issue's roster, and where it has the visits that people know by identity."""

    number: int
    roster: Roster
    place_of: Mapping[str, str]


def joined(published: Sequence[Published], pour: Pour) -> tuple[Roster, dict[str, str]]:
    """Join the last issues of all weeks that have a pour.

    Returns
    -------
    Roster, dict
        Of the pour alone, over all of these weeks, with the identities of its visits.
        Visits of older weeks have the number of their issue before their id.
    """
    weeks: dict[datetime, tuple[Published, Roster]] = {}
    for one in published:
        own = of_pour(one.roster, pour)
        if own.surfaces:
            weeks[own.horizon.starts_at] = (one, own)
    starts = sorted(weeks)
    newest = weeks[starts[-1]][1]
    visits, gaps = [], []
    places: dict[str, str] = {}
    works: dict[str, list[SurfaceWork]] = {}
    for starts_at, until in zip(starts, [*starts[1:], None], strict=True):
        one, own = weeks[starts_at]
        for work in own.surfaces:
            works.setdefault(work.surface_id, []).append(work)
        gaps += [g for g in own.gaps if until is None or g.starts_at < until]
        kept = [v for v in own.visits if until is None or v.starts_at < until]
        visits += [
            visit.model_copy(update={"id": _name(one, visit.id, until)})
            for visit in kept
        ]
        here = {visit.id for visit in kept}
        for identity, visit_id in one.place_of.items():
            # What was of an older week stays there, whatever has its id by now.
            if not places.get(identity):
                places[identity] = (
                    _name(one, visit_id, until) if visit_id in here else ""
                )
    ends_at = newest.horizon.ends_at
    roster = newest.model_copy(
        update={
            "horizon": Horizon(starts_at=starts[0], ends_at=ends_at),
            "surfaces": tuple(_joined(works[w.surface_id]) for w in newest.surfaces),
            "visits": tuple(visits),
            "gaps": tuple(gaps),
        }
    )
    return roster, places


def _name(one: Published, visit_id: str, until: datetime | None) -> str:
    return visit_id if until is None else f"{one.number}:{visit_id}"


def _joined(works: Sequence[SurfaceWork]) -> SurfaceWork:
    """Give the newest work with all tasks that were asked for since the first week."""
    rewets = [work.rewet for work in works if work.rewet is not None]
    rewet = rewets[-1] if rewets else None
    tasks = {task.id: task for work in works for task in all_tasks(work)}
    own = tuple(t for t in tasks.values() if rewet is None or t.id != rewet.id)
    return works[-1].model_copy(update={"tasks": own, "rewet": rewet})
