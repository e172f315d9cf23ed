"""Whether the parties of a gang can be of use: who they are, how many, when."""

from collections.abc import Iterable
from typing import Any

from models.files.reading.gather import Gatherer
from models.files.reading.record_reader import Entry
from models.files.reading.references import check_unique
from models.files.reading.words import one_of
from models.records import Crew, Party

Entries = tuple[Entry[Any], ...]


def check_parties(crews: Entries, shifts: Entries, gather: Gatherer) -> None:
    """Keep a problem for each party that its gang cannot spare or nobody can use.

    Ids name sheets and calendars, so those of crews and parties are one series.
    """
    parties = [party for crew in crews for party in crew.inner["party"]]
    if parties:
        check_unique((*_each_once(crews), *parties), gather)
    called = {s.text("id") for s in shifts if s.record and s.record.on_call}
    for crew in crews:
        if isinstance(crew.record, Crew) and crew.record.parties:
            _check_gang(crew, crew.record, called, gather)


def _each_once(crews: Entries) -> Iterable[Entry[Any]]:
    """Leave out what has been said already: crews with the id of another crew."""
    first: dict[str, Entry[Any]] = {}
    for crew in crews:
        first.setdefault(crew.text("id"), crew)
    return first.values()


def _check_gang(
    entry: Entry[Any], crew: Crew, called: set[str], gather: Gatherer
) -> None:
    inner = entry.inner["party"]
    if len(inner) < 2:
        only = inner[0]
        gather.add(
            only.place(""), only.label.rstrip(), f"one party in '{crew.id}'",
            "two or more in a gang, or none",
        )  # fmt: skip
    free = crew.people
    for party, record in zip(inner, crew.parties, strict=True):
        if record.people > free:
            gather.add(
                party.place("people"), f"{party.label}people", str(record.people),
                f"at most the {free} that are left of the {crew.people} of "
                f"'{crew.id}'",
            )  # fmt: skip
        free = max(0, free - record.people)
        _check_skills(party, record, crew, gather)
    if called.issuperset(crew.shifts):
        gather.add(
            entry.place("shifts"), f"{entry.label}shifts", "shifts on call alone",
            "a shift that is worked too: on call a gang comes as a whole",
        )  # fmt: skip


def _check_skills(
    entry: Entry[Any], party: Party, crew: Crew, gather: Gatherer
) -> None:
    for skill in party.skills:
        if skill not in crew.skills:
            gather.add(
                entry.place("skills"), f"{entry.label}skills", f"'{skill}'",
                f"a skill of its gang, {one_of(crew.skills)}",
            )  # fmt: skip
