"""What a face must not go through: limits of cooling, and of the core against it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from models.hydration.lifted import Lifted
from models.records import Profile
from scheduler.methods.case.figures import Figures

#: A bare face meets the air within this; an evening later it cools with the weather,
#: as any slab does (assumption). [min]
_SHOCK_MIN = 3 * 60


@dataclass(frozen=True)
class Shock:
    """A limit that would be broken if something came off at a minute."""

    at_min: int
    kind: Literal["hour", "day", "core", "air"]
    is_k: float
    most_k: float
    clause: str


def worst(shocks: Iterable[Shock]) -> Shock | None:
    """Give the one furthest beyond its limit."""
    return max(shocks, key=lambda shock: shock.is_k / shock.most_k, default=None)


def is_limited(profile: Profile, thickness_mm: float) -> bool:
    """Tell whether a rule limits what a member of a thickness may go through."""
    section = profile.section(thickness_mm)
    daily_k = section.cooling_max_k if section else None
    limits = (profile.cooling_hour_max_k, profile.core_surface_max_k, daily_k)
    return any(limit is not None for limit in limits)


def above_air(figures: Figures, above_k: float, at_min: int) -> Iterator[Shock]:
    """Yield the rule of insulation: all off only once the face is near the air."""
    near = figures.by_name.get("above_air")
    if near is not None and above_k > near.typical:
        yield Shock(at_min, "air", above_k, near.typical, near.source)


def broken(
    profile: Profile, thickness_mm: float, after: Lifted, at_min: int
) -> Iterator[Shock]:
    """Yield the limits that a face breaks in the days after its cover was lifted."""
    hour, day = 60 // after.step_min, 24 * 60 // after.step_min
    shock = _SHOCK_MIN // after.step_min
    face_c = after.face_c
    # The sun may have warmed it above the rest: falling back to that is no shock.
    from_c = np.minimum(face_c, after.mean_c)
    section = profile.section(thickness_mm)
    most_k = profile.cooling_hour_max_k
    if most_k is not None:
        falls_k = [
            from_c[i] - face_c[i : i + hour + 1].min()
            for i in range(min(shock, len(face_c)))
        ]
        if (is_k := float(max(falls_k, default=0.0))) > most_k:
            clause = profile.said_by("cooling_hour_max_k")
            yield Shock(at_min, "hour", is_k, most_k, clause)
    if section is not None and section.cooling_max_k is not None:
        is_k = float(from_c[0] - face_c[: day + 1].min())
        if is_k > section.cooling_max_k:
            clause = section.clause or profile.title
            yield Shock(at_min, "day", is_k, section.cooling_max_k, clause)
    most_k, from_mm = profile.core_surface_max_k, profile.core_surface_from_mm
    is_k = float((after.core_c - face_c).max())
    if most_k is not None and thickness_mm >= (from_mm or 0) and is_k > most_k:
        clause = profile.said_by("core_surface_max_k")
        yield Shock(at_min, "core", is_k, most_k, clause)
