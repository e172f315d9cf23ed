"""The lists of hold points on a sheet: what all ask for is printed once."""

from collections.abc import Sequence

from exports.entry import Entry
from exports.sheets.shift_sheet import HoldPoint
from exports.text import one_line

EVERY_POUR = "Every pour"


def hold_points(visits: Sequence[Entry]) -> tuple[HoldPoint, ...]:
    """Give each hold point of a shift with its checks, those they share at the end."""
    held = [entry for entry in visits if entry.kind == "hold_point"]
    shared = [
        step
        for step in (held[0].steps if len(held) > 1 else ())
        if all(step in entry.steps for entry in held)
    ]
    points = [
        HoldPoint(
            title=one_line(entry.surface_label),
            checks=tuple(step for step in entry.steps if step not in shared),
        )
        for entry in held
    ]
    if shared:
        points.append(HoldPoint(title=EVERY_POUR, checks=tuple(shared)))
    return tuple(points)
