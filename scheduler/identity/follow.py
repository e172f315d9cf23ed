"""From the identities of the last issue and a new roster to those of the next issue.

Pure: no store and no clock; ids come from whoever calls, so that tests can draw them.
"""

import json
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from hashlib import sha256

from models.records import Horizon, TakenBack, Told, ToldVisit, VisitIdentity
from scheduler.identity.alignment import (
    FURTHEST_ONCE_MIN,
    FURTHEST_RECURRING_MIN,
    aligned,
)

#: So long a calendar shows what it had to take back: a phone that was off for a long
#: weekend, or a lead on leave for a week, still sees it (assumption).
SHOWN_TAKEN_BACK = timedelta(days=7)


def follow(
    earlier: Sequence[VisitIdentity],
    visits: Sequence[ToldVisit],
    number: int,
    published_at: datetime,
    horizon: Horizon,
    new_id: Callable[[], str],
    done: Collection[str] = (),
    pinned: Mapping[str, str] | None = None,
) -> tuple[VisitIdentity, ...]:
    """Give every visit of a new issue its identity.

    Parameters
    ----------
    earlier : sequence of VisitIdentity
        All that the site ever had, as of the last issue.
    visits : sequence of ToldVisit
        Of the new roster.
    number, published_at : int and datetime
        Of the new issue.
    horizon : Horizon
        Of the new roster. What was to start outside it is no visit of it and stays as
        it is, unless pinned.
    new_id : callable
        Gives a fresh random UUID in text.
    done : collection of str
        Ids of visits that were finished by now; none of them is given to another visit.
    pinned : mapping
        Visit id of the new roster -> id, for what began before the new plan and stands
        in it as it was.

    Returns
    -------
    tuple of VisitIdentity
        The earlier ones in their order, then new ones in order of time. Those of which
        the new issue says something carry its number.

    Raises
    ------
    ValueError
        If ``pinned`` names an id that there is not, a cancelled one, or one twice; if
        ``new_id`` gives one that there was.
    """
    pinned = dict(pinned or {})
    by_id = {one.id: one for one in earlier}
    _refuse_bad_pins(pinned, by_id)
    visit_of = _matched(earlier, visits, horizon, set(done), pinned)
    desk = _Desk(number, published_at, set(done))
    kept = [desk.next(one, visit_of.get(one.id), horizon) for one in earlier]
    taken = {visit.visit_id for visit in visit_of.values()}
    fresh = sorted(
        (visit for visit in visits if visit.visit_id not in taken),
        key=lambda visit: (visit.told.starts_at, visit.surface_id, visit.visit_id),
    )
    born = [desk.born(visit, new_id()) for visit in fresh]
    if len(by_id.keys() | {one.id for one in born}) < len(earlier) + len(born):
        raise ValueError("an id that was given before")
    return (*kept, *born)


def shown_taken_back(
    identities: Iterable[VisitIdentity], at: datetime
) -> tuple[tuple[VisitIdentity, TakenBack], ...]:
    """Give the entries that calendars still have to show as cancelled."""
    return tuple(
        (one, entry)
        for one in identities
        for entry in one.taken_back
        if at - entry.at < SHOWN_TAKEN_BACK
    )


def _refuse_bad_pins(
    pinned: Mapping[str, str], by_id: Mapping[str, VisitIdentity]
) -> None:
    for identity_id in pinned.values():
        if identity_id not in by_id or by_id[identity_id].state == "cancelled":
            raise ValueError(f"no visit to pin: {identity_id!r}")
    if len(set(pinned.values())) < len(pinned):
        raise ValueError("one visit pinned twice")


def _matched(
    earlier: Sequence[VisitIdentity],
    visits: Sequence[ToldVisit],
    horizon: Horizon,
    done: Collection[str],
    pinned: Mapping[str, str],
) -> dict[str, ToldVisit]:
    """Find the visit that each identity is in the new roster, if any."""
    found = {
        pinned[visit.visit_id]: visit for visit in visits if visit.visit_id in pinned
    }
    olds: defaultdict[tuple[str, str], list[VisitIdentity]] = defaultdict(list)
    news: defaultdict[tuple[str, str], list[ToldVisit]] = defaultdict(list)
    for one in earlier:
        open_still = one.state == "planned" and one.id not in done
        if open_still and one.id not in found and _within(one.told, horizon):
            olds[one.surface_id, one.duty].append(one)
    for visit in visits:
        if visit.visit_id not in pinned:
            news[visit.surface_id, visit.duty].append(visit)
    for duty, own in olds.items():
        found |= _paired(own, news[duty], own[0].recurs)
    return found


def _paired(
    olds: Sequence[VisitIdentity], news: Sequence[ToldVisit], recurs: bool
) -> dict[str, ToldVisit]:
    """Pair visits of one duty; of work done once, those that passed another one too.

    Parts of a job go on side by side: one that is begun a little sooner may pass one
    that stands, and is the same part for all that.
    """
    furthest = FURTHEST_RECURRING_MIN if recurs else FURTHEST_ONCE_MIN
    pairs = aligned([o.told for o in olds], [v.told for v in news], furthest)
    found = {olds[i].id: news[j] for i, j in pairs}
    if recurs or not pairs:
        return found
    taken = {j for _, j in pairs}
    return found | _paired(
        [old for old in olds if old.id not in found],
        [new for j, new in enumerate(news) if j not in taken],
        recurs,
    )


def _within(told: Told, horizon: Horizon) -> bool:
    return horizon.starts_at <= told.starts_at < horizon.ends_at


class _Desk:
    """Where the identities of one issue are written."""

    def __init__(self, number: int, at: datetime, done: Collection[str]) -> None:
        self.number, self.at, self.done = number, at, done

    def born(self, visit: ToldVisit, identity_id: str) -> VisitIdentity:
        return VisitIdentity(
            id=identity_id,
            issue_number=self.number,
            born_in=self.number,
            surface_id=visit.surface_id,
            duty=visit.duty,
            recurs=visit.recurs,
            told=visit.told,
            leads=visit.leads,
            told_hash=_told_hash(visit),
            rest_hash=visit.rest_hash,
            created_at=self.at,
            changed_at=self.at,
            visit_id=visit.visit_id,
        )

    def next(
        self, one: VisitIdentity, visit: ToldVisit | None, horizon: Horizon
    ) -> VisitIdentity:
        """Carry an identity into the issue, whether or not it has a visit there."""
        finished = one.id in self.done and one.state == "planned"
        if visit is not None:
            return self._in_roster(one, visit, "done" if finished else one.state)
        if finished:
            return self._with(one, state="done", visit_id=None)
        if one.state == "planned" and _within(one.told, horizon):
            return self._with(
                one,
                state="cancelled",
                visit_id=None,
                sequence=one.sequence + 1,
                changed_at=self.at,
                leads=False,
                taken_back=self._taken_back(one, one.sequence + 1),
            )
        if one.visit_id is not None:
            return self._with(one, visit_id=None)
        return one

    def _in_roster(
        self, one: VisitIdentity, visit: ToldVisit, state: str
    ) -> VisitIdentity:
        told_hash = _told_hash(visit)
        news = told_hash != one.told_hash
        changed = news or visit.rest_hash != one.rest_hash
        sequence = one.sequence + news
        gone = one.leads and not (
            visit.leads and visit.told.crew_id == one.told.crew_id
        )
        taken_back = self._taken_back(one, sequence) if gone else one.taken_back
        return self._with(
            one,
            recurs=visit.recurs,
            told=visit.told,
            leads=visit.leads,
            told_hash=told_hash,
            rest_hash=visit.rest_hash,
            sequence=sequence,
            changed_at=self.at if changed else one.changed_at,
            state=state,
            visit_id=visit.visit_id,
            taken_back=tuple(
                entry
                for entry in taken_back
                if not (visit.leads and entry.told.crew_id == visit.told.crew_id)
            ),
        )

    def _taken_back(self, one: VisitIdentity, sequence: int) -> tuple[TakenBack, ...]:
        """Add the entry that its crew had, which is to be shown as cancelled."""
        if not one.leads:
            return one.taken_back
        others = (e for e in one.taken_back if e.told.crew_id != one.told.crew_id)
        return (*others, TakenBack(at=self.at, told=one.told, sequence=sequence))

    def _with(self, one: VisitIdentity, **fields: object) -> VisitIdentity:
        return one.model_copy(update={"issue_number": self.number} | fields)


def _told_hash(visit: ToldVisit) -> str:
    """Digest what an entry must tell: the visit, whether it is one, and its round."""
    told = [visit.told, *visit.followers]
    text = json.dumps(
        [visit.leads, [each.model_dump(mode="json") for each in told]],
        separators=(",", ":"),
    )
    return sha256(text.encode()).hexdigest()
