"""The course of one surface under some visits, counted from the roster's work alone.

The audit needs both clocks for it; here the curve that the roster carries is enough, so
that a visit can be taken away or put in and the surface followed once more.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from models.records import SurfaceWork, WeightStep
from scheduler.audit.replayed.jobs import Job

Floats = NDArray[np.float64]
_DRY_L_M2 = 1e-6


@dataclass(frozen=True)
class Course:
    """What happens to a surface, minute by minute.

    Attributes
    ----------
    bare, dry : array (minutes,)
        Share of the area that dries bare, and that is dry under its cover. [-]
    left : array (minutes,)
        Share of what the cover holds that is left in it; 0 while none is on. [-]
    on_min, off_min : int or None
        From when its cover is on, and when all of it is lifted.
    counted_until_min : int
        End of the horizon or of curing, or the seal.
    cost : array (minutes,)
        Price of what is bare or dry.
    """

    bare: Floats
    dry: Floats
    left: Floats
    on_min: int | None
    off_min: int | None
    counted_until_min: int
    cost: Floats

    @property
    def thirsty(self) -> Floats:
        """Share of the area that is bare or dry."""
        return self.bare + self.dry

    def stretches(self) -> list[tuple[int, int, bool]]:
        """Gaps, as first minute, the one after the last, and whether it is bare."""
        found, state = [], np.where(self.bare > 0, 1, np.where(self.dry > 0, 2, 0))
        edges = np.flatnonzero(np.diff(state, prepend=0, append=0))
        for first, until in pairwise(edges):
            if state[first]:
                found.append((int(first), int(until), bool(state[first] == 1)))
        return found


def weight_by_minute(steps: tuple[WeightStep, ...], length_min: int) -> Floats:
    """Price of a dry minute of the whole surface, at every minute."""
    starts = [step.from_min for step in steps]
    index = np.searchsorted(starts, np.arange(length_min), side="right") - 1
    return np.array([step.per_min for step in steps])[np.maximum(index, 0)]


@lru_cache(maxsize=512)
def _loss_l_m2_min(steps: tuple[float, ...], step_min: int, length_min: int) -> Floats:
    index = np.minimum(np.arange(length_min) // step_min, len(steps) - 1)
    return np.array(steps)[index] / 60


def loss_l_m2_min(work: SurfaceWork, length_min: int) -> Floats:
    """What its full cover loses in each minute."""
    if work.curve is None:
        return np.zeros(length_min)
    return _loss_l_m2_min(work.curve.loss_l_m2_h, work.curve.step_min, length_min)


def first_dry_min(work: SurfaceWork, full_at_min: int, length_min: int) -> int:
    """First dry minute of a cover that is full at a minute; else the last of all."""
    until = min(length_min, work.ends_min)
    if work.curve is None or full_at_min >= until:
        return until
    loss = loss_l_m2_min(work, length_min)[full_at_min:until]
    gone = np.cumsum(loss)
    # Rain fills it, never above the brim: what runs over is added to all that follows.
    gone = gone - np.minimum(0, np.minimum.accumulate(gone))
    empty = np.flatnonzero(gone >= work.curve.held_l_m2 - _DRY_L_M2)
    return full_at_min + int(empty[0]) + 1 if len(empty) else until


def follow(work: SurfaceWork, jobs: Iterable[Job], length_min: int) -> Course:
    """Follow a surface through the visits to it."""
    own = sorted(jobs, key=lambda job: job.start_min)
    ons = [job.end_min for job in own if job.task.covers]
    if work.covered_from_min is not None:
        ons.append(max(0, work.covered_from_min))
    on = min(ons, default=None)
    sealed = min((job.end_min for job in own if job.task.seals), default=length_min)
    until = max(0, min(length_min, work.ends_min, sealed))
    guarded = np.zeros(length_min, bool)
    for job in own:
        if job.task.protects:
            kept_from = job.start_min + job.task.half_done_min
            guarded[max(0, kept_from) : max(0, job.end_min)] = True
    bare, dry = np.zeros(length_min), np.zeros(length_min)
    bare_until = until if on is None else min(on, until)
    for stretch in work.fresh:
        bare[max(0, stretch.from_min) : max(0, min(stretch.until_min, bare_until))] = 1
    left = np.zeros(length_min)
    if on is not None and work.curve is not None and on < until:
        fills = {job.end_min for job in own if job.task.refills}
        starts_full = on > 0
        left = _left(work, on, until, fills, starts_full, length_min)
        dry[on:until] = left[on:until] <= _DRY_L_M2
    bare[guarded], dry[guarded] = 0, 0
    cost = bare * weight_by_minute(work.fresh_weights, length_min)
    cost += dry * weight_by_minute(work.weights, length_min)
    return Course(bare, dry, left, on, _off_min(work, own), until, cost)


def _left(
    work: SurfaceWork,
    on: int,
    until: int,
    fills: set[int],
    starts_full: bool,
    length_min: int,
) -> Floats:
    assert work.curve is not None
    held = work.curve.held_l_m2
    loss = loss_l_m2_min(work, length_min).tolist()
    now = held if starts_full else min(held, work.reserve_at_start_l_m2)
    left = np.zeros(length_min)
    for minute in range(on, until):
        if minute in fills:
            now = held
        left[minute] = now / held
        now = min(held, max(0.0, now - loss[minute]))
    return left


def _off_min(work: SurfaceWork, own: list[Job]) -> int | None:
    """When all of the cover is lifted; None where it is not."""
    parts = [task.id for task in work.tasks if task.facts.lifts]
    ends = {job.task.id: job.end_min for job in own}
    if not parts or any(name not in ends for name in parts):
        return None
    return max(ends[name] for name in parts)
