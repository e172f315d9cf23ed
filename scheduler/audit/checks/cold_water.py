"""Whether curing water is too cold for the concrete it is put on."""

from collections.abc import Iterator

from models.local_clock import WeekClock
from models.quantities import show
from models.records import Finding, HydrationHistory, Profile, SiteInput
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job


def cold_water(
    site_input: SiteInput,
    job: Job,
    profile: Profile,
    column: int,
    hydration: HydrationHistory,
    clock: WeekClock,
) -> Iterator[Finding]:
    """Find much water on concrete that is too warm for it."""
    site, allowed_k = site_input.site, profile.water_colder_max_k
    point = next(
        (p for p in site.water_points if p.id == job.visit.water_point_id), None
    )
    if allowed_k is None or point is None or point.temperature_c is None:
        return
    if _l_m2(job) < _MUCH_L_M2:
        return
    step = hydration.grid.step(job.visit.starts_at)
    if not 0 <= step < hydration.grid.steps:
        return
    concrete_c = float(hydration.surface_temperature_c[step, column])
    if concrete_c - point.temperature_c > allowed_k:
        colder = show("temperature difference", allowed_k, site.units)
        words = (
            f"{job.words} {clock.words(job.start_min)}: water of {point.name} is at "
            f"{show('temperature', point.temperature_c, site.units)}, the concrete at "
            f"{show('temperature', concrete_c, site.units)}; at most {colder} colder "
            f"({profile.said_by('water_colder_max_k')})"
        )
        yield found(
            clock, "cold_water", words, job.start_min, job.end_min, job=job,
            water_point_id=point.id,
        )  # fmt: skip


#: Less water at once cools the top 50 mm of concrete by less than a sixth of the
#: difference (5 × 4.19 of 5 × 4.19 + 50 × 2.4 kJ/(m² K)): no shock. An assumption.
_MUCH_L_M2 = 5.0


def _l_m2(job: Job) -> float:
    """Water put on a square metre at once: a job cut into parts is one. [L/m²]."""
    kind, parts = job.task.kind, [job.task]
    if job.task.parts > 1:
        parts = [task for task in job.work.tasks if task.kind == kind]
    litres_l = sum(task.water.litres_l for task in parts if task.water)
    return litres_l / job.work.area_m2
