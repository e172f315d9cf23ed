"""Paths of SVG with no more points than an eye can tell apart."""

from collections.abc import Iterable, Sequence

Point = tuple[float, float]

#: How far a drawn line may lie from its values, and a step from its height. [px]
TOLERANCE_PX = 0.3


def thinned(points: Sequence[Point], tolerance_px: float = TOLERANCE_PX) -> list[Point]:
    """Leave out points that lie near the straight line between those that stay.

    The farthest point from the line between two kept ones is kept in turn until none
    is farther, upright, than the tolerance (the method of Ramer, 1972, and Douglas
    and Peucker, 1973, from memory, with upright instead of square distance: x is
    time). Peaks stay.
    """
    if len(points) < 3:
        return list(points)
    kept = {0, len(points) - 1}
    open_spans = [(0, len(points) - 1)]
    while open_spans:
        first, last = open_spans.pop()
        (x0, y0), (x1, y1) = points[first], points[last]
        slope = (y1 - y0) / (x1 - x0)
        farthest, worst = 0, tolerance_px
        for i in range(first + 1, last):
            x, y = points[i]
            off = abs(y - y0 - slope * (x - x0))
            if off > worst:
                farthest, worst = i, off
        if farthest:
            kept.add(farthest)
            open_spans += [(first, farthest), (farthest, last)]
    return [points[i] for i in sorted(kept)]


def line_path(points: Sequence[Point]) -> str:
    """Join points; relative steps in tenths of a pixel, which is shorter."""
    tenths = [(round(10 * x), round(10 * y)) for x, y in points]
    (x, y), *rest = tenths
    path = [f"M{_px(x)},{_px(y)}"]
    for to_x, to_y in rest:
        path.append(f"l{_px(to_x - x)},{_px(to_y - y)}")
        x, y = to_x, to_y
    return "".join(path)


def step_path(
    steps: Iterable[tuple[float, float, float]],
    base_y: float,
    tolerance_px: float = TOLERANCE_PX,
) -> str:
    """Outline an area whose upper edge goes in steps.

    Parameters
    ----------
    steps : iterable of (float, float, float)
        Left, right and height of each step; each begins where the last one ended.
    base_y : float
        The area's lower edge.
    tolerance_px : float
        A step nearer than this to the height drawn last is drawn at that height.
    """
    path: list[str] = []
    drawn = right = base = round(10 * base_y)
    for from_x, to_x, y in steps:
        height = round(10 * y)
        if not path:
            path.append(f"M{_px(round(10 * from_x))},{_px(base)}V{_px(height)}")
            drawn = height
        elif abs(height - drawn) > 10 * tolerance_px:
            path.append(f"H{_px(right)}V{_px(height)}")
            drawn = height
        right = round(10 * to_x)
    return "".join([*path, f"H{_px(right)}V{_px(base)}Z"]) if path else ""


def _px(tenths: int) -> str:
    return f"{tenths / 10:g}"
