from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import least_squares

from models.drying.ranges import Floats
from models.hydration.least_squares import Misses, fit

WIDE = np.full((1, 2), 50.0)


def alone(miss: Callable[[Floats], Floats]) -> Misses:
    """One problem's misses, asked of many columns."""

    def misses(moves: Floats, _problem: NDArray[np.int64]) -> list[Floats]:
        return [miss(move) for move in moves]

    return misses


def test_straight_problem_is_met_in_closed_form() -> None:
    # One reading says 4 a + 2 b = 10 with a spread of 1. With the prior's a² + b² the
    # best move is 10 (4, 2)/(1 + 4² + 2²) = (40, 20)/21.
    found = fit(alone(lambda p: np.array([4 * p[0] + 2 * p[1] - 10])), -WIDE, WIDE)
    assert found.moves[0].tolist() == pytest.approx([40 / 21, 20 / 21], abs=1e-6)
    assert found.before[0].tolist() == [-10]
    assert found.after[0].tolist() == pytest.approx([-10 / 21])


TIMES = np.linspace(0, 4, 9)


def decay(move: Floats) -> Floats:
    """Miss of 20 exp(-t/2) by an exponential of other size and pace."""
    ours = 10 * np.exp(0.3 * move[0]) * np.exp(-TIMES * np.exp(0.4 * move[1]))
    return np.asarray(ours - 20 * np.exp(-TIMES / 2))


@pytest.mark.parametrize("most", [50.0, 1.0])
def test_bent_problem_ends_where_scipy_does(most: float) -> None:
    bound = np.full((1, 2), most)
    found = fit(alone(decay), -bound, bound)
    theirs = least_squares(
        lambda move: np.concatenate([decay(move), move]),
        np.zeros(2),
        bounds=(-bound[0], bound[0]),
    )
    assert found.moves[0].tolist() == pytest.approx(theirs.x.tolist(), abs=0.03)
    cost = found.after[0] @ found.after[0] + found.moves[0] @ found.moves[0]
    assert cost <= 2 * theirs.cost * 1.001


def test_readings_that_say_nothing_move_nothing() -> None:
    found = fit(alone(lambda p: np.array([3.0 + 0 * p[0]])), -WIDE, WIDE)
    assert found.moves.tolist() == [[0, 0]]


def test_problems_side_by_side_do_not_mix() -> None:
    def misses(moves: Floats, problem: NDArray[np.int64]) -> list[Floats]:
        return [
            decay(move) if number else np.array([move[0] - 5.0])
            for move, number in zip(moves, problem, strict=True)
        ]

    both = fit(misses, np.repeat(-WIDE, 2, axis=0), np.repeat(WIDE, 2, axis=0))
    one = fit(alone(decay), -WIDE, WIDE)
    assert both.moves[0].tolist() == pytest.approx([2.5, 0])
    assert both.moves[1].tolist() == pytest.approx(one.moves[0].tolist(), abs=0.05)


def test_no_round_makes_it_worse() -> None:
    costs: list[float] = []

    def wild(move: Floats) -> Floats:
        # A valley that bends so hard that whole steps overshoot.
        return np.array([10 * np.sin(3 * move[0]) + move[1] - 4, move[0] ** 3 - 2])

    def misses(moves: Floats, _problem: NDArray[np.int64]) -> list[Floats]:
        costs.append(float(wild(moves[0]) @ wild(moves[0]) + moves[0] @ moves[0]))
        return [wild(move) for move in moves]

    found = fit(misses, -WIDE, WIDE)
    end = found.after[0] @ found.after[0] + found.moves[0] @ found.moves[0]
    assert end == pytest.approx(min(costs))
    assert end < costs[0]
    assert len(costs) <= 8
