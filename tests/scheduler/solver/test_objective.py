"""Every layer of the objective in its own unit, worked out by hand."""

import pytest

from models.records import (
    Age,
    DryShare,
    Roster,
    Stretch,
    SurfaceWork,
    WeightStep,
)
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import duty, surface, work_list


def share(*, bare: bool, age: Age, minutes: int, m2_h: float, cost: float) -> DryShare:
    return DryShare(bare=bare, age=age, minutes=minutes, area_time_m2_h=m2_h, cost=cost)


def left_alone(work: SurfaceWork) -> Roster:
    return solve(work_list(work, shifts=()), Effort(work=0.02))


def test_dry_minutes_are_told_by_age_with_their_area_dearest_first() -> None:
    # Nobody comes: dry from 0 to 600. Young until 200, then plain until 600. 200 m²
    # dry for 200 and 400 minutes are 666.7 and 1,333.3 m² h.
    weights = (
        WeightStep(from_min=-60, per_min=5, age="first 24 h"),
        WeightStep(from_min=200, per_min=2, age="24 to 72 h"),
        WeightStep(from_min=9000, per_min=1),
    )
    assert left_alone(surface(weights=weights)).dry_shares == (
        share(bare=False, age="first 24 h", minutes=200, m2_h=666.666667, cost=1000),
        share(bare=False, age="24 to 72 h", minutes=400, m2_h=1333.333333, cost=800),
    )


def test_bare_minutes_stand_apart() -> None:
    lay = duty("S/lay", effect="wet", covers=True, missed_cost=1)
    fresh = (Stretch(from_min=50, until_min=90),)
    work = surface(tasks=(lay,), covered_from_min=None, fresh=fresh)
    assert left_alone(work).dry_shares == (
        share(bare=True, age="later", minutes=40, m2_h=133.333333, cost=120),
    )


def test_shares_add_up_to_the_dry_minutes_and_their_cost() -> None:
    made = solve(work_list(surface(), surface("T")), Effort(work=0.05))
    dry = next(part for part in made.objective if part.name == "dry")
    assert sum(share.minutes for share in made.dry_shares) == dry.amount
    assert sum(s.cost for s in made.dry_shares) == pytest.approx(dry.cost)


@pytest.mark.parametrize(("litre", "visits"), [(0.1, 5), (0.71, 0)])
def test_litres_are_told_and_drawn_where_they_are_worth_their_price(
    litre: float, visits: int
) -> None:
    # Five rewets of 200 L from minute 3 on keep it wet to 600, the fifth spares 37 dry
    # minutes at least; none spares more than 140.
    costs = work_for_nothing(travel_cost_per_min=0, litre_cost=litre)
    made = solve(work_list(surface(), costs=costs), Effort(work=0.05))
    water = next(part for part in made.objective if part.name == "water")
    assert (water.amount, water.unit) == (200 * visits, "L")
    assert len(made.visits) == visits
    assert water.cost == pytest.approx(200 * visits * litre)
