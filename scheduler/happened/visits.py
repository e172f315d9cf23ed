"""The visits of a published roster as they happened."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.records import (
    TASK_KINDS,
    Entry,
    Found,
    Roster,
    SurfaceWork,
    Task,
    Visit,
    WorkDone,
    WorkFailed,
    WorkStarted,
)


@dataclass(frozen=True)
class SeenVisit:
    """A visit, and what is known of it.

    ``entry`` is the newest entry about it; None where nobody wrote any.
    """

    visit: Visit
    entry: Entry | None = None

    @property
    def is_failed(self) -> bool:
        """Whether somebody wrote that it was not done."""
        return self.entry is not None and isinstance(self.entry.values, WorkFailed)


def as_happened(
    roster: Roster,
    entries: Sequence[Entry],
    place_of: Mapping[str, str],
    taken_up: int = 0,
) -> tuple[SeenVisit, ...]:
    """Give every visit of a roster with what was written of it.

    Parameters
    ----------
    roster : Roster
        The newest published one.
    entries : sequence of Entry
        Those that stand, in order of number.
    place_of : mapping
        Identity -> visit id in that roster. Entries name visits by identity where
        they can; a visit id of an older issue may be another visit's now.
    taken_up : int
        Number of the last entry that the roster was planned with: the work that
        nobody had planned until then stands in it.

    Returns
    -------
    tuple of SeenVisit
        At the times that were written, in order of start; last the work that nobody
        had planned, by whoever is at work there then.
    """
    by_id = {visit.id: visit for visit in roster.visits}
    told: dict[str, Entry] = {}
    unplanned: list[Entry] = []
    for entry in entries:
        values = entry.values
        new = entry.number > taken_up
        if isinstance(values, Found) and values.litres_l and new:
            unplanned.append(entry)
        if not isinstance(values, WorkStarted | WorkDone | WorkFailed):
            continue
        named = values.identity_id
        # A visit that this roster has no more is none of it, whatever its old id was.
        visit_id = place_of.get(named, "") if named else values.visit_id
        if visit_id in by_id:
            told[visit_id] = entry
        elif not isinstance(values, WorkFailed) and new:
            unplanned.append(entry)
    seen = [
        SeenVisit(_at_its_time(visit, told.get(visit.id)), told.get(visit.id))
        for visit in roster.visits
    ]
    seen += _not_planned(roster, unplanned)
    return tuple(sorted(seen, key=lambda one: (one.visit.starts_at, one.visit.id)))


def _at_its_time(visit: Visit, entry: Entry | None) -> Visit:
    """Move a visit to when it was done; it takes as long as planned."""
    if entry is None or isinstance(entry.values, WorkFailed):
        return visit
    starts_at = started_at(entry, visit)
    ends_at = starts_at + (visit.ends_at - visit.starts_at)
    return visit.model_copy(update={"starts_at": starts_at, "ends_at": ends_at})


def started_at(entry: Entry, visit: Visit) -> datetime:
    """Say when work began that somebody wrote down as started or done."""
    if isinstance(entry.values, WorkStarted):
        return entry.happened_at
    if isinstance(entry.values, WorkDone) and entry.values.started_at is not None:
        return entry.values.started_at
    return entry.happened_at - (visit.ends_at - visit.starts_at)


def _not_planned(roster: Roster, entries: Iterable[Entry]) -> Iterator[SeenVisit]:
    """Give work that no sheet had, of a task that the roster knows.

    Who did it is known by initials; it counts as of the gang that was about then.
    """
    works = {work.surface_id: work for work in roster.surfaces}
    for entry in entries:
        work = works.get(entry.about)
        task = None if work is None else _task_of(entry, work)
        if task is None or not roster.visits:
            continue
        about_then = min(
            roster.visits, key=lambda visit: abs(visit.starts_at - entry.happened_at)
        )
        length = timedelta(minutes=task.duration_min)
        visit = Visit(
            id=f"{task.id}/entry {entry.number}",
            task_id=task.id,
            surface_id=task.surface_id,
            crew_id=about_then.crew_id,
            shift_id=about_then.shift_id,
            starts_at=entry.happened_at - length,
            ends_at=entry.happened_at,
        )
        yield SeenVisit(_at_its_time(visit, entry), entry)


def _task_of(entry: Entry, work: SurfaceWork) -> Task | None:
    """Find the task that somebody did; any wetting is one of the re-wets."""
    values = entry.values
    if isinstance(values, Found):
        return work.rewet
    assert isinstance(values, WorkStarted | WorkDone | WorkFailed)
    for task in work.tasks:
        if task.id == values.task_id:
            return task
    rewets = work.rewet is not None and TASK_KINDS[values.work].rewets
    return work.rewet if rewets else None
