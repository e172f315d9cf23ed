"""Visits joined with the tasks they carry out, in whole minutes.

The tasks come with the roster: what a surface asks for is the methods' word, and the
audit holds the visits against it.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from models.local_clock import WeekClock
from models.records import Finding, Roster, SurfaceWork, Task, Visit


@dataclass(frozen=True)
class Job:
    """One visit, the task it does and the surface it is done on."""

    visit: Visit
    task: Task
    work: SurfaceWork
    start_min: int
    end_min: int

    @property
    def is_rewet(self) -> bool:
        """True for a visit that may come any number of times."""
        return self.work.rewet is not None and self.task.id == self.work.rewet.id

    @property
    def words(self) -> str:
        """Surface and work, short."""
        return f"{self.work.label} ({self.task.facts.verb.lower()})"


def jobs_of(roster: Roster, clock: WeekClock) -> tuple[tuple[Job, ...], list[Finding]]:
    """Join visits with tasks, by start, then id; a visit without one is a finding."""
    works = {work.surface_id: work for work in roster.surfaces}
    jobs, findings = [], []
    for visit in sorted(roster.visits, key=lambda v: (v.starts_at, v.id)):
        work = works.get(visit.surface_id)
        task = _task(work, visit.task_id) if work else None
        if work is None or task is None:
            words = f"{visit.id}: no such work is asked for on {visit.surface_id}"
            findings.append(
                Finding(
                    kind="order", words=words, starts_at=visit.starts_at,
                    ends_at=visit.ends_at, surface_id=visit.surface_id,
                    crew_id=visit.crew_id,
                )
            )  # fmt: skip
            continue
        start = clock.horizon.minute(visit.starts_at)
        end = clock.horizon.minute(visit.ends_at)
        jobs.append(Job(visit, task, work, start, end))
    return tuple(jobs), findings


def _task(work: SurfaceWork, task_id: str) -> Task | None:
    patterns = work.tasks if work.rewet is None else (*work.tasks, work.rewet)
    return next((task for task in patterns if task.id == task_id), None)


def by_surface(jobs: Iterable[Job]) -> dict[str, list[Job]]:
    """Jobs of each surface, in the order given."""
    grouped: dict[str, list[Job]] = {}
    for job in jobs:
        grouped.setdefault(job.work.surface_id, []).append(job)
    return grouped
