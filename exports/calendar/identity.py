"""Who an entry is, to a phone, and how often it was changed: nothing shows twice.

A phone knows an entry by its UID alone. That of a visit comes from its identity in the
ledger and from the crew that is told of it, so that a crew which gives a visit away
sees it cancelled while another has it. All else, and every entry of a draft, is known
by what it is: the site, its sort and the ids that tell it from its like.
"""

import unicodedata
from dataclasses import dataclass
from datetime import datetime
from typing import Literal
from uuid import UUID, uuid5

from exports.handed import Handed
from models.records import TakenBack, Team, VisitIdentity

#: Drawn once at random; never change it, or every phone sees every entry twice.
_NAMESPACE = UUID("6f0d8e52-0c43-4b1e-9a57-2b9d7c1f8e34")


@dataclass(frozen=True)
class Revision:
    """Which state of an entry this is.

    Attributes
    ----------
    sequence : int
        Higher with each change that a phone has to tell; never less.
    changed_at : datetime
        When this state came out.
    created_at : datetime or None
        When the entry first came out, where that is known.
    """

    sequence: int
    changed_at: datetime
    created_at: datetime | None = None
    status: Literal["TENTATIVE", "CONFIRMED", "CANCELLED"] = "CONFIRMED"


def uid(site_name: str, *identity: str) -> str:
    """Return the UID of an entry that has no identity of its own.

    Parameters
    ----------
    site_name : str
        So that two sites with a ``P1`` each never meet in one phone.
    *identity : str
        What the entry is: its sort, then the ids that tell it from its like.

    Returns
    -------
    str
        A UUID in text, as RFC 7986 section 5.3 recommends.
    """
    parts = [unicodedata.normalize("NFC", part) for part in (site_name, *identity)]
    # Lengths keep ("ab", "c") and ("a", "bc") apart.
    return str(uuid5(_NAMESPACE, "".join(f"{len(part)}:{part}" for part in parts)))


def visit_uid(one: VisitIdentity, doer: Team) -> str:
    """Return the UID of a visit that a crew does, or did before it was given away.

    Pairs that the lead makes up from day to day are their gang to a phone.
    """
    crew_id = doer.gang_id if doer.by_default else doer.id
    return str(uuid5(UUID(one.id), unicodedata.normalize("NFC", crew_id)))


def of_file(handed: Handed) -> Revision:
    """Give the state of entries without an identity: they are written anew each time.

    The number of the issue stands for the count of changes, which nobody keeps.
    """
    if handed.number is None:
        return Revision(0, handed.at, status="TENTATIVE")
    return Revision(handed.number, handed.at)


def of_visit(one: VisitIdentity) -> Revision:
    """Give the state of a visit's entry."""
    return Revision(one.sequence, one.changed_at, one.created_at)


def of_taken_back(one: VisitIdentity, entry: TakenBack) -> Revision:
    """Give the state of an entry that is no more."""
    return Revision(entry.sequence, entry.at, one.created_at, "CANCELLED")
