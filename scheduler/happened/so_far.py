"""All that is known of a published week at an instant: what its plan takes up."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from models.records import (
    DryingHistory,
    Entry,
    Reported,
    Roster,
    SiteInput,
    Surface,
    WorkList,
)
from scheduler.happened.begun import all_tasks, with_begun
from scheduler.happened.conditions import found_factors
from scheduler.happened.facts import taken_up
from scheduler.happened.handed_out import published_in
from scheduler.happened.visits import SeenVisit, as_happened


@dataclass(frozen=True)
class SoFar:
    """A published week up to an instant.

    Attributes
    ----------
    at : datetime
        What starts before has begun.
    issue : Roster
        The newest published one.
    entries : tuple of Entry
        Those that stand, in order of number.
    place_of : mapping
        Identity of a visit -> its id in the issue's roster.
    issue_number, entries_up_to : int
        Of the issue, and of the last entry in the ledger.
    """

    at: datetime
    issue: Roster
    entries: tuple[Entry, ...] = ()
    place_of: Mapping[str, str] = field(default_factory=dict)
    issue_number: int = 0
    entries_up_to: int = 0

    @property
    def seen(self) -> tuple[SeenVisit, ...]:
        """Give the issue's visits as they happened."""
        return as_happened(self.issue, self.entries, self.place_of)

    def facts(self, site_input: SiteInput) -> SiteInput:
        """Put what happened in the place of what the folder planned."""
        return taken_up(site_input, self.entries)

    def with_finds(
        self,
        site_input: SiteInput,
        surfaces: tuple[Surface, ...],
        drying: DryingHistory,
    ) -> SiteInput:
        """Let covers dry as they were found to, once the clock has run without."""
        factors = found_factors(drying, self.entries, self._full_at(surfaces))
        if not factors:
            return site_input
        reported = {one.surface_id: one for one in site_input.reported}
        for surface_id, own in factors.items():
            known = reported.get(surface_id, Reported(surface_id=surface_id))
            both = (*own, *known.loss_factors)
            reported[surface_id] = known.model_copy(update={"loss_factors": both})
        return site_input.model_copy(update={"reported": tuple(reported.values())})

    def of(self, work: WorkList) -> WorkList:
        """Fix what has begun, and ask for the rest to stay near what was published."""
        work = with_begun(work, self.issue, self.seen, self.at)
        told = published_in(work.horizon, self.issue, work.begun_until_min)
        if not (told.visits or work.begun):
            return work  # the issue was of another week
        return work.model_copy(update={"published": told})

    def _full_at(
        self, surfaces: tuple[Surface, ...]
    ) -> defaultdict[str, list[datetime]]:
        """List when each cover was full: laid, or wetted."""
        full_at: defaultdict[str, list[datetime]] = defaultdict(list)
        for surface in surfaces:
            known = (surface.covered_at, surface.wetted_at)
            full_at[surface.id] += [at for at in known if at is not None]
        tasks = {
            task.id: task for one in self.issue.surfaces for task in all_tasks(one)
        }
        for one in self.seen:
            task = tasks[one.visit.task_id]
            if not one.is_failed and (task.refills or task.covers):
                full_at[one.visit.surface_id].append(one.visit.ends_at)
        return full_at
