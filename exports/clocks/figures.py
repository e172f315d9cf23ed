"""The figures asked for first: warmest, difference, cooling, hours of the cover."""

from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from models.local_clock import LocalClock
from models.quantities import Units, show, show_hours
from models.records import (
    DryingHistory,
    Flags,
    Floats,
    Grid,
    HydrationHistory,
    Record,
    Spread,
)

WARMEST = "warmest"
APART = "largest core–surface difference"
COOLING_NAME = "fastest surface cooling"
COVER = "a full cover lasts"
FORECAST_OFF = "if the forecast is off"
MODEL_OFF = "if the model is off"


class ChartFigure(Record):
    """A figure in words, such as ``warmest``, ``41.2 °C``, ``core, Tue 11 May ...``."""

    name: str
    value: str
    where: str = ""

    @property
    def words(self) -> str:
        """The figure on one line."""
        tail = f" ({self.where})" if self.where else ""
        return f"{self.name} {self.value}{tail}"


def heat_figures(
    hydration: HydrationHistory,
    surface_id: str,
    until: datetime,
    clock: LocalClock,
    units: Units,
) -> tuple[ChartFigure, ...]:
    """Warmest, largest difference and fastest cooling from placing to an instant."""
    grid, column = hydration.grid, hydration.surface_ids.index(surface_id)
    end = min(grid.steps, max(0, grid.step(until)))
    surface_c = hydration.surface_temperature_c[:end, column]
    core_c = hydration.core_temperature_c[:end, column]
    if not np.isfinite(surface_c).any():
        return (ChartFigure(name="placed", value="after this week"),)

    both = np.stack([core_c, surface_c])
    place, step = divmod(int(np.nanargmax(both)), end)
    figures = [
        ChartFigure(
            name=WARMEST,
            value=show("exact temperature", both[place, step], units),
            where=f"{('core', 'surface')[place]}, {clock.day_time(grid.at(step))}",
        )
    ]
    apart_k = np.abs(core_c - surface_c)
    step = int(np.nanargmax(apart_k))
    figures.append(
        ChartFigure(
            name=APART,
            value=show("exact temperature difference", apart_k[step], units),
            where=clock.day_time(grid.at(step)),
        )
    )
    cooling = fastest_cooling(surface_c, grid.step_min)
    if cooling:
        step, rate_k_h = cooling
        figures.append(
            ChartFigure(
                name=COOLING_NAME,
                value=show("cooling", rate_k_h, units),
                where=f"in the hour from {clock.day_time(grid.at(step))}",
            )
        )
    return tuple(figures)


def fastest_cooling(surface_c: Floats, step_min: int) -> tuple[int, float] | None:
    """Find the step from which the surface cools most in an hour, and its K/h.

    None where it never cools, or is known for less than an hour.
    """
    lag = max(1, round(60 / step_min))
    fall_k_h = (surface_c[:-lag] - surface_c[lag:]) * 60 / (lag * step_min)
    known = np.flatnonzero(np.isfinite(fall_k_h))
    if not known.size:
        return None
    step = int(known[np.argmax(fall_k_h[known])])
    return (step, float(fall_k_h[step])) if fall_k_h[step] > 0 else None


def cover_figures(
    drying: DryingHistory,
    surface_id: str,
    covered: list[tuple[datetime, datetime]],
    clock: LocalClock,
    spread: Spread,
) -> tuple[ChartFigure, ...]:
    """How long a full cover lasts, begun at its worst and at its best covered step.

    Then the same two by the early and the late clock, of forecast and of model. Empty
    where no cover that dries lies on the surface in this week.
    """
    grid, starts = drying.grid, _steps_within(drying.grid, covered)
    if not drying.held_l_m2[drying.surface_ids.index(surface_id)] or not starts.size:
        return ()
    lasts_h, empties = _lasts(drying, surface_id, starts)
    worst = int(np.argmin(np.where(empties, lasts_h, np.inf)))
    best = int(np.argmax(lasts_h))
    value, where = _worst_to_best(lasts_h, empties, worst, best), ""
    if empties.any():
        times = (clock.day_time(grid.at(int(starts[i]))) for i in (worst, best))
        where = f"wetted {', '.join(times)}"
    figures = [ChartFigure(name=COVER, value=value, where=where)]
    for name, sides in ((FORECAST_OFF, spread.forecast), (MODEL_OFF, spread.model)):
        if sides:
            early, late = (
                _lasts(side, surface_id, starts[[start]])
                for side, start in zip(sides, (worst, best), strict=True)
            )
            both = np.concatenate([early[0], late[0]])
            off = _worst_to_best(both, np.concatenate([early[1], late[1]]), 0, 1)
            if off != value:
                figures.append(ChartFigure(name=name, value=off))
    return tuple(figures)


def _lasts(
    drying: DryingHistory, surface_id: str, starts: NDArray[np.int_]
) -> tuple[Floats, Flags]:
    """Hours from each start until a full cover is dry, and whether it ever is."""
    column = drying.surface_ids.index(surface_id)
    held_l_m2 = float(drying.held_l_m2[column])
    # Of covers that follow one another each empties its own share.
    held_steps = drying.held_steps_l_m2[:, column]
    ratio = np.divide(
        held_l_m2, held_steps, out=np.zeros(len(held_steps)), where=held_steps > 0
    )
    loss = drying.cover_loss_l_m2_h[:, column] * ratio
    return hours_full_cover_lasts(loss, held_l_m2, drying.grid.step_min, starts)


def _worst_to_best(lasts_h: Floats, empties: Flags, worst: int, best: int) -> str:
    if not empties.any():
        return f"{lasts_h.max():.0f} h or more all week"
    shortest, longest = (
        show_hours(lasts_h[i]) + ("" if empties[i] else " or more")
        for i in (worst, best)
    )
    return f"{shortest} at worst, {longest} at best"


def hours_full_cover_lasts(
    loss_l_m2_h: Floats, held_l_m2: float, step_min: int, starts: NDArray[np.int_]
) -> tuple[Floats, Flags]:
    """Play a cover that is full at each start until it is dry.

    Rain (negative loss) fills it, never above ``held_l_m2``.

    Returns
    -------
    lasts_h : array
        Hours to dryness, or to the end of the loss where it is not dry by then. [h]
    empties : array of bool
        Whether it is dry by then.
    """
    lasts_h = (len(loss_l_m2_h) - starts) * step_min / 60
    empties = np.zeros(len(starts), dtype=bool)
    left_l_m2 = np.full(len(starts), held_l_m2)
    # Where less will be lost than is held there is nothing to play.
    to_come = np.cumsum(np.maximum(loss_l_m2_h, 0)[::-1])[::-1] * step_min / 60
    wet = np.flatnonzero(to_come[starts] >= held_l_m2 * (1 - 1e-9))
    for after in range(len(loss_l_m2_h)):
        wet = wet[starts[wet] + after < len(loss_l_m2_h)]
        if not wet.size:
            break
        rate = loss_l_m2_h[starts[wet] + after]
        rest = left_l_m2[wet] - rate * step_min / 60
        dry = rest <= 0
        done = wet[dry]
        lasts_h[done] = after * step_min / 60 + left_l_m2[done] / rate[dry]
        empties[done] = True
        left_l_m2[wet] = np.minimum(rest, held_l_m2)
        wet = wet[~dry]
    return lasts_h, empties


def _steps_within(
    grid: Grid, spans: list[tuple[datetime, datetime]]
) -> NDArray[np.int_]:
    almost = timedelta(microseconds=1)  # a span ends before the step at its end
    steps = {
        step
        for starts_at, ends_at in spans
        for step in range(grid.step(starts_at), grid.step(ends_at - almost) + 1)
        if 0 <= step < grid.steps
    }
    return np.asarray(sorted(steps), dtype=np.int_)
