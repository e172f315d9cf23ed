"""Whether concrete takes a shock when a cover or forms come off.

Findings for people to look at, no promises of the roster: the site measures before it
lifts anything. What the roster lifts is marched again from its own minute on; of forms
and of planned changes the clock knows already what follows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from models.drying.surroundings import Surroundings
from models.hydration.lifted import Lifting, lifted
from models.local_clock import WeekClock
from models.quantities import show
from models.records import (
    Breach,
    Finding,
    Floats,
    HydrationHistory,
    Profile,
    SiteInput,
    Surface,
)
from scheduler.audit.checks.cooling import cooling_limits, falls_k
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.stages import as_cured, changes, cover_at

_DAY = timedelta(hours=24)
#: The fall of an hour is looked for so long: later a face falls with the evening, as
#: that of any slab does (assumption). [h]
_MEETS_THE_AIR_H = 3


@dataclass(frozen=True)
class _Off:
    """Something that came off a surface, and what the concrete went through then."""

    surface: Surface
    what: str
    at: datetime
    face_c: Floats
    mean_c: Floats
    core_c: Floats
    lifted: bool


def check_removal_temperature(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
    jobs: Sequence[Job],
    clock: WeekClock,
) -> list[Finding]:
    """Find covers and forms that come off too early for the air of then and after.

    Held against the rule's limits: how far a face may fall in an hour and in a day,
    and, of what was lifted after curing, how much warmer the core may be.
    """
    ends = (events.curing_ends for events in hydration.events)
    had = [
        as_cured(surface, end.expected_at if end else None)
        for surface, end in zip(surfaces, ends, strict=True)
    ]
    offs = [
        *_as_planned(had, hydration),
        *_by_the_roster(site_input, had, around, hydration, jobs),
    ]
    findings: list[Finding] = []
    seen: set[tuple[str, str, object]] = set()
    for off in offs:
        profile = site_input.profiles[off.surface.profile_id]
        for breach in _breaches(off, profile, hydration.grid.step_min):
            # Of a cover lifted in parts the first that breaks a limit says it.
            key = (off.surface.id, breach.kind, breach.within_h)
            if off.lifted and key in seen:
                continue
            seen.add(key)
            findings.append(_said(off, breach, site_input, clock))
    return findings


def _as_planned(
    surfaces: Sequence[Surface], hydration: HydrationHistory
) -> Iterator[_Off]:
    """Yield forms that are struck, and covers that give way to thinner ones."""
    for column, surface in enumerate(surfaces):
        bare = any(_forms_off(surface, hydration, column))
        if surface.face != "top" and not bare:
            yield from _from_clock(
                surface, "forms", surface.exposed_at, hydration, column
            )
        for at, before, after in changes(surface):
            if before.resistance_m2k_w > after.resistance_m2k_w:
                yield from _from_clock(surface, before.name, at, hydration, column)


def _forms_off(
    surface: Surface, hydration: HydrationHistory, column: int
) -> Iterator[tuple[datetime, str]]:
    """Yield the striking that no cover follows; the clock has one on all the same."""
    ends = hydration.events[column].curing_ends
    cured = ends is not None and ends.expected_at <= surface.exposed_at
    if surface.face != "top" and cured:
        yield surface.exposed_at, "forms"


def _from_clock(
    surface: Surface,
    what: str,
    at: datetime,
    hydration: HydrationHistory,
    column: int,
) -> Iterator[_Off]:
    first = hydration.grid.step(at)
    if 0 <= first < hydration.grid.steps:
        day = slice(first, first + 1 + _DAY // _step(hydration))
        face_c = hydration.surface_temperature_c[day, column].copy()
        # The step itself has the new film at its face already.
        face_c[0] = hydration.surface_temperature_c[max(0, first - 1), column]
        yield _Off(
            surface,
            what,
            at,
            face_c,
            hydration.mean_temperature_c[day, column],
            hydration.core_temperature_c[day, column],
            lifted=False,
        )


def _step(hydration: HydrationHistory) -> timedelta:
    return timedelta(minutes=hydration.grid.step_min)


def _by_the_roster(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
    jobs: Sequence[Job],
) -> Iterator[_Off]:
    """Yield what the roster lifts where a rule limits what follows."""
    grid, grouped = hydration.grid, by_surface(jobs)
    bared = [
        (surface, at, what)
        for column, surface in enumerate(surfaces)
        if _limited(site_input.profiles[surface.profile_id], surface)
        for at, what in (
            *_forms_off(surface, hydration, column),
            *_lifts(surface, grouped.get(surface.id, [])),
        )
        if 0 <= grid.step(at) < grid.steps - 1
    ]
    liftings = [Lifting(surface, at) for surface, at, _ in bared]
    outcomes = lifted(liftings, site_input, around, hydration)
    for lifting, (_, _, what), after in zip(liftings, bared, outcomes, strict=True):
        yield _Off(
            lifting.surface,
            what,
            lifting.at,
            after.face_c,
            after.mean_c,
            after.core_c,
            lifted=True,
        )


def _lifts(surface: Surface, own: Sequence[Job]) -> Iterator[tuple[datetime, str]]:
    """Yield when the roster lifts a cover, and which."""
    for job in own:
        if job.task.facts.lifts:
            at = job.visit.starts_at
            yield at, cover_at(surface, at).name


def _limited(profile: Profile, surface: Surface) -> bool:
    limits = cooling_limits(profile, surface.thickness_mm)
    return profile.core_surface_max_k is not None or any(True for _ in limits)


def _breaches(off: _Off, profile: Profile, step_min: int) -> Iterator[Breach]:
    """Yield each limit that the concrete breaks once it is off."""
    for limit in cooling_limits(profile, off.surface.thickness_mm):
        within = 60 * limit.within_h // step_min
        looked = 1 if limit.within_h == 24 else 60 * _MEETS_THE_AIR_H // step_min
        fall_k = falls_k(off.face_c, off.mean_c, within)[:looked]
        worst = int(np.argmax(fall_k))
        if fall_k[worst] > limit.most_k:
            yield Breach(
                kind="cooling",
                value_k=round(float(fall_k[worst]), 2),
                limit_k=limit.most_k,
                clause=limit.clause,
                within_h=limit.within_h,
                worst_at=off.at + timedelta(minutes=worst * step_min),
            )
    most_k, from_mm = profile.core_surface_max_k, profile.core_surface_from_mm or 0
    inside_k = off.core_c - off.face_c
    thick = off.surface.thickness_mm >= from_mm
    if off.lifted and thick and most_k is not None and inside_k.max() > most_k:
        worst = int(np.argmax(inside_k))
        yield Breach(
            kind="core_to_face",
            value_k=round(float(inside_k[worst]), 2),
            limit_k=most_k,
            clause=profile.said_by("core_surface_max_k"),
            worst_at=off.at + timedelta(minutes=worst * step_min),
        )


def _said(
    off: _Off, breach: Breach, site_input: SiteInput, clock: WeekClock
) -> Finding:
    """Say what comes off, when, and what the concrete does then."""
    minute, kind = clock.horizon.minute(off.at), "exact temperature difference"
    units = site_input.site.units
    is_k, most = (show(kind, k or 0.0, units) for k in (breach.value, breach.limit))
    does = f"its core is {is_k} warmer than its face"
    ends_min = clock.horizon.minute(breach.worst_at) + 60
    if breach.within_h is not None:
        within = "an hour" if breach.within_h == 1 else f"the next {breach.within_h} h"
        does = f"its face cools by {is_k} in {within}"
        ends_min = minute + 60 * breach.within_h
    words = (
        f"{off.surface.label}: with the {off.what} off {clock.words(minute)} {does}; "
        f"at most {most} ({breach.clause})"
    )
    return found(
        clock, "temperature", words, minute, min(ends_min, clock.horizon.length_min),
        surface_id=off.surface.id, breach=breach,
    )  # fmt: skip
