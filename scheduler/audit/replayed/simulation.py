"""The week of all surfaces simulated minute by minute: reserve, dry minutes, phases.

One pass over the minutes, all surfaces abreast, in whole numbers, so that a dry minute
is a fact and not a matter of rounding.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from models.records import Flags, Floats, Grid, Horizon, Surface, SurfaceWork
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.loss import (
    DRY_UNITS,
    UNITS_PER_L_M2,
    Units,
    by_minute,
    full_units,
    reserve_at_start,
)

_LEAST_SHARE = 1e-9  # left where shares that make up the whole are added as floats


@dataclass(frozen=True)
class Simulation:
    """What happened to the surfaces; columns in the order of ``works``.

    Attributes
    ----------
    loss_units : array (minutes, surfaces)
        Loss of each minute while wet.
    reserve_units : array (minutes + 1, surfaces)
        At the start of each minute and at the end of the last; 0 while not covered,
        full once sealed or wetted by a timer.
    dry, guarded : array (minutes, surfaces)
        Dry, all or a share of it, and counted; somebody there who keeps it wet.
    dry_share : array (minutes, surfaces)
        Share of the surface that is dry and counted: of a bare one what no visit keeps
        wet and no strip of its cover has been begun on. [-]
    covered_from, sealed_from : array (surfaces,)
        First minute under the cover or the compound; the horizon's length if never.
    counted_until : array (surfaces,)
        End of curing or of the horizon.
    changed_from : tuple of tuple of int
        First minute under each later cover of each surface.
    """

    works: tuple[SurfaceWork, ...]
    loss_units: Units
    reserve_units: Units
    held_units: Units
    dry: Flags
    dry_share: Floats
    guarded: Flags
    covered_from: Units
    sealed_from: Units
    counted_until: Units
    wettings: tuple[tuple[int, ...], ...]
    changed_from: tuple[tuple[int, ...], ...]

    def reserve_l_m2(self, minute: int, column: int) -> float:
        """Water left in a cover at the start of a minute, in L/m²."""
        return float(self.reserve_units[minute, column]) / UNITS_PER_L_M2

    def before(self, minute: int, column: int) -> float:
        """Water left at the end of the minute before, not yet wetted, in L/m²."""
        left = self.reserve_units[minute - 1, column]
        left = left - self.loss_units[minute - 1, column]
        return float(np.clip(left, 0, self.held_units[column])) / UNITS_PER_L_M2


def simulate(
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    jobs: Sequence[Job],
    loss_l_m2_h: NDArray[np.float64],
    grid: Grid,
    horizon: Horizon,
) -> Simulation:
    """Simulate the week; ``works`` and ``surfaces`` run in the same order."""
    length, count = horizon.length_min, len(works)
    shape = (length, count)
    guarded, fresh = np.zeros(shape, bool), np.zeros(shape, bool)
    kept_share = np.zeros(shape)
    wetted = np.zeros((length + 1, count), bool)
    covered_from = np.full(count, length, np.int64)
    sealed_from = np.full(count, length, np.int64)
    start = np.zeros(count, np.int64)
    held = np.array([full_units(surface) for surface in surfaces], np.int64)
    grouped = by_surface(jobs)
    for column, (surface, work) in enumerate(zip(surfaces, works, strict=True)):
        if surface.covered_at is not None:
            covered_from[column] = max(0, horizon.minute(surface.covered_at))
            start[column] = reserve_at_start(
                surface, loss_l_m2_h[:, column], grid, horizon
            )
        for stretch in work.fresh:
            fresh[_within(stretch.from_min, stretch.until_min, length), column] = True
        for job in grouped.get(work.surface_id, ()):
            end = min(max(job.end_min, 0), length)
            if job.task.protects:
                kept_from_min = job.start_min + job.task.half_done_min
                there = _within(kept_from_min, job.end_min, length)
                guarded[there, column] = True
                kept = _within(kept_from_min, length, length)
                kept = kept if job.task.strip else there
                kept_share[kept, column] += job.task.share_fraction
            if job.task.refills:
                wetted[end, column] = True
            if job.task.seals:
                sealed_from[column] = min(sealed_from[column], end)
            if job.task.covers:
                covered_from[column] = min(covered_from[column], end)
    loss = by_minute(loss_l_m2_h, grid, horizon)
    reserve = reserve_by_minute(start, held, loss, wetted, covered_from)
    safe = np.arange(length + 1)[:, None] >= np.maximum(sealed_from, covered_from)
    reserve = np.where(safe & (sealed_from < length), held, reserve)
    minute = np.arange(length)[:, None]
    counted_until = np.minimum([work.ends_min for work in works], length)
    covered = minute >= covered_from
    thirsty = covered & (held > 0) & (reserve[:-1] <= DRY_UNITS)
    bare_share = 1 - kept_share
    bare = ~covered & fresh & (bare_share > _LEAST_SHARE)
    dry = (
        ((thirsty & ~guarded) | bare)
        & (minute < sealed_from)
        & (minute < counted_until)
    )
    wettings = tuple(
        tuple(int(m) for m in np.flatnonzero(wetted[:, column]))
        for column in range(count)
    )
    return Simulation(
        works=tuple(works),
        loss_units=loss,
        reserve_units=reserve,
        held_units=held,
        dry=dry,
        dry_share=np.where(covered, 1.0, bare_share) * dry,
        guarded=guarded,
        covered_from=covered_from,
        sealed_from=sealed_from,
        counted_until=counted_until.astype(np.int64),
        wettings=wettings,
        changed_from=tuple(
            tuple(horizon.minute(stage.starts_at) for stage in surface.later)
            for surface in surfaces
        ),
    )


def _within(from_min: int, until_min: int, length: int) -> slice:
    return slice(min(max(from_min, 0), length), min(max(until_min, 0), length))


def reserve_by_minute(
    start: Units, held: Units, loss: Units, wetted: Flags, covered_from: Units
) -> Units:
    """Reserve at every minute: full after a wetting, falling under the cover."""
    length = len(loss)
    reserve = np.zeros((length + 1, len(start)), np.int64)
    now = start
    for minute in range(length + 1):
        now = np.where(minute < covered_from, 0, now)
        now = np.where(wetted[minute] & (minute >= covered_from), held, now)
        reserve[minute] = now
        if minute < length:
            now = np.clip(now - loss[minute], 0, held)
    return reserve
