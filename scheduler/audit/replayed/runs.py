"""Runs of minutes in which something holds."""

from collections.abc import Iterator

import numpy as np

from models.records import Flags


def stretches(flags: Flags) -> Iterator[tuple[int, int]]:
    """Yield the runs of True as first minute and the minute after the last."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.astype(np.int8), [0]))))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        yield int(first), int(last)
