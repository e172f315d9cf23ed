"""Which covers lie when a new week begins: laid and wetted as it happened before."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from models.records import PARTS, Face, Pour, Reported, Roster
from scheduler.happened.begun import all_tasks
from scheduler.happened.visits import SeenVisit


@dataclass(frozen=True)
class Laid:
    """When the cover of a surface was on, and when it was last wetted after that."""

    covered_at: datetime | None = None
    wetted_at: datetime | None = None


class CoversLaid:
    """Covers of an issue's surfaces at an instant.

    Parameters
    ----------
    issue : Roster
        The issue's.
    seen : sequence of SeenVisit
        Its visits as they happened, in order of start.
    known : sequence of Reported
        What was known already of edges and faces when it was planned.
    at : datetime
        The instant.
    """

    def __init__(
        self,
        issue: Roster,
        seen: Sequence[SeenVisit],
        known: Sequence[Reported],
        at: datetime,
    ) -> None:
        self._at = at
        self._tasks = {
            task.id: task for one in issue.surfaces for task in all_tasks(one)
        }
        self._known: Mapping[str, Reported] = {one.surface_id: one for one in known}
        self._seen: defaultdict[str, list[SeenVisit]] = defaultdict(list)
        for one in seen:
            if one.visit.starts_at < at and not one.is_failed:
                self._seen[one.visit.surface_id].append(one)

    def on(self, pour: Pour) -> tuple[Pour, tuple[Reported, ...]]:
        """Give a pour with the times of its top's cover, and those of its others."""
        top = self._laid(pour, "top", Laid(pour.covered_at, pour.wetted_at))
        faces = []
        others: tuple[Face, ...] = ("edges", "formed")
        for face in others:
            known = self._known.get(_surface_id(pour, face))
            was = Laid() if known is None else Laid(known.covered_at, known.wetted_at)
            laid = self._laid(pour, face, was)
            if laid.covered_at is not None:
                faces.append(
                    Reported(
                        surface_id=_surface_id(pour, face),
                        covered_at=laid.covered_at,
                        wetted_at=laid.wetted_at,
                    )
                )
        times = {"covered_at": top.covered_at, "wetted_at": top.wetted_at}
        return pour.model_copy(update=times), tuple(faces)

    def waiting(self, pour: Pour, others: Iterable[Reported]) -> Iterator[str]:
        """Name surfaces that air reaches and that nobody has covered as asked.

        Parameters
        ----------
        pour : Pour
            As :meth:`on` gives it.
        others : iterable of Reported
            Its edges and faces that are covered.
        """
        covered = {one.surface_id for one in others}
        if pour.covered_at is not None:
            covered.add(_surface_id(pour, "top"))
        asked = {t.surface_id for t in self._tasks.values() if t.covers} - covered
        for face in PARTS:
            at, surface_id = _exposed_at(pour, face), _surface_id(pour, face)
            if at is not None and at < self._at and surface_id in asked:
                yield surface_id

    def _laid(self, pour: Pour, face: Face, laid: Laid) -> Laid:
        exposed_at = _exposed_at(pour, face)
        if exposed_at is None:
            return Laid()
        for one in self._seen[_surface_id(pour, face)]:
            visit, task = one.visit, self._tasks[one.visit.task_id]
            if one.entry is None and visit.starts_at < exposed_at:
                continue  # planned before the pour slipped, and nobody says it was done
            ends_at = min(visit.ends_at, self._at)
            if task.facts.lifts:
                laid = Laid()
            elif task.covers and laid.covered_at is None:
                laid = Laid(ends_at)
            elif task.refills and laid.covered_at is not None:
                last_at = max(ends_at, laid.wetted_at or laid.covered_at)
                laid = Laid(laid.covered_at, last_at)
        return laid


def _surface_id(pour: Pour, face: Face) -> str:
    return f"{pour.id}-{PARTS[face]}"


def _exposed_at(pour: Pour, face: Face) -> datetime | None:
    if face == "top":
        return pour.placing_ends_at
    return pour.strike_at if face == "formed" else pour.edge_strike_at
