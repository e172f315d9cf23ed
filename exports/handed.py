"""A roster as it is handed out: as a numbered issue, or as a draft that is none yet."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from models.local_clock import LocalClock
from models.records import ChangeList, Roster, TakenBack, VisitIdentity

DRAFT = "DRAFT"


@dataclass(frozen=True)
class Handed:
    """Which issue a roster is, when it came out, and what people know its visits by.

    Attributes
    ----------
    number : int or None
        Of the issue; None for a draft.
    at : datetime
        When it was published. A draft has no such time: its week's start stands for
        it, so that the same roster gives the same bytes.
    identities : tuple of VisitIdentity
        Of an issue, with one for every visit.
    taken_back : tuple
        Entries that calendars have to show as cancelled, with whose they were.
    changes : ChangeList or None
        Against the issue before; None where there was none.
    """

    number: int | None
    at: datetime
    identities: tuple[VisitIdentity, ...] = ()
    taken_back: tuple[tuple[VisitIdentity, TakenBack], ...] = ()
    changes: ChangeList | None = None

    @cached_property
    def of_visit(self) -> Mapping[str, VisitIdentity]:
        """Identities by visit; empty for a draft."""
        return {one.visit_id: one for one in self.identities if one.visit_id}

    @property
    def mark(self) -> str:
        """``Issue 5``, or that it is a draft."""
        return DRAFT if self.number is None else f"Issue {self.number}"

    def words(self, clock: LocalClock) -> str:
        """``Issue 5, Thu 6 May 10:20 CEST``, or ``DRAFT, not published``."""
        when = "not published" if self.number is None else clock.day_time(self.at)
        return f"{self.mark}, {when}"


def draft(roster: Roster) -> Handed:
    """Hand out a roster as a draft."""
    return Handed(None, roster.horizon.starts_at)
