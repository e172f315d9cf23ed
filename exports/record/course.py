"""The drawn course of a record: water in the cover and temperature over the same time.

Black on white and told apart by line, not by colour: records are copied and scanned.
"""

from collections.abc import Callable, Iterator
from html import escape

from exports.clocks.scale import Scale, scale
from exports.record.curing_record import Course, Points, Sign, Stretch

_WIDTH, _HEIGHT = 720.0, 268.0
_LEFT, _RIGHT = 44.0, 712.0
_WATER_TOP, _WATER_BOTTOM = 28.0, 116.0
_VISITS = 128.0
_HEAT_TOP, _HEAT_BOTTOM = 150.0, 240.0
_FOOT = 258.0
#: A scale of temperature spans at least so much, so that noise is no mountain.
_LEAST_SPAN = 10.0
#: Two days' names stand so far apart.
_NAME_PX = 58.0
#: And letters of finds so far.
_LETTER_PX = 10.0


def course_svg(course: Course) -> str:
    """Draw a course as SVG."""
    heats = scale(*_heat_range(course), _LEAST_SPAN, _HEAT_TOP, _HEAT_BOTTOM)
    parts = [*_ground(course, heats), *_water(course), *_heat(course, heats)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {_HEIGHT:g}"'
        ' font-family="Noto Sans" font-size="9.5">' + "".join(parts) + "</svg>"
    )


def _x(fraction: float) -> float:
    return round(_LEFT + (_RIGHT - _LEFT) * fraction, 1)


def _water_y(share: float) -> float:
    return round(_WATER_BOTTOM - (_WATER_BOTTOM - _WATER_TOP) * share, 1)


def _ground(course: Course, heats: Scale) -> Iterator[str]:
    for top, bottom in ((_WATER_TOP, _WATER_BOTTOM), (_HEAT_TOP, _HEAT_BOTTOM)):
        for night in course.nights:
            yield _bar(night, top, bottom, "#eee")
        yield (
            f'<rect x="{_LEFT}" y="{top}" width="{_RIGHT - _LEFT}" '
            f'height="{bottom - top}" fill="none" stroke="#000" stroke-width="0.6"/>'
        )
        for day in course.days:
            x = _x(day.x_fraction)
            yield _line(x, top, x, bottom, "#999", 0.5)
    last = -_NAME_PX
    for day in course.days:
        x = _x(day.x_fraction)
        if x - last >= _NAME_PX and x + _NAME_PX < _RIGHT:
            yield _text(x + 2, _FOOT, day.words)
            last = x
    for share, words in ((1.0, "full"), (0.5, "½"), (0.0, "dry")):
        yield _text(_LEFT - 4, _water_y(share) + 3, words, "end")
    for y, words in heats.marks():
        yield _text(_LEFT - 4, y + 3, words, "end")
    yield _text(_LEFT, _HEAT_TOP - 6, f"{course.unit}", weight="600")
    yield _text(_LEFT, _WATER_TOP - 16, "Water in the cover", weight="600")


def _water(course: Course) -> Iterator[str]:
    for span in course.dry:
        yield _bar(span, _WATER_BOTTOM - 5, _WATER_BOTTOM, "#000")
    for line in course.planned:
        yield _path(line, _water_y, "#777", 1.0, "4 2.5")
    for line in course.found:
        yield _path(line, _water_y, "#000", 1.6)
    yield from _finds(course)
    if not course.planned and not course.found:
        middle = (_WATER_TOP + _WATER_BOTTOM) / 2
        yield _text((_LEFT + _RIGHT) / 2, middle, "no water held", "middle")
    for sign in course.written:
        yield _tick(sign, "#000")
    for sign in course.unwritten:
        yield _tick(sign, "none")
    yield _text(_LEFT - 4, _VISITS + 3, "visits", "end")
    yield _until(course, _WATER_TOP, _WATER_BOTTOM)


def _finds(course: Course) -> Iterator[str]:
    """Letters at the top; where they are crowded those that are not wet stay."""
    shown: list[float] = []
    for sign in sorted(course.finds, key=lambda one: one.words == "W"):
        x = _x(sign.x_fraction)
        yield _line(x, _WATER_TOP - 3, x, _WATER_TOP, "#000", 0.8)
        if sign.words != "W" or all(abs(x - other) > _LETTER_PX for other in shown):
            shown.append(x)
            yield _text(x, _WATER_TOP - 5, sign.words, "middle", "700")


def _heat(course: Course, heats: Scale) -> Iterator[str]:
    for limit in course.limits:
        y = heats.y(limit.value)
        yield _line(_LEFT, y, _RIGHT, y, "#000", 0.8, "1.5 2")
        yield _text(_RIGHT - 3, y - 3, limit.words, "end")
    yield _path(course.core, heats.y, "#777", 1.2, "5 2.5")
    yield _path(course.face, heats.y, "#000", 1.3)
    for reading in course.readings:
        x, y = _x(reading.x_fraction), heats.y(reading.value)
        if reading.words == "core":
            yield (
                f'<rect x="{x - 2.6:.1f}" y="{y - 2.6:.1f}" width="5.2" height="5.2" '
                'fill="#fff" stroke="#000" stroke-width="1.2"/>'
            )
        else:
            yield f'<circle cx="{x}" cy="{y}" r="2.8" fill="#000"/>'
    yield _until(course, _HEAT_TOP, _HEAT_BOTTOM)


def _until(course: Course, top: float, bottom: float) -> str:
    """Mark where the record ends, and where curing does."""
    until = _x(course.until_fraction)
    marks = _line(until, top, until, bottom, "#000", 1.4)
    if course.ends_fraction is not None:
        end = _x(course.ends_fraction)
        marks += _line(end, top, end, bottom, "#000", 1.2, "6 2 1.5 2")
    return marks


def _heat_range(course: Course) -> tuple[float, float]:
    values = [value for _, value in (*course.face, *course.core)]
    values += [sign.value for sign in (*course.readings, *course.limits)]
    return (min(values, default=0.0), max(values, default=_LEAST_SPAN))


def _bar(span: Stretch, top: float, bottom: float, fill: str) -> str:
    left, right = _x(span.from_fraction), _x(span.until_fraction)
    width = max(right - left, 0.8)
    return (
        f'<rect x="{left}" y="{top}" width="{width:.1f}" '
        f'height="{bottom - top:g}" fill="{fill}"/>'
    )


def _tick(sign: Sign, fill: str) -> str:
    return (
        f'<circle cx="{_x(sign.x_fraction)}" cy="{_VISITS}" r="2.6" fill="{fill}" '
        'stroke="#000" stroke-width="0.8"/>'
    )


def _line(
    x1: float, y1: float, x2: float, y2: float, ink: str, width: float, dash: str = ""
) -> str:
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" stroke="{ink}" '
        f'stroke-width="{width}"{dashes}/>'
    )


def _path(
    points: Points,
    height: Callable[[float], float],
    ink: str,
    width: float,
    dash: str = "",
) -> str:
    if not points:
        return ""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    path = " ".join(f"{_x(x)},{height(value):.1f}" for x, value in points)
    return (
        f'<polyline points="{path}" fill="none" stroke="{ink}" '
        f'stroke-width="{width}"{dashes}/>'
    )


def _text(
    x: float, y: float, words: str, anchor: str = "start", weight: str = "400"
) -> str:
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}" '
        f'font-weight="{weight}">{escape(words)}</text>'
    )
