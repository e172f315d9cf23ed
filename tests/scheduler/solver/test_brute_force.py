"""Sites so small that every roster can be tried."""

from itertools import permutations, product

import pytest

from models.records import SurfaceWork, WeightStep
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import (
    WET_FOR_MIN,
    shift,
    surface,
    week,
    work_list,
)

WALK, WORK, MINUTES = 3, 20, 240


def site(dry: tuple[int, int], weights: tuple[int, int]) -> tuple[SurfaceWork, ...]:
    """Two surfaces with what their covers still hold, in minutes, and their weights."""
    return tuple(
        surface(
            name,
            reserve_at_start_l_m2=minutes / WET_FOR_MIN,
            weights=(WeightStep(from_min=0, per_min=weight),),
        )
        for name, minutes, weight in zip("ST", dry, weights, strict=True)
    )


def cheapest(dry: tuple[int, int], weights: tuple[int, int], last: int) -> int:
    """Least dryness of two surfaces over all rosters of up to two visits."""

    def cost(visits: tuple[tuple[int, int], ...]) -> int:
        total = 0
        for index in (0, 1):
            damp = set(range(dry[index]))
            for start, where in visits:
                if where == index:
                    middle, end = start + WORK // 2, start + WORK
                    damp |= set(range(middle, end + WET_FOR_MIN))
            total += weights[index] * sum(m not in damp for m in range(MINUTES))
        return total

    best = cost(())
    starts = range(WALK, last + 1)
    best = min([best, *(cost(((a, i),)) for a in starts for i in (0, 1))])
    for a, b in product(starts, starts):
        if b >= a + WORK + WALK:
            best = min(
                [best, *(cost(((a, i), (b, j))) for i, j in permutations((0, 1)))]
            )
    return best


@pytest.mark.parametrize(
    ("dry", "weights"),
    [((0, 0), (1, 1)), ((30, 10), (1, 4)), ((60, 61), (2, 1)), ((5, 90), (3, 2))],
)
def test_the_roster_is_the_best_there_is(
    dry: tuple[int, int], weights: tuple[int, int]
) -> None:
    # A shift of 50 minutes has room for two visits at most: 3 + 20 + 3 + 20.
    work = work_list(*site(dry, weights), minutes=MINUTES, shifts=(shift(ends_min=50),))
    roster = solve(work, Effort(work=0.3))
    best = cheapest(dry, weights, 50 - WORK)
    assert roster.cost == best


@pytest.mark.parametrize("kind", ["week", "day"])
@pytest.mark.parametrize(("left", "visits"), [(42, 1), (43, 2)])
def test_hours_that_are_nearly_full_leave_the_best_of_what_they_allow(
    left: int, visits: int, kind: str
) -> None:
    # The shift is over at minute 0: every visit is overtime. Two and the walk between
    # them take 20 + 3 + 20; one may come at any minute of the hour.
    shifts = (shift(starts_min=-600, ends_min=0, overtime_max_min=60),)
    work = work_list(
        *site((0, 0), (1, 4)), minutes=60, shifts=shifts,
        hours_limits=(week(left, kind=kind),),
        costs=work_for_nothing(travel_cost_per_min=0, overtime_cost_per_min=0),
    )  # fmt: skip
    roster = solve(work, Effort(work=0.3))
    # T is wet from the middle of a visit at 0, at 4 a minute; S from 23 + 10, or never
    assert roster.cost == 4 * 10 + (33 if visits == 2 else 60)
    assert len(roster.visits) == visits
