"""What became of every visit from one issue to the next, for the people who do it."""

from collections.abc import Sequence
from datetime import datetime

from models.records import ChangeKind, ChangeList, Told, VisitChange, VisitIdentity


def change_list(
    earlier: Sequence[VisitIdentity], now: Sequence[VisitIdentity], since: int
) -> ChangeList:
    """Compare the identities of two issues.

    Parameters
    ----------
    earlier, now : sequence of VisitIdentity
        Of the earlier issue and of the new one, as :func:`follow` makes them.
    since : int
        Number of the earlier issue.

    Returns
    -------
    ChangeList
        In order of time. Work that is done is no news, and what lies before the new
        roster is none either.
    """
    before = {one.id: one for one in earlier}
    found = [
        change
        for one in now
        if (change := _change(before.get(one.id), one)) is not None
    ]
    found.sort(key=lambda change: (_at(change), change.surface_id, change.identity_id))
    return ChangeList(since=since, changes=tuple(found))


def _change(was: VisitIdentity | None, now: VisitIdentity) -> VisitChange | None:
    if now.state == "done" or (was is not None and was.state != "planned"):
        return None
    if now.state == "planned" and now.visit_id is None:  # outside the new roster
        return None
    old = was.told if was is not None else None
    new = now.told if now.state == "planned" else None
    return VisitChange(
        kind=_kind(old, new),
        identity_id=now.id,
        surface_id=now.surface_id,
        visit_id=now.visit_id,
        was=old,
        now=new,
    )


def _kind(was: Told | None, now: Told | None) -> ChangeKind:
    if was is None:
        return "added"
    if now is None:
        return "dropped"
    if was.crew_id != now.crew_id:
        return "given"
    return "kept" if was.starts_at == now.starts_at else "moved"


def _at(change: VisitChange) -> datetime:
    told = change.now or change.was
    assert told is not None  # one of them made it a change
    return told.starts_at
