"""The week of each surface as a picture needs it: phases, and reserve at its bends."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from math import inf

import numpy as np
from numpy.typing import NDArray

from models.local_clock import WeekClock
from models.records import (
    CoverForm,
    CoverProperties,
    Phase,
    PhaseKind,
    Surface,
    SurfaceTrace,
    TracePoint,
)
from scheduler.audit.checks.credited import Credited
from scheduler.audit.replayed.gaps import dry_cost
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.loss import DRY_UNITS
from scheduler.audit.replayed.simulation import Simulation

KINDS: tuple[PhaseKind, ...] = (
    "done", "steamed", "ponded", "insulated", "automatic", "sealed", "covered",
    "fogged", "exposed", "fresh",
)  # fmt: skip

#: Covers that are phases of their own, in the order of ``KINDS``.
_SHOWN_FORMS: tuple[CoverForm, ...] = ("pond", "blankets")

#: A plot of a week is some thousand points wide; the loss hardly turns in half an hour.
POINT_EVERY_MIN = 30


def surface_traces(
    surfaces: Sequence[Surface],
    simulation: Simulation,
    jobs: Sequence[Job],
    put_off: Mapping[str, Credited],
    clock: WeekClock,
) -> tuple[SurfaceTrace, ...]:
    """Draw up the trace of every surface.

    ``put_off`` are the ends of curing that dry time puts off, by surface.
    """
    grouped = by_surface(jobs)
    ends = [
        _ends_min(column, surface, simulation, put_off.get(surface.id), clock)
        for column, surface in enumerate(surfaces)
    ]
    return tuple(
        SurfaceTrace(
            surface_id=work.surface_id,
            label=work.label,
            part=surface.part,
            zone_id=work.zone_id,
            held_l_m2=surface.held_l_m2,
            phases=tuple(_phases(column, surface, simulation, ends[column], clock)),
            points=tuple(
                _points(
                    column, surface, simulation, grouped.get(work.surface_id, ()), clock
                )
            ),
            wettings=tuple(
                clock.horizon.at(minute)
                for minute in simulation.wettings[column]
                if simulation.covered_from[column]
                <= minute
                < simulation.counted_until[column]
            ),
            curing_ends_at=_instant(ends[column], clock),
            dry_min=int(simulation.dry[:, column].sum()),
            weighted_dry_cost=dry_cost(simulation, column),
        )
        for column, (surface, work) in enumerate(
            zip(surfaces, simulation.works, strict=True)
        )
    )


def _ends_min(
    column: int,
    surface: Surface,
    simulation: Simulation,
    put_off: Credited | None,
    clock: WeekClock,
) -> int | None:
    """Minute at which curing is over; never told of what nothing covers in time."""
    ends_min = simulation.works[column].ends_min
    if put_off is not None:
        if not put_off.is_known:
            return None
        ends_min = max(ends_min, clock.horizon.minute(put_off.ends_at))
    on = min(simulation.covered_from[column], simulation.sealed_from[column])
    bare_from = max(0, clock.horizon.minute(surface.exposed_at))
    bare = bare_from < ends_min and on >= min(ends_min, clock.horizon.length_min)
    return None if bare else ends_min


def _instant(minute: int | None, clock: WeekClock) -> datetime | None:
    return None if minute is None else clock.horizon.at(minute)


def _phases(
    column: int,
    surface: Surface,
    simulation: Simulation,
    ends_min: int | None,
    clock: WeekClock,
) -> Iterator[Phase]:
    """Yield runs of equal phase from the surface's first bare minute on."""
    stretches = simulation.works[column].fresh
    opens = min(
        [clock.horizon.minute(surface.exposed_at), *(s.from_min for s in stretches)]
    )
    first = max(0, opens)
    kinds = _kinds(column, surface, simulation, ends_min, clock)[first:]
    edges = [0, *(np.flatnonzero(np.diff(kinds)) + 1), len(kinds)]
    for start, end in pairwise(int(edge) for edge in edges):
        if start < end:
            yield Phase(
                kind=KINDS[kinds[start]],
                starts_at=clock.horizon.at(first + start),
                ends_at=clock.horizon.at(first + end),
            )


def _kinds(
    column: int,
    surface: Surface,
    simulation: Simulation,
    ends_min: int | None,
    clock: WeekClock,
) -> NDArray[np.int64]:
    """Index into ``KINDS`` of each minute; of what holds the first counts."""
    minute = np.arange(len(simulation.dry))
    sealed = minute >= simulation.sealed_from[column]
    covered = minute >= simulation.covered_from[column]
    under = {form: np.zeros(len(minute), bool) for form in _SHOWN_FORMS}
    for from_min, until_min, cover in _stages(column, surface, simulation):
        if cover.form in under:
            under[cover.form] |= (minute >= from_min) & (minute < until_min)
    timers_until = max(
        (f.until_min for f in simulation.works[column].automatic), default=0
    )
    steam = np.zeros(len(minute), bool)
    if surface.steam is not None:
        steam |= minute >= clock.horizon.minute(surface.steam.starts_at)
        steam &= minute < clock.horizon.minute(surface.steam.ends_at)
    holds = [
        minute >= (inf if ends_min is None else ends_min),
        covered & steam,
        *(covered & there for there in under.values()),
        sealed & (minute < timers_until),
        sealed,
        covered,
        simulation.guarded[:, column],
        simulation.dry[:, column] | (minute >= simulation.counted_until[column]),
    ]
    return np.select(holds, range(len(holds)), len(holds))


def _stages(
    column: int, surface: Surface, simulation: Simulation
) -> Iterator[tuple[float, float, CoverProperties]]:
    """Yield from and until which minute each of its covers lies there, in order."""
    bounds = pairwise([-inf, *simulation.changed_from[column], inf])
    for (from_min, until_min), cover in zip(bounds, surface.covers, strict=True):
        yield from_min, until_min, cover


def _points(
    column: int,
    surface: Surface,
    simulation: Simulation,
    jobs: Sequence[Job],
    clock: WeekClock,
) -> Iterator[TracePoint]:
    """Half-hours, jumps, the bends at dry and full, changes, and starts of visits.

    At a change of covers there are two points, in litres of the one and of the other;
    a cover that holds no water is shown in those of the one that counts.
    """
    first = int(simulation.covered_from[column])
    last = int(simulation.counted_until[column])
    if first >= last or not simulation.held_units[column]:
        return
    reserve = simulation.reserve_units[:, column]
    span = reserve[first : last + 1]
    at_limit = (span <= DRY_UNITS) | (span >= simulation.held_units[column])
    bends = first + np.flatnonzero(np.diff(at_limit.astype(np.int8))) + 1
    wet = {minute for minute in simulation.wettings[column] if first <= minute <= last}
    visits = {job.start_min for job in jobs if first <= job.start_min <= last}
    halves = range(first + (-first) % POINT_EVERY_MIN, last, POINT_EVERY_MIN)
    minutes = wet | visits | {first, last} | set(halves)
    minutes |= {int(m) for m in bends} | {int(m) - 1 for m in bends}
    changes = {m for m in simulation.changed_from[column] if first < m <= last}

    def there(minute: int) -> CoverProperties:
        begun = sum(start <= minute for start in simulation.changed_from[column])
        return surface.covers[begun]

    for minute in sorted(minutes | changes):
        at = clock.horizon.at(minute)
        if minute in changes:
            yield _point(
                at, simulation.before(minute, column), surface, there(minute - 1)
            )
        if minute in wet and minute > first:
            yield _point(at, simulation.before(minute, column), surface, there(minute))
        yield _point(
            at, simulation.reserve_l_m2(minute, column), surface, there(minute)
        )


def _point(
    at: datetime, counted_l_m2: float, surface: Surface, cover: CoverProperties
) -> TracePoint:
    """Give a reserve in the litres of the cover that lies there."""
    held_l_m2 = cover.held_l_m2
    if held_l_m2 in (0, surface.held_l_m2):
        return TracePoint(at=at, reserve_l_m2=counted_l_m2)
    true_l_m2 = counted_l_m2 * held_l_m2 / surface.held_l_m2
    return TracePoint(at=at, reserve_l_m2=true_l_m2, held_l_m2=held_l_m2)
