"""A finding made from minutes of the horizon."""

from models.local_clock import WeekClock
from models.records import Breach, Finding, FindingKind, Limit
from scheduler.audit.replayed.jobs import Job


def found(
    clock: WeekClock,
    kind: FindingKind,
    words: str,
    start_min: int,
    end_min: int,
    *,
    job: Job | None = None,
    surface_id: str | None = None,
    crew_id: str | None = None,
    water_point_id: str | None = None,
    limit: Limit | None = None,
    minutes: int = 0,
    breach: Breach | None = None,
) -> Finding:
    """Say what was found between two minutes; a job names its surface and crew."""
    return Finding(
        kind=kind,
        words=words,
        starts_at=clock.horizon.at(start_min),
        ends_at=clock.horizon.at(max(end_min, start_min)),
        surface_id=job.work.surface_id if job else surface_id,
        crew_id=job.visit.crew_id if job else crew_id,
        water_point_id=water_point_id,
        limit=limit,
        minutes=minutes,
        breach=breach,
    )
