"""Whether every curing surface is inspected as often as its rule asks.

Counted from the site's shifts and the rule, not from the tasks: so many in each worked
shift, so many on each day off. Only shifts and days that lie wholly in the curing time
count. A film of compound, whenever it is the surface's method, is inspected once a day
instead (common practice, no source). Inspections that are asked for and that nobody
does are findings already; here are those that were never asked for.
"""

from collections.abc import Iterator, Sequence

from models.local_clock import MIDNIGHT, WeekClock
from models.records import Finding, Profile, SiteInput, Surface
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.simulation import Simulation
from scheduler.audit.replayed.stages import cover_at
from scheduler.audit.replayed.windows import CrewWindow


def check_inspections(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    simulation: Simulation,
    jobs: Sequence[Job],
    windows: Sequence[CrewWindow],
    clock: WeekClock,
) -> list[Finding]:
    """Find shifts and days with fewer inspections than a surface's rule asks for."""
    shifts = sorted(
        {(w.starts_min, w.ends_min) for w in windows if not w.pattern.on_call}
    )
    worked = {w.day for w in windows if not w.pattern.on_call}
    by_date = {day: clock.stretch(day, MIDNIGHT, MIDNIGHT) for day in clock.days()}
    whole = {day: (span.from_min, span.until_min) for day, span in by_date.items()}
    off = [span for day, span in whole.items() if day not in worked]
    grouped = by_surface(jobs)
    findings: list[Finding] = []
    for column, surface in enumerate(surfaces):
        profile = site_input.profiles[surface.profile_id]
        own = grouped.get(surface.id, [])
        by_day = [(*day, 1, "day", True) for day in whole.values()]
        by_shift = [(*asked, False) for asked in _asked(profile, shifts, off)]
        for first, last, asked, name, film in (*by_day, *by_shift):
            cover = cover_at(surface, clock.horizon.at(first))
            if (cover.form == "film") != film or not _cures(
                simulation, column, first, last
            ):
                continue
            made = sum(_in(job, first, last) for job in own)
            made += _open(simulation, column, own, first, last)
            if made < asked:
                words = (
                    f"{surface.label}: {made} of {asked} inspections in the {name} "
                    f"{clock.span(first, last)} ({profile.title})"
                )
                findings.append(
                    found(clock, "missed", words, first, last, surface_id=surface.id)
                )
    return findings


def _asked(
    profile: Profile, shifts: Sequence[tuple[int, int]], off: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, int, int, str]]:
    for first, last in shifts:
        yield first, last, profile.inspections_per_shift, "shift"
    for first, last in off:
        yield first, last, profile.inspections_per_non_working_day, "day off"


def _cures(simulation: Simulation, column: int, first: int, last: int) -> bool:
    """Under its cover or compound from the first minute to the last."""
    on = min(simulation.covered_from[column], simulation.sealed_from[column])
    return bool(max(0, on) <= first and last <= simulation.counted_until[column])


def _in(job: Job, first: int, last: int) -> bool:
    """Tell whether a job is an inspection that begins in a shift or day."""
    return job.task.facts.inspects and first <= job.start_min < last


def _open(
    simulation: Simulation, column: int, own: Sequence[Job], first: int, last: int
) -> int:
    """Count inspections asked for in a shift or day that nobody does."""
    done = {job.task.id for job in own}
    return sum(
        task.facts.inspects
        and task.id not in done
        and task.earliest_min < last
        and first < task.latest_min
        for task in simulation.works[column].tasks
    )
