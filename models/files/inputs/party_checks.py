"""Whether the parties of a gang can be of use: who they are, how many, when."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.files.reading.references import check_unique
from models.records import Crew, Horizon, Party
from models.wording import one_of

Entries = tuple[RawEntry[Any], ...]


def check_parties(crews: Entries, shifts: Entries, problems: ProblemCollector) -> None:
    """Refuse each party that its gang cannot spare or that nobody could call on.

    Ids name sheets and calendars, so no crew and no party may share one.
    """
    parties = [party for crew in crews for party in crew.inner["party"]]
    if parties:
        check_unique((*_each_once(crews), *parties), problems)
    called = {s.text("id") for s in shifts if s.record and s.record.on_call}
    for crew in crews:
        if isinstance(crew.record, Crew) and crew.record.parties:
            _check_gang(crew, crew.record, called, problems)


def check_busy(
    crews: Entries, horizon: Horizon, local: LocalTime, problems: ProblemCollector
) -> None:
    """Refuse other work that begins after the plan; what is past may stand."""
    for crew in crews:
        inner = crew.inner.get("party", ())
        for entry in (one for own in (crew, *inner) for one in own.inner["busy"]):
            begins_at = entry.values.get("from_at")
            if isinstance(begins_at, datetime) and begins_at >= horizon.ends_at:
                entry.refuse(
                    problems, "from", local.words(begins_at),
                    f"a time before the plan ends, {local.words(horizon.ends_at)}",
                )  # fmt: skip


def _each_once(crews: Entries) -> Iterable[RawEntry[Any]]:
    """Leave out crews whose id is refused already: that of another crew."""
    first: dict[str, RawEntry[Any]] = {}
    for crew in crews:
        first.setdefault(crew.text("id"), crew)
    return first.values()


def _check_gang(
    entry: RawEntry[Any], crew: Crew, called: set[str], problems: ProblemCollector
) -> None:
    inner = entry.inner["party"]
    if len(inner) < 2:
        wanted = "two or more parties in a gang, or none"
        inner[0].refuse(problems, "", f"one party in '{crew.id}'", wanted)
    free = crew.people
    for party, record in zip(inner, crew.parties, strict=True):
        if record.people > free:
            wanted = f"at most the {free} left of the {crew.people} of '{crew.id}'"
            party.refuse(problems, "people", str(record.people), wanted)
        free = max(0, free - record.people)
        _check_skills(party, record, crew, problems)
    if called.issuperset(crew.shifts):
        wanted = "a regular shift too: on call a gang comes as a whole, not in parties"
        entry.refuse(problems, "shifts", "only on-call shifts", wanted)


def _check_skills(
    entry: RawEntry[Any], party: Party, crew: Crew, problems: ProblemCollector
) -> None:
    for skill in party.skills:
        if skill not in crew.skills:
            wanted = f"a skill of its gang, {one_of(crew.skills)}"
            entry.refuse(problems, "skills", f"'{skill}'", wanted)
