"""Whether concrete is too warm for the air when insulation or forms come off.

Findings for people to look at, no promises of the roster: the site measures before it
lifts anything.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np

from models.drying.surroundings import Surroundings
from models.local_clock import WeekClock
from models.quantities import Units, show
from models.records import (
    Breach,
    BreachKind,
    Finding,
    HydrationHistory,
    Profile,
    SiteInput,
    Surface,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.stages import cover_at

#: A cover of this resistance or more keeps concrete warm (assumption: wet covers have
#: a fiftieth of it). [m² K/W]
INSULATES_M2K_W = 0.2
#: All off only once the face is within 20 °F of the air: Concrete Construction, a
#: question on cold-weather protection, read in an excerpt. [K]
ABOVE_AIR_K = 11.0
_ABOVE_AIR_BY = "trade advice on cold-weather protection: 20 °F"
_DAY = timedelta(hours=24)


def check_removal_temperature(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
    jobs: Sequence[Job],
    clock: WeekClock,
) -> list[Finding]:
    """Find insulation that comes off too early for the air of then and of the next day.

    The face can cool no further than to the air (a clear sky apart), so it is held
    against the coldest air of the 24 hours after. Of forms the clock knows when they
    come off: there the fall itself is held against the limit.
    """
    grid = hydration.grid
    shape = (grid.steps, len(surfaces))
    air = np.broadcast_to(around.air_temperature_c, shape)
    grouped = by_surface(jobs)
    findings = []
    for column, surface in enumerate(surfaces):
        profile = site_input.profiles[surface.profile_id]
        section = profile.section(surface.thickness_mm)
        cooling_k = section.cooling_max_k if section else None
        for off_at in _offs(surface, grouped.get(surface.id, [])):
            first, last = grid.step(off_at), grid.step(off_at + _DAY)
            if not 0 <= first < grid.steps:
                continue
            face_c = float(hydration.surface_temperature_c[first, column])
            above_k = face_c - float(air[first, column])
            drop_k = face_c - float(air[first : max(first + 1, last), column].min())
            minute = clock.horizon.minute(off_at)
            off = f"{surface.label}: insulation comes off {clock.words(minute)}"
            limits: list[tuple[BreachKind, float, float, str, str, str]] = [
                ("above_air", above_k, ABOVE_AIR_K, "with its face {} above the air",
                 "", _ABOVE_AIR_BY)
            ]  # fmt: skip
            if cooling_k is not None:
                later = "and its face may cool by {} in the next 24 h"
                limits.append(
                    ("cooling", drop_k, cooling_k, later, f"{profile.title}: ",
                     _clause(profile, surface))
                )  # fmt: skip
            for kind, is_k, most_k, how, rule, clause in limits:
                if is_k > most_k:
                    units: Units = site_input.site.units
                    words = how.format(show("temperature difference", is_k, units))
                    allowed = show("temperature difference", most_k, units)
                    most = f"{rule}at most {allowed}"
                    findings.append(
                        found(
                            clock, "temperature", f"{off} {words}; {most}", minute,
                            _until(kind, minute, clock), surface_id=surface.id,
                            breach=Breach(
                                kind=kind, value=round(is_k, 2), limit=most_k,
                                clause=clause, worst_at=off_at,
                                within_h=24 if kind == "cooling" else None,
                            ),
                        )
                    )  # fmt: skip
        if cooling_k is not None and surface.face != "top":
            findings += _struck(
                site_input, surface, column, hydration, clock, cooling_k
            )
    return findings


def _struck(
    site_input: SiteInput,
    surface: Surface,
    column: int,
    hydration: HydrationHistory,
    clock: WeekClock,
    most_k: float,
) -> Iterator[Finding]:
    """Find a face that cools too far in the day after its forms came off.

    The clock knows when they do: what it marches is held against the limit.
    """
    grid = hydration.grid
    first, last = grid.step(surface.exposed_at), grid.step(surface.exposed_at + _DAY)
    if not 0 <= first < grid.steps:
        return
    face_c = hydration.surface_temperature_c[first : last + 1, column]
    drop_k = float(face_c[0] - face_c.min())
    if drop_k > most_k:
        units = site_input.site.units
        title = site_input.profiles[surface.profile_id].title
        minute = clock.horizon.minute(surface.exposed_at)
        drop, most = (
            show("temperature difference", k, units) for k in (drop_k, most_k)
        )
        words = (
            f"{surface.label}: forms come off {clock.words(minute)} and its face cools "
            f"by {drop} in the next 24 h; {title}: at most {most}"
        )
        yield found(
            clock, "temperature", words, minute, _until("cooling", minute, clock),
            surface_id=surface.id,
            breach=Breach(
                kind="cooling", value=round(drop_k, 2), limit=most_k,
                clause=_clause(site_input.profiles[surface.profile_id], surface),
                worst_at=surface.exposed_at, within_h=24,
            ),
        )  # fmt: skip


def _until(kind: BreachKind, minute: int, clock: WeekClock) -> int:
    """End of what begins as insulation comes off: a day of cooling, or the moment."""
    length_min = clock.horizon.length_min
    return min(minute + 24 * 60, length_min) if kind == "cooling" else minute + 1


def _clause(profile: Profile, surface: Surface) -> str:
    """Say what limits the cooling of a thickness."""
    section = profile.section(surface.thickness_mm)
    return (section.clause if section else "") or profile.title


def _offs(surface: Surface, own: Sequence[Job]) -> Iterator[datetime]:
    """Yield when insulation gives way to less, as planned, or is lifted."""
    for stage, (before, after) in zip(
        surface.later, pairwise(surface.covers), strict=True
    ):
        if before.resistance_m2k_w >= INSULATES_M2K_W > after.resistance_m2k_w:
            yield stage.starts_at
    for job in own:
        there = cover_at(surface, job.visit.starts_at)
        if job.task.facts.lifts and there.resistance_m2k_w >= INSULATES_M2K_W:
            yield job.visit.ends_at
