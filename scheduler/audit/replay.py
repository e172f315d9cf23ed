"""The audit: a roster played through again, minute by minute, on the site's own input.

Only the roster's visits and the tasks they do are taken from the planner. What covers
lose, when crews may work, how far they walk and what water there is are counted again
from the site's input. One thing is taken as the work gives it, because it belongs to
the concrete and not to the roster: in which stretches a bare surface dries
(``SurfaceWork.fresh``). What a dry minute costs and when curing ends is held against
the price list and the hydration clock. Gaps and missed duties are found and measured
here; what stood in the way is not the audit's to say (``explained.py``).
"""

from collections.abc import Sequence

from models.drying.surroundings import Surroundings
from models.errors import ContradictionError
from models.local_clock import WeekClock
from models.records import (
    VIOLATIONS,
    AuditReport,
    Changes,
    Finding,
    Gap,
    HydrationHistory,
    Roster,
    SiteInput,
    Surface,
    SurfaceWork,
)
from scheduler.audit.checks.cooling import check_cooling
from scheduler.audit.checks.covers import check_covers
from scheduler.audit.checks.credited import check_credited, credited_ends
from scheduler.audit.checks.crews import check_crews, shift_traces
from scheduler.audit.checks.drying import check_drying
from scheduler.audit.checks.duties import check_duties, missed_tasks
from scheduler.audit.checks.heat_bans import ban_spans, ban_traces, check_bans
from scheduler.audit.checks.hours_limits import check_hours
from scheduler.audit.checks.inspections import check_inspections
from scheduler.audit.checks.insulation_off import check_insulation_off
from scheduler.audit.checks.late_changes import with_late_changes
from scheduler.audit.checks.removal_temperature import check_removal_temperature
from scheduler.audit.checks.temperature import check_temperature
from scheduler.audit.checks.water import check_water
from scheduler.audit.checks.weights import check_weights
from scheduler.audit.objective import dry_shares, parts
from scheduler.audit.replayed.covers import cover_traces, simulate_covers
from scheduler.audit.replayed.gaps import dry_stretches
from scheduler.audit.replayed.jobs import Job, by_surface, jobs_of
from scheduler.audit.replayed.loss import cover_loss_l_m2_h
from scheduler.audit.replayed.other_work import other_work
from scheduler.audit.replayed.simulation import Simulation, simulate
from scheduler.audit.replayed.water import simulate_water, water_traces
from scheduler.audit.replayed.windows import crew_windows, placed
from scheduler.audit.traces import surface_traces
from scheduler.audit.week_hours import week_hours


def replay(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
    roster: Roster,
    changes: Changes | None = None,
) -> AuditReport:
    """Simulate a roster on the audit's own account.

    Parameters
    ----------
    site_input : SiteInput
        The site, its crews, water and covers.
    surfaces : sequence of Surface
        In the order of the columns of ``around`` and ``hydration``.
    around : Surroundings
        The weather as the surfaces meet it.
    hydration : HydrationHistory
        For the temperature under the covers.
    roster : Roster
        Visits and the work they come from.
    changes : Changes or None
        Those of a published roster, as :func:`scheduler.audit.published.changes_of` has
        counted them; None if there is none to stay near.

    Returns
    -------
    AuditReport
        Findings by time, gaps, missed duties, and the week of every surface, water
        point, shift and kind of cover.

    Raises
    ------
    ContradictionError
        If the roster is of other surfaces.
    """
    site, clock = site_input.site, WeekClock(site_input.site.timezone, roster.horizon)
    works = _works_of(surfaces, roster)
    grid = hydration.grid
    jobs, findings = jobs_of(roster, clock)
    windows = crew_windows(site, clock, other_work(site_input, hydration, clock))
    turns = placed(tuple(job for job in jobs if job.visit.shift_id), windows)
    loss = cover_loss_l_m2_h(surfaces, around, hydration)
    simulation = simulate(surfaces, works, jobs, loss, grid, clock.horizon)
    simulation, late = with_late_changes(
        surfaces, simulation, by_surface(jobs), around, hydration, clock
    )
    water = simulate_water(site, jobs, clock, works, roster.begun_until)
    covers = simulate_covers(site, surfaces, works, jobs, clock)
    bans = ban_spans(site_input, clock)
    missed = _missed(simulation, jobs)
    counted = parts(site, simulation, jobs, turns, covers, changes)
    put_off = credited_ends(
        site_input, surfaces, loss, hydration, clock.horizon, simulation.dry
    )

    findings += late
    findings += check_drying(surfaces, works, loss, grid, clock)
    findings += check_weights(surfaces, works, hydration, site.costs, clock)
    findings += check_credited(put_off, surfaces, simulation, jobs, site_input, clock)
    findings += check_crews(site, turns, clock)
    findings += check_hours(site, turns, clock)
    findings += check_bans(bans, jobs, clock)
    findings += check_duties(jobs, simulation, clock)
    findings += check_water(site, water, jobs, clock, works)
    findings += check_covers(site, covers, clock, roster.begun_until)
    findings += check_inspections(
        site_input, surfaces, simulation, jobs, windows, clock
    )
    findings += temperature_findings(
        site_input, surfaces, works, around, hydration, clock, jobs
    )
    findings = [one for one in findings if _is_told(one, roster)]
    return AuditReport(
        findings=tuple(sorted(findings, key=by_time)),
        gaps=_gaps(simulation, clock),
        missed_task_ids=tuple(missed),
        fallen_task_ids=tuple(one for own in missed.values() for one in own),
        surfaces=surface_traces(surfaces, simulation, jobs, put_off, clock),
        water=water_traces(water, clock),
        shifts=shift_traces(site, windows, turns, clock),
        week_hours=week_hours(site, windows, turns, clock),
        heat_bans=ban_traces(bans, clock),
        covers=cover_traces(covers, clock),
        dry_min=int(simulation.dry.sum()),
        dry_shares=dry_shares(surfaces, simulation, clock),
        amount_by_part={name: part.amount for name, part in counted.items()},
        cost_by_part={name: part.cost for name, part in counted.items()},
    )


def _is_told(finding: Finding, roster: Roster) -> bool:
    """Whether a finding is told: no roster has to keep rules in what has happened.

    What draws water while its point is closed may have begun before.
    """
    until = roster.begun_until
    if until is None or finding.kind not in VIOLATIONS:
        return True
    if finding.kind == "water_flow":
        begun = (visit for visit in roster.visits if visit.starts_at < until)
        until = max([until, *(visit.ends_at for visit in begun)])
    return finding.starts_at >= until


def temperature_findings(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    around: Surroundings,
    hydration: HydrationHistory,
    clock: WeekClock,
    jobs: Sequence[Job] = (),
) -> list[Finding]:
    """Hold a week against its limits on temperature; without jobs, before a roster.

    What begins after the week is not told: covers may be lifted then, and nobody plans
    it here.
    """
    found = [
        *check_temperature(
            site_input, surfaces, works, hydration, around.air_temperature_c, jobs,
            clock,
        ),
        *check_cooling(site_input, surfaces, works, hydration, clock),
        *check_removal_temperature(
            site_input, surfaces, around, hydration, jobs, clock
        ),
        *check_insulation_off(site_input, surfaces, around, hydration, jobs, clock),
    ]  # fmt: skip
    return [finding for finding in found if finding.starts_at < clock.horizon.ends_at]


def _works_of(surfaces: Sequence[Surface], roster: Roster) -> tuple[SurfaceWork, ...]:
    """Work of each surface, in the order of the surfaces."""
    works = {work.surface_id: work for work in roster.surfaces}
    known = {surface.id for surface in surfaces}
    statements = [
        *(f"{name}: a surface of the site without work" for name in known - set(works)),
        *(f"{name}: work on no surface of the site" for name in set(works) - known),
    ]
    if statements:
        raise ContradictionError(sorted(statements))
    return tuple(works[surface.id] for surface in surfaces)


def _gaps(simulation: Simulation, clock: WeekClock) -> tuple[Gap, ...]:
    """Every gap, in order of time, then surface."""
    gaps = (
        Gap(
            surface_id=simulation.works[dry.column].surface_id,
            starts_at=clock.horizon.at(dry.from_min),
            ends_at=clock.horizon.at(dry.until_min),
            covered=dry.covered,
        )
        for dry in dry_stretches(simulation)
    )
    return tuple(sorted(gaps, key=lambda gap: (gap.starts_at, gap.surface_id)))


def _missed(simulation: Simulation, jobs: Sequence[Job]) -> dict[str, tuple[str, ...]]:
    """Every duty that nobody does, by surface, with what falls away with it."""
    grouped = by_surface(jobs)
    found: dict[str, tuple[str, ...]] = {}
    for work in simulation.works:
        found.update(missed_tasks(work, grouped.get(work.surface_id, [])))
    return found


def by_time(finding: Finding) -> tuple[object, ...]:
    """Order findings as people read them: by start, then by what they are about."""
    return (
        finding.starts_at, finding.kind, finding.surface_id or "",
        finding.crew_id or "", finding.water_point_id or "", finding.words,
    )  # fmt: skip
