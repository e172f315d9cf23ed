"""Who has to be told: a roster held against the published one, visit by visit.

Counted from the two rosters alone. What starts outside either horizon is nobody's
news: before it things are done, after it nothing had been said.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Literal

from models.records import Changes, Horizon, Roster, Visit

_Fate = Literal["kept", "moved", "other_crew", "dropped", "added"]


def changes_of(published: Roster, roster: Roster, beyond_min: int) -> Changes:
    """Count what became of published visits, and the visits that are new.

    Parameters
    ----------
    published, roster : Roster
        What people hold, and what they are to hold.
    beyond_min : int
        A visit that starts no further from its published minute is kept. [min]

    Notes
    -----
    What has begun is nobody's news either.
    """
    begun_until = roster.begun_until or roster.horizon.starts_at
    starts_at = max(published.horizon.starts_at, begun_until)
    ends_at = min(published.horizon.ends_at, roster.horizon.ends_at)
    both = Horizon(starts_at=starts_at, ends_at=ends_at)
    told = _by_task(v for v in published.visits if _within(both, v.starts_at))
    now = _by_task(v for v in roster.visits if v.starts_at >= begun_until)
    rewets = {work.rewet.id for work in roster.surfaces if work.rewet is not None}
    beyond = timedelta(minutes=beyond_min)
    count: dict[_Fate, int] = defaultdict(int)
    for task_id in {**told, **now}:
        old, new = told.get(task_id, []), now.get(task_id, [])
        fates = _of_rewets if task_id in rewets else _of_one
        for fate, at in fates(old, new, beyond):
            if fate != "added" or _within(both, at):
                count[fate] += 1
    return Changes(**count)


def _by_task(visits: Iterable[Visit]) -> dict[str, list[Visit]]:
    found: dict[str, list[Visit]] = defaultdict(list)
    for visit in visits:
        found[visit.task_id].append(visit)
    return found


def _within(horizon: Horizon, at: datetime) -> bool:
    return horizon.starts_at <= at < horizon.ends_at


def _of_one(
    old: Sequence[Visit], new: Sequence[Visit], beyond: timedelta
) -> Iterator[tuple[_Fate, datetime]]:
    """Compare work that is done once."""
    for visit in old:
        if not new:
            yield "dropped", visit.starts_at
        elif new[0].crew_id != visit.crew_id:
            yield "other_crew", visit.starts_at
        elif abs(new[0].starts_at - visit.starts_at) > beyond:
            yield "moved", visit.starts_at
        else:
            yield "kept", visit.starts_at
    if not old:
        for visit in new:
            yield "added", visit.starts_at


def _of_rewets(
    old: Sequence[Visit], new: Sequence[Visit], beyond: timedelta
) -> Iterator[tuple[_Fate, datetime]]:
    """Compare work of which there may be any number: by who comes about when."""
    for visit in old:
        there = {v.crew_id for v in new if abs(v.starts_at - visit.starts_at) <= beyond}
        if visit.crew_id in there:
            yield "kept", visit.starts_at
        else:
            yield "other_crew" if there else "dropped", visit.starts_at
    for visit in new:
        if all(abs(visit.starts_at - one.starts_at) > beyond for one in old):
            yield "added", visit.starts_at
