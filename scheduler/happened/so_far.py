"""All that is known of a published week at an instant: what its plan takes up."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime

from models.drying import clock as drying_clock
from models.records import (
    Entry,
    LearnedCover,
    PlannedPours,
    Roster,
    SiteInput,
    Surface,
    Weather,
    WorkList,
)
from scheduler.clocked import Clocked, clock
from scheduler.happened.begun import all_tasks, with_begun
from scheduler.happened.conditions import found_factors
from scheduler.happened.facts import taken_up
from scheduler.happened.handed_out import published_in
from scheduler.happened.learning import covered_as_learned, learned_from
from scheduler.happened.visits import SeenVisit, as_happened
from scheduler.methods.surfaces import surfaces_of


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
    taken_up : int
        Number of the last entry that the issue was planned with.
    published_at : datetime or None
        When the issue came out.
    pours : PlannedPours
        The issue was planned with; none of an issue that kept none.
    weather : Weather or None
        It was planned on.
    """

    at: datetime
    issue: Roster
    entries: tuple[Entry, ...] = ()
    place_of: Mapping[str, str] = field(default_factory=dict)
    issue_number: int = 0
    entries_up_to: int = 0
    taken_up: int = 0
    published_at: datetime | None = None
    pours: PlannedPours = field(default_factory=PlannedPours)
    weather: Weather | None = None

    @property
    def seen(self) -> tuple[SeenVisit, ...]:
        """Give the issue's visits as they happened."""
        return as_happened(self.issue, self.entries, self.place_of, self.taken_up)

    def facts(self, site_input: SiteInput) -> SiteInput:
        """Put what happened in the place of what the folder planned."""
        return taken_up(site_input, self.entries)

    def learned_on(self, site_input: SiteInput) -> tuple[LearnedCover, ...]:
        """Learn from finds on a site folder as it was read."""
        facts = self.facts(site_input)
        return self.learned(clock(facts, surfaces_of(facts)))

    def learned(self, clocked: Clocked) -> tuple[LearnedCover, ...]:
        """Learn from finds how fast covers dry; clocks as before anything was."""
        surfaces = clocked.surfaces
        return learned_from(
            clocked.site_input,
            surfaces,
            clocked.drying,
            self.entries,
            self._full_at(surfaces),
        )

    def with_finds(
        self, clocked: Clocked, learned: tuple[LearnedCover, ...] | None = None
    ) -> Clocked:
        """Let covers dry as they were found to: as learned, and stretch by stretch.

        What is learned of a kind holds for all its surfaces, and what was found of one
        stretch for that stretch.

        Parameters
        ----------
        learned : tuple of LearnedCover or None
            What is known already, where ``clocked`` is only a part of the site.
        """
        if learned is None:
            learned = self.learned(clocked)
        if not learned:
            return clocked
        taught = tuple(covered_as_learned(one, learned) for one in clocked.surfaces)
        clocked = _dried(clocked, taught)
        factors = found_factors(clocked.drying, self.entries, self._full_at(taught))
        found = tuple(
            one.model_copy(
                update={"loss_factors": (*factors[one.id], *one.loss_factors)}
            )
            if one.id in factors
            else one
            for one in taught
        )
        return _dried(clocked, found)

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
            # Between the two it may have been wetted often; the later one is sure.
            known = surface.wetted_at or surface.covered_at
            full_at[surface.id] += [] if known is None else [known]
        tasks = {
            task.id: task for one in self.issue.surfaces for task in all_tasks(one)
        }
        for one in self.seen:
            task = tasks[one.visit.task_id]
            if not one.is_failed and (task.refills or task.covers):
                full_at[one.visit.surface_id].append(one.visit.ends_at)
        return full_at


def _dried(clocked: Clocked, surfaces: tuple[Surface, ...]) -> Clocked:
    """Run the drying clock again under other covers; they are as warm as before."""
    drying = drying_clock.run(
        surfaces, clocked.site_input, clocked.around, clocked.hydration
    )
    return replace(clocked, surfaces=surfaces, drying=drying)
