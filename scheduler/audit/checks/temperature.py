"""Limits on temperature of the rule a surface is cured by: water, cold, frost, core.

Findings for people to look at, no promises of the roster.
"""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from models.local_clock import WeekClock
from models.quantities import show
from models.records import (
    Finding,
    Floats,
    HydrationHistory,
    Profile,
    SiteInput,
    Surface,
    SurfaceWork,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.runs import stretches


def check_temperature(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    hydration: HydrationHistory,
    air_temperature_c: Floats,
    jobs: Sequence[Job],
    clock: WeekClock,
) -> list[Finding]:
    """Find cold water, cold or frozen concrete and concrete much warmer inside."""
    columns = {surface.id: column for column, surface in enumerate(surfaces)}
    findings: list[Finding] = []
    for job in jobs:
        column = columns[job.work.surface_id]
        profile = site_input.profiles[surfaces[column].profile_id]
        findings += _cold_water(site_input, job, profile, column, hydration, clock)
    air_c = np.broadcast_to(air_temperature_c, hydration.surface_temperature_c.shape)
    for column, (surface, work) in enumerate(zip(surfaces, works, strict=True)):
        profile = site_input.profiles[surface.profile_id]
        findings += _concrete(
            site_input, surface, work, profile, column, hydration, air_c, clock
        )
    return findings


def _cold_water(
    site_input: SiteInput,
    job: Job,
    profile: Profile,
    column: int,
    hydration: HydrationHistory,
    clock: WeekClock,
) -> Iterator[Finding]:
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
            f"{show('temperature', concrete_c, site.units)}; {profile.title} allows "
            f"{colder} less"
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
    kind = job.task.kind
    parts = [task for task in job.work.tasks if task.kind == kind]
    if kind in ("rewet", "top_up"):
        parts = [job.task]
    litres_l = sum(task.water.litres_l for task in parts if task.water)
    return litres_l / job.work.area_m2


def _concrete(
    site_input: SiteInput,
    surface: Surface,
    work: SurfaceWork,
    profile: Profile,
    column: int,
    hydration: HydrationHistory,
    air_c: Floats,
    clock: WeekClock,
) -> Iterator[Finding]:
    """One finding for each stretch outside a limit, at its worst."""
    units, grid = site_input.site.units, hydration.grid
    face_c = hydration.surface_temperature_c[:, column]
    core_c = hydration.core_temperature_c[:, column]
    minute = (
        clock.horizon.minute(grid.starts_at) + np.arange(grid.steps) * grid.step_min
    )
    until = min(work.ends_min, clock.horizon.length_min)
    counted = (minute >= 0) & (minute < until) & ~np.isnan(face_c)
    section = profile.section(surface.thickness_mm)
    minimum_c = section.minimum_c if section else None
    if minimum_c is not None:
        placed = clock.horizon.minute(surface.placing_ends_at)
        held_to = counted & _protected(profile, air_c[:, column], minute - placed)
        short = np.where(held_to, minimum_c - face_c, 0.0)
        for first, last, worst in _worst(short):
            words = (
                f"{surface.label} is at {show('temperature', face_c[worst], units)} "
                f"{clock.words(int(minute[worst]))}; {profile.title} asks for "
                f"{show('temperature', minimum_c, units)}"
            )
            yield _stretch(clock, surface, words, minute, first, last, grid.step_min)
    if profile.freezing_strength_mpa is not None:
        least_mpa = profile.freezing_strength_mpa
        mix = next(m for m in site_input.site.mixes if m.id == surface.mix_id)
        # A share of the mean strength, taken of the specified one: the long side.
        weak = hydration.strength_fraction[:, column] * mix.strength_mpa < least_mpa
        weak &= ~_warm_long_enough(profile, face_c, grid.step_min)
        frozen = np.where(counted & weak, -face_c, 0.0)
        for first, last, worst in _worst(frozen):
            words = (
                f"{surface.label} is at {show('temperature', face_c[worst], units)} "
                f"{clock.words(int(minute[worst]))}, below "
                f"{show('pressure', least_mpa, units)} as modelled; {profile.title}: "
                "it must not freeze before that strength"
            )
            yield _stretch(clock, surface, words, minute, first, last, grid.step_min)
    if profile.core_surface_max_k is not None:
        over = np.where(counted, core_c - face_c - profile.core_surface_max_k, 0.0)
        for first, last, worst in _worst(over):
            inside, allowed = (
                show("temperature difference", difference_k, units)
                for difference_k in (
                    core_c[worst] - face_c[worst],
                    profile.core_surface_max_k,
                )
            )
            words = (
                f"{surface.label} is {inside} warmer inside than at its face "
                f"{clock.words(int(minute[worst]))}; {profile.title} allows {allowed}"
            )
            yield _stretch(clock, surface, words, minute, first, last, grid.step_min)


def _warm_long_enough(
    profile: Profile, face_c: Floats, step_min: int
) -> NDArray[np.bool_]:
    """Say from when the days at a temperature are over that stand for the strength."""
    if profile.frost_days is None or profile.frost_days_at_c is None:
        return np.zeros(len(face_c), bool)
    warm = np.nan_to_num(face_c, nan=-np.inf) >= profile.frost_days_at_c
    done_min = (np.cumsum(warm) - warm) * step_min
    return np.asarray(done_min >= profile.frost_days * 24 * 60)


def _protected(
    profile: Profile, air_c: Floats, age_min: NDArray[np.int64]
) -> NDArray[np.bool_]:
    """Say in which steps the cold-weather minimum holds: cold air, young concrete.

    A rule that names neither holds at all times.
    """
    held = np.ones(len(air_c), bool)
    if profile.cold_below_c is not None:
        held &= air_c < profile.cold_below_c
    if profile.protection_days is not None:
        held &= age_min < profile.protection_days * 24 * 60
    return held


def _worst(excess: Floats) -> Iterator[tuple[int, int, int]]:
    for first, last in stretches(excess > 0):
        yield first, last, first + int(np.argmax(excess[first:last]))


def _stretch(
    clock: WeekClock,
    surface: Surface,
    words: str,
    minute: NDArray[np.int64],
    first: int,
    last: int,
    step_min: int,
) -> Finding:
    starts, ends = int(minute[first]), int(minute[last - 1]) + step_min
    return found(
        clock, "temperature", words, starts, ends,
        surface_id=surface.id, minutes=ends - starts,
    )  # fmt: skip
