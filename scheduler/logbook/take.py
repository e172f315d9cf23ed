"""Rows that people hand in, taken whole or refused whole."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.records import LogRow, NewEntry
from scheduler.logbook.desk import Desk
from scheduler.logbook.known import Known
from scheduler.logbook.sense import objections


@dataclass(frozen=True)
class HandedIn:
    """Entries for the ledger, and how many rows it had already, word for word."""

    entries: tuple[NewEntry, ...]
    known_already: int = 0


def take(
    rows: Sequence[RawEntry[LogRow]],
    known: Known,
    now: datetime,
    problems: ProblemCollector,
    *,
    at_once: bool = False,
) -> HandedIn:
    """Make entries of rows; what is wrong with any of them is kept.

    Parameters
    ----------
    now : datetime
        When they are handed in.
    at_once : bool
        A row without a time is about now; else a time is asked for.
    """
    read = [(row, Desk(row, known, now, problems, at_once).entry()) for row in rows]
    sound = [(row, entry) for row, entry in read if entry is not None]
    replaced = {entry.corrects for _, entry in sound}
    standing = [one for one in known.standing if one.number not in replaced]
    written = {_said(one) for one in standing}
    fresh = [(row, entry) for row, entry in sound if _said(entry) not in written]
    for row, entry in fresh:
        others = [*standing, *(other for _, other in fresh if other is not entry)]
        for key, found, wanted, hint in objections(entry, others, known, now):
            row.refuse(problems, key, found, wanted, hint)
    return HandedIn(tuple(entry for _, entry in fresh), len(sound) - len(fresh))


def _said(entry: NewEntry) -> tuple[object, ...]:
    """Give what an entry says, to tell whether the same was said before."""
    return entry.about, entry.happened_at, entry.by, entry.note, entry.values
