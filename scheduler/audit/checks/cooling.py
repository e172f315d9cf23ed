"""How fast concrete cools under its cover, or bare: in any hour and in any day.

Findings for people to look at. What follows the lifting of a cover or the striking of
forms is ``removal_temperature.py``'s.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
from numpy.lib.stride_tricks import sliding_window_view

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
    SurfaceWork,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.runs import stretches


class CoolingLimit(NamedTuple):
    """Most a face may cool within a time, and the clause that says so."""

    within_h: int
    most_k: float
    clause: str

    @property
    def words(self) -> str:
        """Say the time."""
        return "an hour" if self.within_h == 1 else f"{self.within_h} h"


def cooling_limits(profile: Profile, thickness_mm: float) -> Iterator[CoolingLimit]:
    """Yield what a rule allows a member of a thickness to cool."""
    if profile.cooling_hour_max_k is not None:
        clause = profile.said_by("cooling_hour_max_k")
        yield CoolingLimit(1, profile.cooling_hour_max_k, clause)
    section = profile.section(thickness_mm)
    if section is not None and section.cooling_max_k is not None:
        yield CoolingLimit(24, section.cooling_max_k, section.clause or profile.title)


def falls_k(face_c: Floats, mean_c: Floats, within_steps: int) -> Floats:
    """How far a face falls within so many steps of each step, NaN where not placed.

    What the sun warmed above the mean of the section does not count: it is the part of
    a fall that only brings the face back to the rest, and strains nothing (assumption).
    """
    padded = np.concatenate([face_c, np.full(within_steps, np.inf)])
    coldest_c = sliding_window_view(padded, within_steps + 1).min(axis=1)
    return np.asarray(np.minimum(face_c, mean_c) - coldest_c)


def check_cooling(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    hydration: HydrationHistory,
    clock: WeekClock,
) -> list[Finding]:
    """Find faces that cool faster than their rule allows, from final set on.

    While steam cools them its own rate of fall counts; after forms or a cover come off
    the day is looked at by itself.
    """
    grid = hydration.grid
    minute = clock.horizon.minute(grid.starts_at) + grid.step_min * np.arange(
        grid.steps
    )
    findings: list[Finding] = []
    for column, (surface, work) in enumerate(zip(surfaces, works, strict=True)):
        until_min = min(work.ends_min, clock.horizon.length_min)
        curing = minute < until_min
        sets_min = clock.horizon.minute(hydration.events[column].final_set.expected_at)
        hard = minute[curing] >= max(0, sets_min)
        face_c = hydration.surface_temperature_c[curing, column]
        mean_c = hydration.mean_temperature_c[curing, column]
        profile = site_input.profiles[surface.profile_id]
        for limit in cooling_limits(profile, surface.thickness_mm):
            fall_k = falls_k(face_c, mean_c, 60 * limit.within_h // grid.step_min)
            counted = hard.copy()
            for from_min, to_min in _changes(surface, 60 * limit.within_h, clock):
                counted &= (minute[curing] < from_min) | (minute[curing] >= to_min)
            outside = np.where(counted, fall_k, -np.inf) > limit.most_k
            for first, last in stretches(outside):
                worst = first + int(np.argmax(fall_k[first:last]))
                is_k, most = (
                    show("exact temperature difference", k, site_input.site.units)
                    for k in (fall_k[worst], limit.most_k)
                )
                words = (
                    f"{surface.label} cools by {is_k} in {limit.words} from "
                    f"{clock.words(int(minute[worst]))}; at most {most} "
                    f"({limit.clause})"
                )
                starts = int(minute[first])
                ends = min(int(minute[last - 1]) + 60 * limit.within_h, until_min)
                findings.append(
                    found(
                        clock, "temperature", words, starts, ends,
                        surface_id=surface.id, minutes=ends - starts,
                        breach=Breach(
                            kind="cooling", value_k=round(float(fall_k[worst]), 2),
                            limit_k=limit.most_k, clause=limit.clause,
                            within_h=limit.within_h,
                            worst_at=clock.horizon.at(int(minute[worst])),
                        ),
                    )
                )  # fmt: skip
    return findings


def _changes(
    surface: Surface, within_min: int, clock: WeekClock
) -> Iterator[tuple[int, int]]:
    """Yield when steam cools a surface, and what touches the day after a change."""
    minute = clock.horizon.minute
    if surface.steam is not None:
        yield minute(surface.steam.starts_at), minute(surface.steam.ends_at)
    offs = [stage.starts_at for stage in surface.later]
    if surface.face != "top":
        offs.append(surface.exposed_at)
    for at in offs:
        yield minute(at) - within_min, minute(at) + _DAY_MIN


_DAY_MIN = 24 * 60
