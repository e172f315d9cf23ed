"""What a site knows when something is handed in: its folder and its ledger so far."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property

from pydantic import ValidationError

from models.files.reading.local_time import LocalTime
from models.ledger.standing import standing
from models.ledger.store import Store
from models.records import (
    PARTS,
    Entry,
    Face,
    IssueHead,
    NewEntry,
    PlacingStarted,
    Pour,
    Roster,
    Site,
    SiteInput,
    Slipped,
    TaskKind,
)


@dataclass(frozen=True)
class KnownSurface:
    """A surface that something may be written about.

    ``pour_id`` is "" where only an issue still knows it: its pour is weeks old.
    """

    area_m2: float
    pour_id: str = ""


@dataclass(frozen=True)
class KnownVisit:
    """A visit of an issue, with the id that people's calendars know it by."""

    surface_id: str
    task_id: str
    kind: TaskKind
    starts_at: datetime
    identity_id: str


@dataclass(frozen=True)
class Known:
    """A site and its ledger, as they are when something is handed in."""

    site_input: SiteInput
    store: Store | None = None
    _visits: dict[int, dict[str, KnownVisit]] = field(default_factory=dict)

    @property
    def site(self) -> Site:
        """The site."""
        return self.site_input.site

    @cached_property
    def local(self) -> LocalTime:
        """The clock of the site."""
        return LocalTime(self.site.timezone)

    @cached_property
    def pours(self) -> Mapping[str, Pour]:
        """Pours of the folder by id."""
        return {pour.id: pour for pour in self.site_input.pours}

    @cached_property
    def surfaces(self) -> Mapping[str, KnownSurface]:
        """Surfaces of the folder, and older ones that the newest issue still has."""
        roster = self._roster(self.newest.number) if self.newest else None
        older = {
            work.surface_id: KnownSurface(work.area_m2)
            for work in (roster.surfaces if roster else ())
        }
        here = (one for pour in self.pours.values() for one in _surfaces(pour))
        return older | dict(here)

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        """All entries so far."""
        return self.store.entries() if self.store else ()

    @cached_property
    def standing(self) -> tuple[Entry, ...]:
        """Entries that nothing corrects."""
        return standing(self.entries)

    @cached_property
    def newest(self) -> IssueHead | None:
        """The issue that counts now."""
        issues = self.store.issues() if self.store else ()
        return issues[-1] if issues else None

    def visits(self, issue_number: int) -> Mapping[str, KnownVisit]:
        """Visits of an issue by the ids that its sheets have."""
        if issue_number not in self._visits:
            self._visits[issue_number] = dict(self._visits_of(issue_number))
        return self._visits[issue_number]

    def _roster(self, issue_number: int) -> Roster | None:
        """Give the roster of an issue; None if an older version wrote it."""
        issue = self.store.issue(issue_number) if self.store else None
        try:
            return Roster.model_validate_json(issue.roster) if issue else None
        except ValidationError:
            return None

    def _visits_of(self, issue_number: int) -> Iterator[tuple[str, KnownVisit]]:
        roster = self._roster(issue_number)
        if roster is None or self.store is None:
            return
        kinds = {
            task.id: task.kind
            for work in roster.surfaces
            for task in (*work.tasks, *((work.rewet,) if work.rewet else ()))
        }
        ids = {one.visit_id: one.id for one in self.store.visits(issue_number)}
        for visit in roster.visits:
            yield (
                visit.id,
                KnownVisit(
                    visit.surface_id,
                    visit.task_id,
                    kinds[visit.task_id],
                    visit.starts_at,
                    ids.get(visit.id, ""),
                ),
            )


def placing_starts(pour: Pour, happened: Iterable[NewEntry]) -> datetime:
    """Give when placing begins: as reported, else as last put off, else as planned."""
    reported, put_off = [], [pour.placing_starts_at]
    for entry in happened:
        if entry.about == pour.id and isinstance(entry.values, PlacingStarted):
            reported.append(entry.happened_at)
        elif entry.about == pour.id and isinstance(entry.values, Slipped):
            put_off.append(entry.values.starts_at)
    return reported[-1] if reported else put_off[-1]


def _surfaces(pour: Pour) -> Iterator[tuple[str, KnownSurface]]:
    areas: dict[Face, float] = {
        "top": pour.area_m2,
        "edges": pour.edge_area_m2,
        "formed": pour.formed_area_m2,
    }
    for face, area_m2 in areas.items():
        if area_m2:
            yield f"{pour.id}-{PARTS[face]}", KnownSurface(area_m2, pour.id)
