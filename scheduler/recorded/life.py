"""One surface from its pour on: what was planned, what was written, what it makes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, partial

from models.errors import InputError, Problem
from models.ledger.standing import standing
from models.local_clock import LocalClock
from models.records import (
    TASK_KINDS,
    Entry,
    Gap,
    Horizon,
    Issue,
    LearnedCover,
    Pour,
    Roster,
    SiteInput,
    Surface,
    Task,
    Visit,
    WorkDone,
    WorkFailed,
    WorkStarted,
)
from scheduler.happened.begun import all_tasks
from scheduler.happened.conditions import conditions
from scheduler.happened.ledgered import weather_of
from scheduler.happened.so_far import SoFar
from scheduler.happened.visits import SeenVisit
from scheduler.recorded.book import COMMAND, Book
from scheduler.recorded.credit import Credit, credit_of
from scheduler.recorded.dryness import Done, cut, dry_gaps, uncovered
from scheduler.recorded.played import (
    Week,
    about_pour,
    as_planned,
    as_written,
    clocked_so_far,
    of_pour,
    one_pour,
)
from scheduler.recorded.weeks import Published, joined


@dataclass(frozen=True)
class Life:
    """A surface, its pour, and what of the ledger has to do with it.

    ``at`` is how far its record goes; ``entries`` are those that stand and had
    happened by then.
    """

    book: Book
    surface_id: str
    pour: Pour
    at: datetime
    entries: tuple[Entry, ...]

    @cached_property
    def so_far(self) -> SoFar:
        """What has happened of the newest issue."""
        published = [
            Published(n, roster, self.book.places[n])
            for n, roster in self.book.rosters.items()
        ]
        roster, place_of = joined(published, self.pour)
        return SoFar(self.at, roster, self.entries, place_of)

    @cached_property
    def whole(self) -> SiteInput:
        """The pour's site from its first published week on, on the newest forecast."""
        return self._one(self.book.newest, self.so_far.issue)

    @cached_property
    def now(self) -> Week:
        """The week as written, and as planned where nobody wrote."""
        return self.book.week(
            self.pour.id, self.at, "now",
            play=lambda: as_written(
                clocked_so_far(self.whole, self.so_far, self._learned()),
                self.so_far,
            ),
        )  # fmt: skip

    @cached_property
    def alone(self) -> Week:
        """The week by what was written alone."""
        return self.book.week(
            self.pour.id, self.at, "alone",
            play=lambda: as_written(self.now.clocked, self.so_far, alone=True),
        )  # fmt: skip

    @cached_property
    def planned(self) -> tuple[tuple[datetime, Week], ...]:
        """Each issue as it was planned, with when it began to count."""
        weeks = []
        for issue in self.book.issues:
            roster = self.book.rosters[issue.number]
            if self.surface_id not in {one.surface_id for one in roster.surfaces}:
                continue
            week = self.book.week(
                self.pour.id, self.at, issue.number,
                play=partial(self._planned, issue),
            )  # fmt: skip
            weeks.append((issue.published_at, week))
        return tuple(weeks)

    def _planned(self, issue: Issue) -> Week:
        written = (e for e in self.book.entries if e.number <= issue.entries_up_to)
        known = standing(written)
        roster = of_pour(self.book.rosters[issue.number], self.pour)
        places = self.book.places[issue.number]
        own = about_pour(known, self.pour)
        so_far = SoFar(issue.published_at, roster, own, places)
        learned = self.book.learned(issue, known)
        return as_planned(self._one(issue, roster), so_far, learned)

    def _learned(self) -> tuple[LearnedCover, ...]:
        happened = (e for e in self.book.standing if e.happened_at <= self.at)
        return self.book.learned(self.book.newest, tuple(happened))

    def planned_at(self, at: datetime) -> Week:
        """Give the plan that counted at an instant."""
        begun = [week for since, week in self.planned if since <= at]
        return begun[-1] if begun else self.planned[0][1]

    @cached_property
    def credit(self) -> Credit:
        """What counts as curing, as written and as planned where nobody wrote."""
        return credit_of(self.now, self.surface_id, self.gaps, self.at)

    @cached_property
    def written_credit(self) -> Credit:
        """What counts by what was written alone."""
        gaps = self._gaps(self.alone, [d for d in self._done if d.is_written])
        return credit_of(self.alone, self.surface_id, gaps, self.at)

    @cached_property
    def gaps(self) -> tuple[Gap, ...]:
        """When it was dry: by the clock, found so until wetted, and uncovered."""
        return self._gaps(self.now, self._done)

    def _gaps(self, week: Week, done: Sequence[Done]) -> tuple[Gap, ...]:
        found = conditions(self.own_entries)
        dry = sorted(self.found_at(e) for e, condition in found if condition == "dry")
        grid = week.clocked.hydration.grid
        bare = uncovered(self.surface_id, done, self.at, grid.at(grid.steps))
        known = (*cut(week.gaps(self.surface_id), bare), *bare)
        return dry_gaps(self.surface_id, known, dry, done, self.at)

    @cached_property
    def _done(self) -> list[Done]:
        """Visits to the surface that nobody wrote off, with their tasks."""
        return [
            Done(one, task)
            for one in self.so_far.seen
            if one.visit.surface_id == self.surface_id
            and not one.is_failed
            and (task := self.tasks.get(one.visit.task_id)) is not None
        ]

    @property
    def is_over(self) -> bool:
        """Whether curing is over."""
        ends_at = self.credit.ends_at
        return ends_at is not None and ends_at <= self.at

    @property
    def until(self) -> datetime:
        """How far proofs go: to the end of curing, or of the record."""
        ends_at = self.credit.ends_at
        return self.at if ends_at is None else min(self.at, ends_at)

    @property
    def surface(self) -> Surface:
        """The surface as it is known now."""
        return self.now.surface(self.surface_id)

    @cached_property
    def clock(self) -> LocalClock:
        """The clock on the site's wall."""
        return LocalClock(self.book.site_input.site.timezone)

    @cached_property
    def tasks(self) -> Mapping[str, Task]:
        """Tasks of the surface by id, those of the newest issue and those done."""
        works = (
            *(w for w in self.so_far.issue.surfaces if w.surface_id == self.surface_id),
            self.now.work(self.surface_id),
        )
        return {task.id: task for work in works for task in all_tasks(work)}

    @cached_property
    def seen(self) -> tuple[SeenVisit, ...]:
        """Visits to the surface that began before the record ends, or were written."""
        return tuple(
            one
            for one in self.so_far.seen
            if one.visit.surface_id == self.surface_id
            and (one.entry is not None or one.visit.starts_at < self.until)
        )

    @cached_property
    def unwritten(self) -> tuple[SeenVisit, ...]:
        """Planned visits of which nobody wrote though they were due."""
        horizon = self.now.roster.horizon
        counted = {_key(visit, horizon) for visit in self.now.roster.visits}
        return tuple(
            one
            for one in self.seen
            if one.entry is None and _key(one.visit, horizon) in counted
        )

    @cached_property
    def unplanned_failures(self) -> tuple[Entry, ...]:
        """Entries of work not done that belong to no visit of the newest issue."""
        told = {one.entry.number for one in self.seen if one.entry is not None}
        return tuple(
            entry
            for entry in self.own_entries
            if isinstance(entry.values, WorkFailed) and entry.number not in told
        )

    @property
    def own_entries(self) -> tuple[Entry, ...]:
        """Entries about the surface itself."""
        return tuple(e for e in self.entries if e.about == self.surface_id)

    def found_at(self, entry: Entry) -> datetime:
        """Say when somebody looked: before the work, where it was work."""
        for one in self.so_far.seen:
            number = None if one.entry is None else one.entry.number
            if number == entry.number and entry.kind != "found":
                return one.visit.starts_at
        return entry.happened_at

    def last(self, about: str, *kinds: str) -> Entry | None:
        """Give the newest entry of some kinds about something."""
        found = [e for e in self.entries if e.about == about and e.kind in kinds]
        return found[-1] if found else None

    def work_words(self, one: SeenVisit) -> str:
        """Say what a visit does: ``RE-WET``."""
        task = self.tasks.get(one.visit.task_id)
        if task is not None:
            return task.facts.verb
        values = one.entry.values if one.entry is not None else None
        assert isinstance(values, WorkDone | WorkStarted | WorkFailed)
        return TASK_KINDS[values.work].verb

    def planned_start(self, one: SeenVisit) -> datetime | None:
        """Say when a visit was planned by the issue whose sheet was filled in."""
        values = one.entry.values if one.entry is not None else None
        if isinstance(values, WorkDone | WorkStarted | WorkFailed):
            roster = self.book.rosters.get(values.issue_number or 0)
            for visit in roster.visits if roster is not None else ():
                if visit.id == values.visit_id:
                    return visit.starts_at
        by_id = {visit.id: visit for visit in self.so_far.issue.visits}
        own = by_id.get(one.visit.id)
        return None if own is None else own.starts_at

    def _one(self, issue: Issue, roster: Roster) -> SiteInput:
        weather = weather_of(issue)
        return one_pour(self.book.site_input, self.pour, roster, weather, self.at)


def life_of(book: Book, surface_id: str, at: datetime) -> Life:
    """Gather what there is about a surface, up to an instant.

    Raises
    ------
    InputError
        If the surface is unknown, its pour called off, or nothing is placed by then.
    """
    pour = book.pour_of(surface_id)
    happened = (e for e in book.standing if e.happened_at <= at and e.kind != "signed")
    life = Life(book, surface_id, pour, at, about_pour(happened, pour))
    off = life.last(pour.id, "cancelled")
    if off is not None:
        found = f"{pour.id}, called off (entry {off.number})"
        raise InputError([Problem(COMMAND, "surface", found, "a pour that was placed")])
    ends_at = life.so_far.facts(life.whole).pours[0].placing_ends_at
    if ends_at > at:
        when = life.clock.day_time(ends_at)
        found = f"{pour.id}, not placed before {when}"
        wanted = f"a pour placed by {life.clock.day_time(at)}"
        hint = "Say a later time with --at, or write down when it was placed"
        raise InputError([Problem(COMMAND, "surface", found, wanted, hint)])
    return life


def _key(visit: Visit, horizon: Horizon) -> tuple[str, str, int]:
    return visit.task_id, visit.crew_id, horizon.minute(visit.starts_at)
