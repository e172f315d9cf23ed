"""Arithmetic of stretches of minutes."""

from collections.abc import Iterable
from itertools import pairwise

from models.records import Stretch


def clip(stretch: Stretch, from_min: int, until_min: int) -> Stretch | None:
    """Part of a stretch between two minutes; None if there is none."""
    start, end = max(stretch.from_min, from_min), min(stretch.until_min, until_min)
    return Stretch(from_min=start, until_min=end) if start < end else None


def split(stretch: Stretch, edges: Iterable[int]) -> tuple[Stretch, ...]:
    """Cut a stretch at each of the given minutes that lies in it."""
    inside = sorted(m for m in edges if stretch.from_min < m < stretch.until_min)
    bounds = (stretch.from_min, *dict.fromkeys(inside), stretch.until_min)
    return tuple(Stretch(from_min=a, until_min=b) for a, b in pairwise(bounds))


def merge(
    stretches: Iterable[Stretch], from_min: int, until_min: int
) -> tuple[Stretch, ...]:
    """Join what overlaps or touches, cut to what lies between two minutes."""
    parts = (clip(s, from_min, until_min) for s in stretches)
    merged: list[Stretch] = []
    for part in sorted((p for p in parts if p), key=lambda p: p.from_min):
        if merged and part.from_min <= merged[-1].until_min:
            last = merged.pop()
            until = max(last.until_min, part.until_min)
            part = Stretch(from_min=last.from_min, until_min=until)
        merged.append(part)
    return tuple(merged)
