"""Who a visit is, from issue to issue: what its phones know it by, and what changed.

A visit's id in a roster is a place in that roster. Its identity is drawn once at random
and stays while the visit is moved, renumbered or given to another crew.
"""

from datetime import UTC, datetime
from typing import Literal
from uuid import UUID

from pydantic import Field, field_validator, model_validator

from models.quantities import Instant
from models.records.base import Record, require_none

ChangeKind = Literal["kept", "moved", "given", "added", "dropped"]


class Told(Record):
    """What people must be told of a visit: any change of it is news to them.

    Attributes
    ----------
    start_by_at : Instant
        The limit: latest start that is not late.
    what : str
        Verb, surface and amount, as in a calendar's title.
    place, water : str
        Zone and water point; litres and how fast, empty for none.
    """

    starts_at: Instant
    ends_at: Instant
    start_by_at: Instant
    crew_id: str
    what: str
    place: str
    water: str
    people: int

    @field_validator("starts_at", "ends_at", "start_by_at")
    @classmethod
    def _in_utc(cls, at: datetime) -> datetime:
        """Bring an instant to the one form that its digest has."""
        return at.astimezone(UTC)


class ToldVisit(Record):
    """A visit of a roster as it is to be handed out.

    Attributes
    ----------
    duty : str
        The same for all visits of a surface of which one could be another: re-wets,
        strips of one job.
    recurs : bool
        The duty comes round again and again; others are done once, maybe in parts.
    leads : bool
        It has an entry of its own in its crew's calendar; False where it is a line in
        the round of another visit.
    followers : tuple of Told
        Visits that are lines in its round.
    rest_hash : str
        Of all else that its entry says.
    """

    visit_id: str
    surface_id: str
    duty: str
    recurs: bool
    told: Told
    leads: bool = True
    followers: tuple[Told, ...] = ()
    rest_hash: str = ""


class TakenBack(Record):
    """An entry that a crew's calendar had, and has no more.

    Attributes
    ----------
    told : Told
        As that crew knew it.
    sequence : int
        Above that of the entry when it was last shown.
    """

    at: Instant
    told: Told
    sequence: int = Field(ge=1)


class VisitIdentity(Record):
    """A visit through all issues of a site.

    Attributes
    ----------
    id : str
        A random UUID in text; never given to other work.
    issue_number : int
        The newest issue that says something of it.
    born_in : int
        Number of the issue that first had it.
    told : Told
        As people know it: by the newest issue that had it.
    recurs, leads : bool
        As in :class:`ToldVisit`.
    sequence : int
        One more with each change of what is told; never less.
    told_hash, rest_hash : str
        Of what its entry must tell, and of all else in it.
    created_at, changed_at : Instant
        When the issue came out that first had it, and that last changed it.
    state : str
        ``done`` and ``cancelled`` are for ever.
    visit_id : str or None
        In the newest issue; None where that does not have it.
    taken_back : tuple of TakenBack
        At most one for each crew.
    """

    id: str
    issue_number: int = Field(ge=1)
    born_in: int = Field(ge=1)
    surface_id: str
    duty: str
    recurs: bool
    told: Told
    leads: bool
    sequence: int = Field(0, ge=0)
    told_hash: str
    rest_hash: str
    created_at: Instant
    changed_at: Instant
    state: Literal["planned", "done", "cancelled"] = "planned"
    visit_id: str | None
    taken_back: tuple[TakenBack, ...] = ()

    @field_validator("id")
    @classmethod
    def _uuid(cls, text: str) -> str:
        """Bring the id to the one form of a UUID in text."""
        return str(UUID(text))

    @model_validator(mode="after")
    def _in_order(self) -> "VisitIdentity":
        if self.born_in > self.issue_number:
            require_none([("born_in", "an issue up to its own")])
        return self


class VisitChange(Record):
    """What became of a visit from one issue to the next.

    ``kept`` is its start and its crew; limit, water or people may be others.
    """

    kind: ChangeKind
    identity_id: str
    surface_id: str
    visit_id: str | None
    was: Told | None
    now: Told | None

    @property
    def news(self) -> bool:
        """Whether somebody has to hear of it."""
        return self.was != self.now

    def concerns(self, crew_id: str) -> bool:
        """Whether it was or is a visit of a crew."""
        return any(told and told.crew_id == crew_id for told in (self.was, self.now))


class ChangeList(Record):
    """All that became of the visits of an earlier issue, in order of time."""

    since: int = Field(ge=1, description="number of the earlier issue")
    changes: tuple[VisitChange, ...]
