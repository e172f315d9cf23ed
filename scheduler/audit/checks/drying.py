"""Whether the work given to the solver dries as the surfaces do.

Covers, their water at the start and their losses are compared with the audit's own; a
difference means that the two clocks and the work list do not belong together.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from models.local_clock import WeekClock
from models.records import Finding, Floats, Grid, Horizon, Surface, SurfaceWork
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.loss import UNITS_PER_L_M2, by_minute, reserve_at_start

#: Both sides round to a millionth; what falls between two may come out either way.
SLACK_UNITS = 1
#: Reserves at the start add up many rounded losses.
SLACK_L_M2 = 1e-5


def check_drying(
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    loss_l_m2_h: Floats,
    grid: Grid,
    clock: WeekClock,
) -> list[Finding]:
    """Find where the work's cover, reserve or drying curve is not the audit's."""
    horizon = clock.horizon
    loss = by_minute(loss_l_m2_h, grid, horizon)
    findings = []
    for column, (surface, work) in enumerate(zip(surfaces, works, strict=True)):
        reserve = reserve_at_start(surface, loss_l_m2_h[:, column], grid, horizon)
        statements = [
            *_cover(surface, work, horizon),
            *_start(work, reserve / UNITS_PER_L_M2),
            *_curve(surface, work, loss[:, column], clock),
        ]
        for minute, words in statements:
            findings.append(
                found(
                    clock, "drying_clock", f"{work.label}: {words}", minute,
                    horizon.length_min, surface_id=work.surface_id,
                )
            )  # fmt: skip
    return findings


def _cover(
    surface: Surface, work: SurfaceWork, horizon: Horizon
) -> Iterator[tuple[int, str]]:
    held = surface.held_l_m2
    if work.curve is not None and abs(work.curve.held_l_m2 - held) > SLACK_L_M2:
        yield (
            0,
            f"its cover holds {held:g} L/m²; the work says {work.curve.held_l_m2:g}",
        )
    if work.curve is None and work.rewet is not None:
        yield 0, "rewets are asked for where nothing dries"
    own = None
    if surface.covered_at is not None:
        own = horizon.minute(surface.covered_at)
    if own != work.covered_from_min:
        yield 0, f"covered from minute {own}; the work says {work.covered_from_min}"


def _start(work: SurfaceWork, reserve_l_m2: float) -> Iterator[tuple[int, str]]:
    if work.curve is None:
        return
    if abs(work.reserve_at_start_l_m2 - reserve_l_m2) > SLACK_L_M2:
        yield (
            0,
            (
                f"{reserve_l_m2:.3f} L/m² are in its cover at the start; the work says "
                f"{work.reserve_at_start_l_m2:.3f}"
            ),
        )


def _curve(
    surface: Surface,
    work: SurfaceWork,
    loss: "np.typing.NDArray[np.int64]",
    clock: WeekClock,
) -> Iterator[tuple[int, str]]:
    """First minute of the counted time at which the two losses differ."""
    first = max(0, clock.horizon.minute(surface.exposed_at))
    last = min(len(loss), work.ends_min)
    if work.curve is None or first >= last:
        return
    steps = np.rint(np.array(work.curve.loss_l_m2_h) * 1e6).astype(np.int64)
    index = np.minimum(np.arange(len(loss)) // work.curve.step_min, len(steps) - 1)
    differs = np.abs(steps[index] - loss)[first:last] > SLACK_UNITS
    if differs.any():
        at = first + int(np.argmax(differs))
        yield (
            at,
            (
                f"its cover loses {loss[at] / 1e6:.6f} L/(m² h) {clock.words(at)}; the "
                f"work says {steps[index[at]] / 1e6:.6f}"
            ),
        )
