"""Whether insulation comes off while the face is much warmer than the air.

Findings for people to look at: the site measures before it lifts anything. How the
concrete cools then is ``removal_temperature.py``'s.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime

import numpy as np

from models.drying.surroundings import Surroundings
from models.local_clock import WeekClock
from models.quantities import show
from models.records import Breach, Finding, HydrationHistory, SiteInput, Surface
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.stages import as_cured, changes, cover_at

#: A cover of this resistance or more keeps concrete warm (assumption: wet covers have
#: a fiftieth of it). [m² K/W]
INSULATES_M2K_W = 0.2
#: All off only once the face is within 20 °F of the air: Concrete Construction, a
#: question on cold-weather protection, read in an excerpt. [K]
ABOVE_AIR_K = 11.0
_ABOVE_AIR_BY = "trade advice on cold-weather protection: 20 °F"


def check_insulation_off(
    site_input: SiteInput,
    surfaces: Sequence[Surface],
    around: Surroundings,
    hydration: HydrationHistory,
    jobs: Sequence[Job],
    clock: WeekClock,
) -> Iterator[Finding]:
    """Find insulation that comes off a face much warmer than the air."""
    grid, grouped = hydration.grid, by_surface(jobs)
    air = np.broadcast_to(around.air_temperature_c, (grid.steps, len(surfaces)))
    for column, surface in enumerate(surfaces):
        ends = hydration.events[column].curing_ends
        had = as_cured(surface, ends.expected_at if ends else None)
        for off_at in _insulation_off(had, grouped.get(surface.id, [])):
            step, minute = grid.step(off_at), clock.horizon.minute(off_at)
            if not 0 <= step < grid.steps:
                continue
            face_c = hydration.surface_temperature_c[max(0, step - 1), column]
            above_k = float(face_c - air[step, column])
            if above_k <= ABOVE_AIR_K:
                continue
            is_k, most = (
                show("temperature difference", k, site_input.site.units)
                for k in (above_k, ABOVE_AIR_K)
            )
            words = (
                f"{surface.label}: insulation comes off {clock.words(minute)} with its "
                f"face {is_k} above the air; at most {most}"
            )
            yield found(
                clock, "temperature", words, minute, minute + 1, surface_id=surface.id,
                breach=Breach(
                    kind="above_air", value_k=round(above_k, 2), limit_k=ABOVE_AIR_K,
                    clause=_ABOVE_AIR_BY, worst_at=off_at,
                ),
            )  # fmt: skip


def _insulation_off(surface: Surface, own: Sequence[Job]) -> Iterator[datetime]:
    """Yield when insulation gives way to less, as planned, or is lifted."""
    for at, before, after in changes(surface):
        if before.resistance_m2k_w >= INSULATES_M2K_W > after.resistance_m2k_w:
            yield at
    for job in own:
        there = cover_at(surface, job.visit.starts_at)
        if job.task.facts.lifts and there.resistance_m2k_w >= INSULATES_M2K_W:
            yield job.visit.starts_at
