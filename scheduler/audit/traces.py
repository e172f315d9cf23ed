"""The week of each surface as a picture needs it: phases, and reserve at its bends."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from models.records import Phase, Surface, SurfaceTrace, TracePoint
from scheduler.audit.gaps import dry_cost
from scheduler.audit.jobs import Job, by_surface
from scheduler.audit.loss import DRY_UNITS
from scheduler.audit.play import Play
from scheduler.audit.site_clock import SiteClock

PhaseKind = Literal["fresh", "fogged", "exposed", "covered", "sealed", "done"]
KINDS: tuple[PhaseKind, ...] = (
    "done", "sealed", "covered", "fogged", "exposed", "fresh",
)  # fmt: skip

#: A plot of a week is some thousand points wide; the loss hardly turns in half an hour.
POINT_EVERY_MIN = 30


def surface_traces(
    surfaces: Sequence[Surface], play: Play, jobs: Sequence[Job], clock: SiteClock
) -> tuple[SurfaceTrace, ...]:
    """Draw up the trace of every surface."""
    grouped = by_surface(jobs)
    return tuple(
        SurfaceTrace(
            surface_id=work.surface_id,
            label=work.label,
            zone_id=work.zone_id,
            held_l_m2=surface.cover.held_l_m2,
            phases=tuple(_phases(column, surface, play, clock)),
            points=tuple(
                _points(column, play, grouped.get(work.surface_id, ()), clock)
            ),
            wettings=tuple(
                clock.horizon.at(minute)
                for minute in play.wettings[column]
                if play.covered_from[column] <= minute < play.counted_until[column]
            ),
            dry_min=int(play.dry[:, column].sum()),
            weighted_dry_cost=dry_cost(play, column),
        )
        for column, (surface, work) in enumerate(zip(surfaces, play.works, strict=True))
    )


def _phases(
    column: int, surface: Surface, play: Play, clock: SiteClock
) -> Iterator[Phase]:
    """Yield runs of equal phase from the surface's first bare minute on."""
    stretches = play.works[column].fresh
    opens = min(
        [clock.horizon.minute(surface.exposed_at), *(s.from_min for s in stretches)]
    )
    first = max(0, opens)
    kinds = _kinds(column, play)[first:]
    edges = [0, *(np.flatnonzero(np.diff(kinds)) + 1), len(kinds)]
    for start, end in pairwise(int(edge) for edge in edges):
        if start < end:
            yield Phase(
                kind=KINDS[kinds[start]],
                starts_at=clock.horizon.at(first + start),
                ends_at=clock.horizon.at(first + end),
            )


def _kinds(column: int, play: Play) -> NDArray[np.int64]:
    """Index into ``KINDS`` of each minute; of what holds the first counts."""
    minute = np.arange(len(play.dry))
    holds = [
        minute >= play.works[column].ends_min,
        minute >= play.sealed_from[column],
        minute >= play.covered_from[column],
        play.guarded[:, column],
        play.dry[:, column],
    ]
    return np.select(holds, range(len(holds)), len(holds))


def _points(
    column: int, play: Play, jobs: Sequence[Job], clock: SiteClock
) -> Iterator[TracePoint]:
    """Half-hours, jumps, the bends at dry and full, and the start of every visit."""
    first = int(play.covered_from[column])
    last = int(play.counted_until[column])
    if first >= last or not play.held_units[column]:
        return
    reserve = play.reserve_units[:, column]
    span = reserve[first : last + 1]
    at_limit = (span <= DRY_UNITS) | (span >= play.held_units[column])
    bends = first + np.flatnonzero(np.diff(at_limit.astype(np.int8))) + 1
    wet = {minute for minute in play.wettings[column] if first <= minute <= last}
    visits = {job.start_min for job in jobs if first <= job.start_min <= last}
    halves = range(first + (-first) % POINT_EVERY_MIN, last, POINT_EVERY_MIN)
    minutes = wet | visits | {first, last} | set(halves)
    minutes |= {int(m) for m in bends} | {int(m) - 1 for m in bends}
    for minute in sorted(minutes):
        if minute in wet and minute > first:
            before = play.before_wetting(minute, column)
            yield TracePoint(at=clock.horizon.at(minute), reserve_l_m2=before)
        here = play.reserve_l_m2(minute, column)
        yield TracePoint(at=clock.horizon.at(minute), reserve_l_m2=here)
