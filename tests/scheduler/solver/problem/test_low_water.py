"""A cover with little water left, by hand: it holds 1 L/m² and loses 0.5 an hour."""

import pytest

from models.records import Costs
from scheduler.solver.plan.cost import Stop, surface_cost
from scheduler.solver.problem.problem import Problem, prepare
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import surface, work_list


def prepared(share: float, costs: Costs) -> Problem:
    week = work_list(surface(), costs=costs)
    return prepare(week.model_copy(update={"rewet_at_reserve_fraction": share}))


@pytest.mark.parametrize(
    ("share", "low_from"),
    [
        (0.5, 120 + 60),  # 0.5 L/m² above the half: an hour
        (0.25, 120 + 90),  # 0.75 L/m² above the quarter
        (0.8, 120 + 24),
    ],
)
def test_time_with_little_water_costs_a_part_of_a_dry_minute(
    share: float, low_from: int
) -> None:
    problem = prepared(share, work_for_nothing(low_water_factor=0.1))
    found = surface_cost(problem, problem.surfaces[0], [Stop(100, 0, 0, 0)])
    # Re-wet from 100 to 120, half of it by 110; dry again at 120 + 120.
    assert found.dry_cost == 110 + (600 - 240)
    assert found.low_water_cost == pytest.approx(0.1 * (110 + 600 - low_from))


@pytest.mark.parametrize(("share", "factor"), [(0, 0.1), (0.5, 0)])
def test_without_a_share_or_a_price_nothing_is_little(
    share: float, factor: float
) -> None:
    problem = prepared(share, work_for_nothing(low_water_factor=factor))
    assert problem.surfaces[0].low_water is None
    found = surface_cost(problem, problem.surfaces[0], [])
    assert (found.dry_cost, found.low_water_cost) == (600, 0)
