"""Least squares with a prior: many small problems side by side, each by Gauss-Newton.

Formulas only. What is fitted is counted in its own prior spreads from its prior value,
so that one problem's cost is the squared misses, in spreads of a reading, and the
squared moves. Where readings say little, little moves.
"""

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.drying.ranges import Floats

#: Of a move, for the slopes. [prior spreads]
_NUDGE = 0.05
#: Less than this is no move any more. [prior spreads]
_STILL = 0.02
_MOST_ROUNDS = 8

#: Moves ``(columns, figures)`` and the problem of each column -> misses of each column,
#: in spreads of a reading.
Misses = Callable[[Floats, NDArray[np.int64]], Sequence[Floats]]


class Fitted(NamedTuple):
    """Moves ``(problems, figures)`` and misses before and after, problem by problem."""

    moves: Floats
    before: tuple[Floats, ...]
    after: tuple[Floats, ...]


def fit(misses: Misses, low: Floats, high: Floats) -> Fitted:
    """Find the moves of least cost within bounds.

    Parameters
    ----------
    misses : callable
        The model against the readings; asked for all problems and slopes at once.
    low, high : array (problems, figures)
        Bounds of the moves, 0 within them. [prior spreads]

    Returns
    -------
    Fitted

    Notes
    -----
    A step that does not lower the cost is halved; a step over a bound ends on it.
    """
    problems, figures = low.shape
    best, best_cost = np.zeros(low.shape), np.full(problems, np.inf)
    trying = best.copy()
    found: list[Floats] = [np.empty(0)] * problems
    before: tuple[Floats, ...] = ()
    for _ in range(_MOST_ROUNDS):
        misses_now, slopes = _with_slopes(misses, trying)
        before = before or tuple(misses_now)
        moving = False
        for i in range(problems):
            cost = float(misses_now[i] @ misses_now[i] + trying[i] @ trying[i])
            if cost < best_cost[i]:
                best[i], best_cost[i], found[i] = trying[i], cost, misses_now[i]
                curve = slopes[i].T @ slopes[i] + np.eye(figures)
                downhill = slopes[i].T @ found[i] + best[i]
                aim = best[i] - np.linalg.solve(curve, downhill)
                trying[i] = np.clip(aim, low[i], high[i])
            else:
                trying[i] = (best[i] + trying[i]) / 2
            moving |= bool(np.abs(trying[i] - best[i]).max() > _STILL)
        if not moving:
            break
    return Fitted(best, before, tuple(found))


def _with_slopes(misses: Misses, moves: Floats) -> tuple[list[Floats], list[Floats]]:
    """Misses of each problem, and by how much they change with each figure."""
    problems, figures = moves.shape
    nudges = np.vstack([np.zeros(figures), _NUDGE * np.eye(figures)])
    columns = (moves[:, None, :] + nudges).reshape(-1, figures)
    found = misses(columns, np.repeat(np.arange(problems), figures + 1))
    bases, slopes = [], []
    for i in range(problems):
        base, *nudged = found[i * (figures + 1) : (i + 1) * (figures + 1)]
        bases.append(base)
        slopes.append(np.stack([(each - base) / _NUDGE for each in nudged], axis=1))
    return bases, slopes
