"""Limits on temperature that are broken: a line each, and a bar for each stretch.

Bars of cold stand at the top of the plot and those of heat at its foot, where the
lines are not that they tell of.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

import numpy as np

from exports.axis import Axis
from exports.breaches import Breached, Span
from exports.clocks.frame import (
    HEAT_BOTTOM_PX,
    HEAT_TOP_PX,
    LETTER_PX,
    RIGHT_PX,
    x_of_minute,
)
from exports.clocks.lines import Point
from models.quantities import Units, measure
from models.records import BreachKind, Record

#: One kind of breach beside the other, a bar and a line of words each. [px]
_ROW_PX, BAR_PX = 21.0, 7.0
_COLD: tuple[BreachKind, ...] = ("freezes_before_set", "frost", "too_cold")
#: A moment has to be seen too. [px]
_LEAST_PX = 8.0
#: So long a steepest fall is drawn at least: that of an hour alone is a speck. [h]
_FALL_H = 4
#: Around the moment in which a cover comes off. [min]
_AROUND_MIN = 12 * 60
#: Held against a temperature of their own; the others against face or air.
_ABSOLUTE: tuple[BreachKind, ...] = (
    "freezes_before_set", "frost", "too_hot", "too_cold",
)  # fmt: skip


class BreachBand(Record):
    """A bar for a stretch, with its name if it is wide enough.

    Where none of one limit is, the first has the name all the same.
    """

    x: float
    width: float
    y: float
    words: str
    label: str
    label_x: float
    label_y: float
    anchor: Literal["start", "mid", "end"]


class LimitCourse(Record):
    """What a temperature is held against, as points in degrees of the site."""

    label: str
    points: tuple[Point, ...]


def breach_bands(breached: Sequence[Breached], axis: Axis) -> tuple[BreachBand, ...]:
    """Place each stretch; what is outside two limits at once gets two rows."""
    cold = [one for one in breached if one.kind in _COLD]
    warm = [one for one in breached if one.kind not in _COLD]
    bands: list[BreachBand] = []
    for row, one in enumerate(cold):
        bar = HEAT_TOP_PX + 2 + row * _ROW_PX
        bands += _row(one, bar, bar + BAR_PX + 11, axis)
    for row, one in enumerate(warm):
        bar = HEAT_BOTTOM_PX - 2 - BAR_PX - row * _ROW_PX
        bands += _row(one, bar, bar - 4, axis)
    return tuple(bands)


def _row(one: Breached, bar: float, words: float, axis: Axis) -> Iterator[BreachBand]:
    label = one.title.lower()
    letters_px = LETTER_PX * len(label)
    ends = [_ends_px(span, axis) for span in one.spans]
    roomy = [right - left > letters_px + 6 for left, right in ends]
    for number, ((left, right), fits) in enumerate(zip(ends, roomy, strict=True)):
        anchor: Literal["start", "mid", "end"] = "mid"
        label_x = (left + right) / 2
        if not fits and left + letters_px < RIGHT_PX:
            anchor, label_x = "start", left
        elif not fits:
            anchor, label_x = "end", right
        yield BreachBand(
            x=left, width=round(right - left, 1), y=bar, words=one.sentence,
            label=label if fits or (number == 0 and not any(roomy)) else "",
            label_x=round(label_x, 1), label_y=words, anchor=anchor,
        )  # fmt: skip


def _ends_px(span: Span, axis: Axis) -> tuple[float, float]:
    left = x_of_minute(axis, axis.minute(span.starts_at))
    right = x_of_minute(axis, axis.minute(span.ends_at))
    left = min(left, RIGHT_PX - _LEAST_PX)
    return left, max(right, left + _LEAST_PX)


def limit_courses(
    breached: Sequence[Breached],
    face: Sequence[Point],
    air: Sequence[Point],
    axis: Axis,
    units: Units,
) -> tuple[LimitCourse, ...]:
    """Give each limit that is broken once: how high it runs, or how steep.

    Parameters
    ----------
    breached : sequence of Breached
        Of one surface.
    face, air : sequence of (float, float)
        Their courses: minute of the week, degrees of the site.
    axis, units
        Of the site.
    """
    made = (_course(one, face, air, axis, units) for one in breached)
    return tuple({course: None for course in made if course is not None})


def _course(
    one: Breached,
    face: Sequence[Point],
    air: Sequence[Point],
    axis: Axis,
    units: Units,
) -> LimitCourse | None:
    breach = one.worst_breach
    if breach.limit is None or not face:
        return None
    if one.kind in _ABSOLUTE:
        degrees = measure("exact temperature", units)
        level = degrees.shown(breach.limit)
        ends = (face[0][0], level), (face[-1][0], level)
        return LimitCourse(label=f"limit {level:g} {degrees.unit}", points=ends)
    apart = measure("exact temperature difference", units)
    more, at_min = apart.shown(breach.limit), axis.minute(breach.worst_at)
    if one.kind == "core_to_face":
        label = f"limit: face + {more:.3g} {apart.unit}"
        return LimitCourse(label=label, points=_raised(face, more))
    if one.kind == "above_air":
        near = [point for point in air if abs(point[0] - at_min) <= _AROUND_MIN]
        return LimitCourse(label="", points=_raised(near, more))
    # Cooling: the steepest fall that is allowed, from where it begins.
    within_h = breach.within_h or 24
    drawn_h = max(within_h, _FALL_H)
    until_min, more = at_min + 60 * drawn_h, more * drawn_h / within_h
    minutes, degrees_at = zip(*face, strict=True)
    level = float(np.interp(at_min, minutes, degrees_at))
    return LimitCourse(label="", points=((at_min, level), (until_min, level - more)))


def _raised(course: Iterable[Point], more: float) -> tuple[Point, ...]:
    return tuple((x, y + more) for x, y in course)
