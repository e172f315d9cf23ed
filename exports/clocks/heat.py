"""The upper plot: core, surface and air temperature, and the strength below it."""

from datetime import time, timedelta
from itertools import groupby

import numpy as np

from exports.axis import Axis
from exports.clocks.frame import HEAT_BOTTOM_PX, HEAT_TOP_PX, Text, x_of_minute
from exports.clocks.limits import LimitCourse
from exports.clocks.lines import Point, line_path, thinned
from exports.clocks.scale import Scale, scale
from models.quantities import Measure, Units, measure, show_share
from models.records import Floats, Grid, HydrationHistory, Record, Weather

_LABEL_PX = 15.0  # from the baseline of one label at a line's end to the next
_LEAST_SPAN = 10.0  # of the scale, in degrees of the site


class Line(Record):
    """A line with its label where it ends; ``style`` names dashes and weight."""

    style: str
    path: str
    label: str
    label_x: float
    label_y: float


Course = tuple[str, list[Point]]


def courses(
    hydration: HydrationHistory,
    weather: Weather,
    surface_id: str,
    axis: Axis,
    units: Units,
) -> tuple[Course, ...]:
    """Core, surface and air as points (minute of the week, degrees of the site)."""
    degrees = measure("exact temperature", units)
    column = hydration.surface_ids.index(surface_id)
    minutes, inside = _minutes(hydration.grid, axis)
    concrete = (
        ("core", hydration.core_temperature_c),
        ("surface", hydration.surface_temperature_c),
    )
    made = [
        (name, _points(minutes, values[inside, column], degrees))
        for name, values in concrete
    ]
    hours = [hour for hour in weather.hours if axis.holds(hour.at)]
    air = [
        (axis.minute(hour.at), degrees.shown(hour.air_temperature_c)) for hour in hours
    ]
    return (*made, ("air", air))


def heat_scale(all_courses: list[tuple[Course, ...]]) -> Scale:
    """One scale for all surfaces, so that they can be compared at a glance."""
    values = [y for each in all_courses for _, points in each for _, y in points]
    low, high = min(values, default=0.0), max(values, default=0.0)
    return scale(low, high, _LEAST_SPAN, HEAT_TOP_PX, HEAT_BOTTOM_PX)


def heat_lines(
    drawn: tuple[Course, ...],
    heights: Scale,
    axis: Axis,
    unit: str,
    limits: tuple[LimitCourse, ...] = (),
) -> tuple[Line, ...]:
    """Draw the courses and the limits they break, labels at their ends kept apart."""
    bounds = [_limit_line(limit, heights, axis) for limit in limits]
    lines = [line for line in bounds if line.label]
    for name, points in drawn:
        if not points:
            continue
        pixels = [(x_of_minute(axis, x), heights.y(y)) for x, y in points]
        lines.append(
            Line(
                style=name,
                path=line_path(thinned(pixels)),
                label=f"{name} {points[-1][1]:z.0f} {unit}",
                label_x=pixels[-1][0],
                label_y=pixels[-1][1],
            )
        )
    return (*(line for line in bounds if not line.label), *apart(lines))


def _limit_line(limit: LimitCourse, heights: Scale, axis: Axis) -> Line:
    """Draw a limit where it lies within the scale."""
    inside = groupby(
        limit.points, key=lambda point: heights.low <= point[1] <= heights.high
    )
    runs = [
        [(x_of_minute(axis, x), heights.y(y)) for x, y in run]
        for seen, run in inside
        if seen
    ]
    last = x_of_minute(axis, limit.points[-1][0]) if limit.points else 0.0
    return Line(
        style="bound",
        path="".join(line_path(thinned(run)) for run in runs),
        label=limit.label if runs else "",
        label_x=last,
        label_y=runs[-1][-1][1] if runs else 0.0,
    )


def apart(lines: list[Line]) -> tuple[Line, ...]:
    """Move labels down, then up from the plot's foot, until each has its own height."""
    ordered = sorted(lines, key=lambda line: (line.label_y, line.style))
    heights: list[float] = []
    for line in ordered:
        above = heights[-1] + _LABEL_PX if heights else -1e9
        heights.append(max(line.label_y, above))
    limit = HEAT_BOTTOM_PX
    for i in reversed(range(len(heights))):
        heights[i] = round(min(heights[i], limit), 1)
        limit = heights[i] - _LABEL_PX
    return tuple(
        line.model_copy(update={"label_y": y})
        for line, y in zip(ordered, heights, strict=True)
    )


def strength_texts(
    hydration: HydrationHistory, surface_id: str, axis: Axis
) -> tuple[Text, ...]:
    """Share of the 28-day strength at each midnight at which it is known.

    Not at the week's start: there stands the name of the row.
    """
    grid, column = hydration.grid, hydration.surface_ids.index(surface_id)
    texts = []
    for minute in dict.fromkeys((*axis.daily(time()), float(axis.length_min))):
        step = grid.step(axis.starts_at + timedelta(minutes=minute))
        if minute and 0 <= step < grid.steps:
            share = float(hydration.strength_fraction[step, column])
            if np.isfinite(share) and share > 0:
                at = x_of_minute(axis, minute)
                texts.append(Text(x=at, words=show_share(share)))
    return tuple(texts)


def _minutes(grid: Grid, axis: Axis) -> tuple[Floats, slice]:
    """Minutes of the week at which the grid's steps inside it begin."""
    offset_min = (grid.starts_at - axis.starts_at).total_seconds() / 60
    minutes = offset_min + grid.step_min * np.arange(grid.steps, dtype=np.float64)
    first, last = np.searchsorted(minutes, (0.0, axis.length_min + 0.5))
    inside = slice(int(first), int(last))
    return minutes[inside], inside


def _points(minutes: Floats, values_c: Floats, degrees: Measure) -> list[Point]:
    known = np.isfinite(values_c)
    return [
        (float(minute), degrees.shown(float(value)))
        for minute, value in zip(minutes[known], values_c[known], strict=True)
    ]
