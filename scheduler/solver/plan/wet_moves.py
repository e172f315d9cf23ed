"""Covers that move wet from one surface to the next: which come from where.

What has come off and been washed is laid again without soaking as long as it is wet.
Who lays first is served first, with what came off first: as all of a kind stays wet for
equally long, no other matching serves more. Plain ints of time are minutes from the
start of the horizon.
"""

from collections.abc import Iterable
from typing import NamedTuple

SLACK_M2 = 1e-6  # areas are sums of decimals
NEVER = 1 << 40


class Batch(NamedTuple):
    """Covers of one need that have come off: washed, and wet until a last minute."""

    ready: int
    until: int
    need: int
    area_m2: float


class Laid(NamedTuple):
    """Covers of a need that are laid at a minute and have not been soaked for it."""

    start: int
    need: int
    area_m2: float


def wet_moves(
    laid: Iterable[Laid], batches: Iterable[Batch]
) -> dict[int, list[tuple[int, float]]]:
    """Match layings with what has come off wet.

    Returns
    -------
    dict
        By need that finds its whole area wet: the needs it takes it from, with areas.
    """
    waiting = sorted(batches)
    left_m2 = {batch.need: batch.area_m2 for batch in waiting}
    moves: dict[int, list[tuple[int, float]]] = {}
    if not waiting:
        return moves
    for start, need, area_m2 in sorted(laid):
        wanted_m2, taken = area_m2, list[tuple[int, float]]()
        for batch in waiting:
            if batch.ready <= start <= batch.until and left_m2[batch.need] > SLACK_M2:
                taken_m2 = min(left_m2[batch.need], wanted_m2)
                taken.append((batch.need, taken_m2))
                wanted_m2 -= taken_m2
                if wanted_m2 <= SLACK_M2:
                    break
        if wanted_m2 <= SLACK_M2:
            moves[need] = taken
            for source, taken_m2 in taken:
                left_m2[source] -= taken_m2
    return moves
