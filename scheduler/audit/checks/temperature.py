"""Limits on temperature of the rule a surface is cured by: frost, heat, cold, water.

Findings for people to look at, no promises of the roster. Each names the clause that
sets its limit.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from models.local_clock import WeekClock
from models.quantities import show
from models.records import (
    Breach,
    BreachKind,
    Finding,
    Flags,
    Floats,
    HydrationHistory,
    Profile,
    SiteInput,
    Surface,
    SurfaceEvents,
    SurfaceWork,
)
from scheduler.audit.checks.cold_water import cold_water
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
        findings += cold_water(site_input, job, profile, column, hydration, clock)
    for surface, work in zip(surfaces, works, strict=True):
        outside = concrete_outside(
            site_input, surface, work, hydration, air_temperature_c, clock
        )
        findings += (finding.of(surface.label, " ") for finding in outside)
    return findings


def concrete_outside(
    site_input: SiteInput,
    surface: Surface,
    work: SurfaceWork,
    hydration: HydrationHistory,
    air_temperature_c: Floats,
    clock: WeekClock,
) -> Iterator[Finding]:
    """Yield each stretch in which a surface is frozen, too cold or too hot.

    The words leave out the surface.
    """
    grid, horizon = hydration.grid, clock.horizon
    column = hydration.surface_ids.index(surface.id)
    face_c = hydration.surface_temperature_c[:, column]
    air_c = np.broadcast_to(air_temperature_c, hydration.surface_temperature_c.shape)
    minute = horizon.minute(grid.starts_at) + np.arange(grid.steps) * grid.step_min
    until_min = min(work.ends_min, horizon.length_min)
    watched = _Watched(
        site_input=site_input,
        surface=surface,
        profile=site_input.profiles[surface.profile_id],
        events=hydration.events[column],
        clock=clock,
        face_c=face_c,
        core_c=hydration.core_temperature_c[:, column],
        strength_fraction=hydration.strength_fraction[:, column],
        air_c=air_c[:, column],
        minute=minute,
        step_min=grid.step_min,
        counted=(minute >= 0) & (minute < until_min) & ~np.isnan(face_c),
    )
    yield from _frozen_before_set(watched)
    yield from _frozen_young(watched)
    yield from _steamed_before_set(watched)
    yield from _too_hot(watched)
    yield from _too_warm_inside(watched)
    yield from _too_cold(watched)


@dataclass(frozen=True)
class _Limit:
    """What is held against a limit, step by step."""

    kind: BreachKind
    values: Floats
    limit: float
    clause: str
    strength_mpa: float | None = None


@dataclass(frozen=True)
class _Watched:
    """What one surface meets, step by step, and where its concrete counts."""

    site_input: SiteInput
    surface: Surface
    profile: Profile
    events: SurfaceEvents
    clock: WeekClock
    face_c: Floats
    core_c: Floats
    strength_fraction: Floats
    air_c: Floats
    minute: NDArray[np.int64]
    step_min: int
    counted: Flags

    def say(self, kind: str, value: float) -> str:
        """Say a value in the site's units."""
        return show(kind, value, self.site_input.site.units)

    def at(self, step: int) -> str:
        """Say when a step begins."""
        return self.clock.words(int(self.minute[step]))

    def minute_of(self, at: datetime) -> int:
        """Minute of an instant."""
        return self.clock.horizon.minute(at)

    def stretches(
        self, excess: Floats, words: Callable[[int], str], against: _Limit
    ) -> Iterator[Finding]:
        """One finding for each stretch outside a limit, said of its worst step."""
        outside = np.where(self.counted, excess, 0.0)
        for first, last in stretches(outside > 0):
            worst = first + int(np.argmax(outside[first:last]))
            starts, ends = int(self.minute[first]), int(self.minute[last - 1])
            value = round(float(against.values[worst]), 2)
            apart = against.kind == "core_to_face"
            breach = Breach(
                kind=against.kind,
                value_c=None if apart else value,
                limit_c=None if apart else against.limit,
                value_k=value if apart else None,
                limit_k=against.limit if apart else None,
                clause=against.clause,
                worst_at=self.clock.horizon.at(int(self.minute[worst])),
                strength_mpa=against.strength_mpa,
            )
            yield self.finding(words(worst), starts, ends + self.step_min, breach)

    def finding(
        self, words: str, starts_min: int, ends_min: int, breach: Breach
    ) -> Finding:
        """Make a finding of the surface."""
        return found(
            self.clock, "temperature", words, starts_min, ends_min,
            surface_id=self.surface.id, minutes=ends_min - starts_min, breach=breach,
        )  # fmt: skip


def _frozen_before_set(watched: _Watched) -> Iterator[Finding]:
    """Find concrete that freezes before it sets, and is lost: no rule has to say so."""
    frozen_at, sets = watched.events.freezes_at, watched.events.final_set
    if frozen_at is None:
        return
    from_min, until_min = watched.minute_of(frozen_at), watched.minute_of(
        sets.expected_at
    )  # fmt: skip
    last_min = watched.clock.horizon.length_min
    if until_min <= 0 or from_min >= last_min:
        return
    from_min = max(from_min, 0)
    set_words = f"before it sets {watched.clock.words(until_min)}"
    placed = watched.minute_of(watched.surface.placing_ends_at) <= 0
    if placed:
        mend = "warm it now, and have it examined"
    else:
        mend = (
            "do not place without heat: a heated enclosure, a warmer mix, blankets at "
            "once, or another day"
        )
    words = f"freezes {watched.clock.words(from_min)}, {set_words}; {mend}"
    breach = Breach(
        kind="freezes_before_set",
        limit_c=0,
        clause=watched.profile.said_by("freezing_strength_mpa"),
        worst_at=watched.clock.horizon.at(from_min),
        sets_at=sets.expected_at,
        placing_ends_at=watched.surface.placing_ends_at,
    )
    yield watched.finding(words, from_min, min(until_min, last_min), breach)


def _frozen_young(watched: _Watched) -> Iterator[Finding]:
    """Find frost on concrete too weak for it, as all is until it has surely set."""
    profile, surface = watched.profile, watched.surface
    least_mpa = profile.freezing_strength_mpa
    if least_mpa is None:
        return
    mixes = watched.site_input.site.mixes
    mix = next(mix for mix in mixes if mix.id == surface.mix_id)
    # A share of the mean strength, taken of the specified one: the long side.
    weak = watched.strength_fraction * mix.strength_mpa < least_mpa
    weak &= ~_warm_long_enough(profile, watched.face_c, watched.step_min)
    sets = watched.events.final_set
    weak |= watched.minute < watched.minute_of(sets.latest_at)
    if watched.events.freezes_at is not None:  # said already
        weak &= watched.minute >= watched.minute_of(sets.expected_at)

    def words(step: int) -> str:
        is_c = watched.say("temperature", watched.face_c[step])
        least = watched.say("pressure", least_mpa)
        return (
            f"is at {is_c} {watched.at(step)} and weaker than {least} as modelled; it "
            f"must not freeze before that ({profile.said_by('freezing_strength_mpa')})"
        )

    clause = profile.said_by("freezing_strength_mpa")
    against = _Limit("frost", watched.face_c, 0, clause, least_mpa)
    yield from watched.stretches(np.where(weak, -watched.face_c, 0.0), words, against)


def _steamed_before_set(watched: _Watched) -> Iterator[Finding]:
    """Find steam that begins before the final set of the clock."""
    steam, sets_at = watched.surface.steam, watched.events.final_set.expected_at
    if steam is None or steam.starts_at >= sets_at:
        return
    starts, sets = watched.minute_of(steam.starts_at), watched.minute_of(sets_at)
    if 0 <= starts < watched.clock.horizon.length_min:
        words = (
            f"has steam on {watched.clock.words(starts)}, before it sets "
            f"{watched.clock.words(sets)}"
        )
        breach = Breach(
            kind="steam_before_set",
            worst_at=steam.starts_at,
            sets_at=sets_at,
        )
        yield watched.finding(words, starts, sets, breach)


def _too_hot(watched: _Watched) -> Iterator[Finding]:
    """Find concrete hotter inside than it may become."""
    most_c = watched.profile.core_max_c
    if most_c is None:
        return

    def words(step: int) -> str:
        is_c, most = (
            watched.say("temperature", value)
            for value in (watched.core_c[step], most_c)
        )
        return (
            f"is at {is_c} inside {watched.at(step)}; at most {most} "
            f"({watched.profile.said_by('core_max_c')})"
        )

    clause = watched.profile.said_by("core_max_c")
    against = _Limit("too_hot", watched.core_c, most_c, clause)
    yield from watched.stretches(watched.core_c - most_c, words, against)


def _too_warm_inside(watched: _Watched) -> Iterator[Finding]:
    """Find a thick member much warmer inside than at its face."""
    profile = watched.profile
    most_k, from_mm = profile.core_surface_max_k, profile.core_surface_from_mm
    if most_k is None or watched.surface.thickness_mm < (from_mm or 0):
        return
    inside_k = watched.core_c - watched.face_c

    def words(step: int) -> str:
        is_k, most = (
            watched.say("temperature difference", value)
            for value in (inside_k[step], most_k)
        )
        return (
            f"is {is_k} warmer inside than at its face {watched.at(step)}; at most "
            f"{most} ({profile.said_by('core_surface_max_k')})"
        )

    clause = profile.said_by("core_surface_max_k")
    against = _Limit("core_to_face", inside_k, most_k, clause)
    yield from watched.stretches(inside_k - most_k, words, against)


def _too_cold(watched: _Watched) -> Iterator[Finding]:
    """Find concrete colder than it is to be kept in cold weather."""
    section = watched.profile.section(watched.surface.thickness_mm)
    if section is None or section.minimum_c is None:
        return
    minimum_c, clause = section.minimum_c, section.clause or watched.profile.title
    placed = watched.minute_of(watched.surface.placing_ends_at)
    held_to = _protected(watched.profile, watched.air_c, watched.minute - placed)

    def words(step: int) -> str:
        is_c, least = (
            watched.say("temperature", value)
            for value in (watched.face_c[step], minimum_c)
        )
        return f"is at {is_c} {watched.at(step)}; at least {least} ({clause})"

    short_k = np.where(held_to, minimum_c - watched.face_c, 0.0)
    against = _Limit("too_cold", watched.face_c, minimum_c, clause)
    yield from watched.stretches(short_k, words, against)


def _warm_long_enough(profile: Profile, face_c: Floats, step_min: int) -> Flags:
    """Say from when the days at a temperature are over that stand for the strength."""
    if profile.frost_days is None or profile.frost_days_at_c is None:
        return np.zeros(len(face_c), bool)
    warm = np.nan_to_num(face_c, nan=-np.inf) >= profile.frost_days_at_c
    done_min = (np.cumsum(warm) - warm) * step_min
    return np.asarray(done_min >= profile.frost_days * 24 * 60)


def _protected(profile: Profile, air_c: Floats, age_min: NDArray[np.int64]) -> Flags:
    """Say in which steps the cold-weather minimum holds: cold air, young concrete.

    A rule that names neither holds at all times.
    """
    held = np.ones(len(air_c), bool)
    if profile.cold_below_c is not None:
        held &= air_c < profile.cold_below_c
    if profile.protection_days is not None:
        held &= age_min < profile.protection_days * 24 * 60
    return held
