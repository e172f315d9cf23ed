"""When covers are really changed, and what dries until then.

The work counts a later cover from its planned instant on. A change that is done later,
or by nobody, leaves the cover before it on the concrete: the audit runs that one's
water down on its own, shows it, and says where it is dry although the plan does not
count it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from models.drying.surroundings import Surroundings
from models.local_clock import WeekClock
from models.records import (
    CoverProperties,
    Finding,
    Flags,
    Horizon,
    HydrationHistory,
    Surface,
    SurfaceWork,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.loss import DRY_UNITS, Units, by_minute, cover_loss_l_m2_h
from scheduler.audit.replayed.runs import stretches
from scheduler.audit.replayed.simulation import Simulation


def with_late_changes(
    surfaces: Sequence[Surface],
    simulation: Simulation,
    jobs: Mapping[str, Sequence[Job]],
    around: Surroundings,
    hydration: HydrationHistory,
    clock: WeekClock,
) -> tuple[Simulation, list[Finding]]:
    """Show what really lies there, and find what dries that no gap counts."""
    shown = simulation.reserve_units.copy()
    starts: list[tuple[int, ...]] = []
    findings: list[Finding] = []
    for column, (surface, work) in enumerate(
        zip(surfaces, simulation.works, strict=True)
    ):
        own = jobs.get(work.surface_id, ())
        begins = changed_from(surface, work, own, clock.horizon)
        starts.append(begins)
        for change in _late(column, surface, simulation, begins):
            span = slice(change.from_min, change.until_min)
            alone = list(surfaces)
            alone[column] = surface.model_copy(
                update={"cover": change.before, "later": ()}
            )
            loss = cover_loss_l_m2_h(alone, around, hydration)[:, [column]]
            loss = loss * (surface.held_l_m2 / change.before.held_l_m2)
            units = by_minute(loss, hydration.grid, clock.horizon)[:, 0]
            left = _run_down(
                simulation, column, units, int(shown[span.start, column]), span
            )
            shown[span, column] = left
            dry = (left <= DRY_UNITS) & ~simulation.guarded[span, column]
            dry &= ~simulation.dry[span, column]
            if dry.any():
                findings.append(_finding(work, change, dry, clock))
    return replace(
        simulation, reserve_units=shown, changed_from=tuple(starts)
    ), findings


@dataclass(frozen=True)
class _Late:
    """A stretch in which a cover still lies there although the next one is planned."""

    before: CoverProperties
    after: CoverProperties
    from_min: int
    until_min: int


def _late(
    column: int, surface: Surface, simulation: Simulation, begins: Sequence[int]
) -> Iterator[_Late]:
    """Yield the stretches, in order, in which an older cover may dry unnoticed."""
    counted = min(simulation.counted_until[column], simulation.sealed_from[column])
    free_min = int(simulation.covered_from[column])
    for planned_min, begin_min, after in zip(
        simulation.changed_from[column], begins, surface.covers[1:], strict=True
    ):
        from_min, until_min = max(0, free_min, planned_min), min(begin_min, counted)
        lying = surface.covers[sum(begin <= from_min for begin in begins)]
        if from_min < until_min and lying.held_l_m2 > 0:
            yield _Late(lying, after, from_min, int(until_min))
            free_min = int(until_min)


def _finding(work: SurfaceWork, change: _Late, dry: Flags, clock: WeekClock) -> Finding:
    first, last = change.from_min, change.until_min
    done = f"laid only {clock.words(last)}"
    if last >= clock.horizon.length_min:
        done = "never laid"
    spans = ", ".join(clock.span(first + a, first + b) for a, b in stretches(dry))
    words = (
        f"{work.label}: {change.after.title} planned {clock.words(first)}, {done}; "
        f"until then {change.before.title.lower()} is dry {spans}, not counted as a gap"
    )
    return found(
        clock, "late_change", words, first, last,
        surface_id=work.surface_id, minutes=int(dry.sum()),
    )  # fmt: skip


def changed_from(
    surface: Surface, work: SurfaceWork, own: Sequence[Job], horizon: Horizon
) -> tuple[int, ...]:
    """First minute under each later cover: as planned, or when its change is done.

    One whose change nobody does begins after the horizon's end; one that the work asks
    no change for begins as planned.
    """
    planned = [horizon.minute(stage.starts_at) for stage in surface.later]
    ends = {job.task.id: job.end_min for job in own}
    begins = list(planned)
    for task in work.tasks:
        if planned and task.facts.changes:
            away = [abs(minute - task.earliest_min) for minute in planned]
            index = away.index(min(away))
            done_min = ends.get(task.id, horizon.length_min + 1)
            begins[index] = max(begins[index], done_min)
    for index in reversed(range(len(begins) - 1)):
        begins[index] = min(begins[index], begins[index + 1])  # it never lay there
    return tuple(begins)


def _run_down(
    simulation: Simulation, column: int, loss: Units, now: int, span: slice
) -> Units:
    """Reserve at the start of each minute while the cover before goes on losing."""
    held, wetted = int(simulation.held_units[column]), set(simulation.wettings[column])
    left = []
    for minute in range(span.start, span.stop):
        now = held if minute in wetted else now
        left.append(now)
        now = min(held, max(0, now - int(loss[minute])))
    return np.array(left, np.int64)
