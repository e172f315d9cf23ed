"""A planned week as the rules see it: visits with their tasks, crews, courses, words.

The audit's own account of shifts, parties, walks and bans is shared; the drying is
followed anew (``course.py``), since the rules ask what would be without a visit.
"""

from collections.abc import Iterable
from functools import cached_property
from pathlib import Path

from models.files.published import own_roster, read_roster
from models.local_clock import WeekClock
from models.records import (
    AuditReport,
    Roster,
    SiteInput,
    SurfaceWork,
    Task,
    Team,
)
from scheduler import api
from scheduler.audit.checks.heat_bans import ban_spans
from scheduler.audit.replayed.jobs import Job, by_surface, jobs_of
from scheduler.audit.replayed.parties import Turn, turns_by_hand
from scheduler.audit.replayed.water import WaterSimulation, simulate_water
from scheduler.audit.replayed.windows import CrewWindow, crew_windows, placed, walk_min
from scheduler.clocked import run_clocks
from scheduler.workflow import audit
from tests.bench.sense.course import Course, follow


class Week:
    """One site's roster, ready to be asked."""

    def __init__(
        self, site_input: SiteInput, roster: Roster, report: AuditReport
    ) -> None:
        self.site, self.roster, self.report = site_input.site, roster, report
        self.clock = WeekClock(self.site.timezone, roster.horizon)
        self.length_min = roster.horizon.length_min
        self.works: dict[str, SurfaceWork] = {w.surface_id: w for w in roster.surfaces}
        self.jobs: tuple[Job, ...] = jobs_of(roster, self.clock)[0]
        grouped = by_surface(self.jobs)
        self.on: dict[str, list[Job]] = {s: grouped.get(s, []) for s in self.works}
        self.teams: dict[str, Team] = {team.id: team for team in self.site.teams}
        self.windows: tuple[CrewWindow, ...] = crew_windows(self.site, self.clock)
        self.turns: list[Turn] = placed(self.jobs, self.windows)
        self.by_hand: dict[str, list[Turn]] = turns_by_hand(self.site, self.turns)
        self.bans: tuple[tuple[int, int], ...] = ban_spans(site_input, self.clock)
        self.courses: dict[str, Course] = {
            name: self.follow(name, self.on[name]) for name in self.works
        }
        self._walks: dict[tuple[str, str], int] = {}

    def follow(self, surface_id: str, jobs: Iterable[Job]) -> Course:
        """Follow a surface through other visits than the roster's."""
        return follow(self.works[surface_id], jobs, self.length_min)

    @cached_property
    def begins_min(self) -> int:
        """First minute at which anybody is there."""
        return max(0, min(window.starts_min for window in self.windows))

    @cached_property
    def dry_min(self) -> float:
        """Bare and dry minutes of all surfaces."""
        return sum(float(course.thirsty.sum()) for course in self.courses.values())

    @cached_property
    def dry_cost(self) -> float:
        """Their price."""
        return sum(float(course.cost.sum()) for course in self.courses.values())

    @cached_property
    def bare_min(self) -> float:
        """Bare minutes of all surfaces."""
        return sum(float(course.bare.sum()) for course in self.courses.values())

    @cached_property
    def water(self) -> dict[str, WaterSimulation]:
        """Each water point as the roster draws from it."""
        works = tuple(self.works.values())
        points = simulate_water(self.site, self.jobs, self.clock, works)
        return {one.point.id: one for one in points}

    @cached_property
    def tasks(self) -> dict[str, Task]:
        """Every task that is asked for, by its id."""
        return {
            task.id: task
            for work in self.works.values()
            for task in (*work.tasks, *((work.rewet,) if work.rewet else ()))
        }

    def done(self, surface_id: str) -> dict[str, Job]:
        """Visits that do each task of a surface; of re-wettings the last."""
        return {job.task.id: job for job in self.on[surface_id]}

    def walk_min(self, zone_from: str, zone_to: str) -> int:
        """Minutes from one zone to another."""
        key = (zone_from, zone_to)
        if key not in self._walks:
            self._walks[key] = walk_min(self.site, *key)
        return self._walks[key]

    def window_of(self, job: Job) -> CrewWindow | None:
        """The shift that a visit lies in."""
        return self._window_of.get(job.visit.id)

    @cached_property
    def _window_of(self) -> dict[str, CrewWindow | None]:
        return {job.visit.id: window for window, jobs in self.turns for job in jobs}

    def label(self, surface_id: str) -> str:
        """As people call a surface."""
        return self.works[surface_id].label

    def who(self, job: Job) -> str:
        """As people call the crew of a visit."""
        team = self.teams.get(job.visit.crew_id)
        return team.name if team else job.visit.crew_id

    def at(self, minute: int) -> str:
        """``Mon 14:20``."""
        return self.clock.words(minute)

    def span(self, from_min: int, until_min: int) -> str:
        """``Mon 14:20–15:00``."""
        return self.clock.span(from_min, until_min)


def read_week(folder: Path) -> Week:
    """Read a site folder and the roster in its ``out``; plan it if there is none.

    Raises
    ------
    InputError
        If the folder cannot be planned, or its roster is of another version.
    """
    if not own_roster(folder).exists():
        plan = api.plan(folder)
        return Week(plan.clocked.site_input, plan.roster, plan.report)
    roster, clocked = read_roster(own_roster(folder)), run_clocks(folder)
    return Week(clocked.site_input, roster, audit(clocked, roster))
