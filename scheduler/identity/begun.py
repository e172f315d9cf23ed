"""Visits that have begun, found in the roster that goes on from them."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime

from models.records import Visit


def pins(begun: Mapping[str, Visit], visits: Iterable[Visit]) -> dict[str, str]:
    """Say which visit of a new roster is which that had begun before it.

    Parameters
    ----------
    begun : mapping
        Identity -> its visit as it happened, by which the new roster has it: task, crew
        and start. Its id may be any.
    visits : iterable of Visit
        Of the new roster.

    Returns
    -------
    dict
        Visit id of the new roster -> identity, as :func:`follow` takes it. What the
        new roster has no more, as work of a surface that is gone, is in none.
    """
    known: defaultdict[tuple[str, str, datetime], list[str]] = defaultdict(list)
    for identity_id, visit in begun.items():
        known[_key(visit)].append(identity_id)
    return {
        visit.id: known[_key(visit)].pop(0) for visit in visits if known[_key(visit)]
    }


def _key(visit: Visit) -> tuple[str, str, datetime]:
    return visit.task_id, visit.crew_id, visit.starts_at.astimezone(UTC)
