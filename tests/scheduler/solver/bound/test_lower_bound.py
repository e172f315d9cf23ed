"""The bound is proven: never above any roster, exact where nothing can be helped."""

import numpy as np
import pytest

from models.records import Stretch, WeightStep
from scheduler.solver.bound.lower_bound import lower_bound
from scheduler.solver.bound.relaxed import Relaxed
from scheduler.solver.improve.fill import fill
from scheduler.solver.problem.problem import Problem, prepare
from scheduler.solver.start.dispatch import best_start
from tests.bench.instances import Size, instance
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def test_without_crews_the_bound_is_the_whole_dryness() -> None:
    problem = prepare(work_list(surface(reserve_at_start_l_m2=0.5), shifts=()))
    # dry from 60 to 600
    assert lower_bound(problem).value == pytest.approx(540, abs=0.01)


def test_a_bare_surface_is_dry_until_the_earliest_cover() -> None:
    lay = duty("S/lay", effect="wet", covers=True, earliest_min=105)
    bare = surface(
        tasks=(lay,),
        covered_from_min=None,
        fresh=(Stretch(from_min=15, until_min=600),),
    )
    # 90 minutes at 3; then one crew can keep it wet
    assert lower_bound(prepare(work_list(bare))).value == pytest.approx(270, abs=0.01)


def test_a_duty_that_nobody_can_do_is_missed() -> None:
    look = duty("S/look", skills=("sprayer",), missed_cost=150)
    work = work_list(surface(tasks=(look,), curve=None, rewet=None))
    assert lower_bound(prepare(work)).value == pytest.approx(150, abs=0.01)


def test_crews_that_cannot_do_all_of_it_lift_the_bound() -> None:
    # Twelve looks of 30 minutes in a shift of 200: at most 6 are done, 6 are missed.
    looks = tuple(
        duty(f"S/look/{n}", missed_cost=100, latest_min=200) for n in range(12)
    )
    work = work_list(
        surface(tasks=looks, curve=None, rewet=None), shifts=(shift(ends_min=200),),
        minutes=300,
    )  # fmt: skip
    # Relaxed to shares of looks, (200 - 3) / 30 = 6.57 are done and 5.43 missed.
    found = lower_bound(prepare(work)).value
    assert 100 < found <= 543.4


def test_a_call_out_is_paid_whole_by_those_it_serves() -> None:
    # Two covers, each dry for the 300 minutes of a night that costs 500 to be helped:
    # a roster pays 500 and 2 x 3 minutes of walking in, or 600.
    night = shift(kind="on_call", call_out_cost=500)
    work = work_list(surface("S"), surface("T"), minutes=300, shifts=(night,))
    assert 450 < lower_bound(prepare(work)).value <= 506


def test_the_floor_of_a_surface_is_what_no_crew_can_help() -> None:
    # The crew comes at 200 and walks for 3 minutes; S is dry until then at 2 a minute,
    # T holds out; with both wetted every two hours the rest is damp.
    late = shift(starts_min=200)
    dry = surface("S", weights=(WeightStep(from_min=0, per_min=2),))
    wet = surface("T", reserve_at_start_l_m2=1.9)
    found = lower_bound(prepare(work_list(dry, wet, shifts=(late,)))).floors
    assert [floor.surface_id for floor in found] == ["S", "T"]
    assert [floor.dry_min for floor in found] == [203, 203 - 120]
    assert found[0].cost == pytest.approx(406, abs=0.01)


def _site(seed: int) -> Problem:
    size = Size(4, days=2, tightness=0.4 + seed / 10, rain=seed % 2 == 0)
    return prepare(instance(size, seed))


@pytest.mark.parametrize("seed", range(8))
def test_no_roster_costs_less_than_the_bound(seed: int) -> None:
    problem = _site(seed)
    plan = best_start(problem)
    fill(plan)
    bound = lower_bound(problem)
    assert bound.value <= plan.cost
    for own, cost, floor in zip(
        problem.surfaces, plan.surface_costs, bound.floors, strict=True
    ):
        assert floor.surface_id == own.work.surface_id
        assert floor.cost <= cost.total
        assert floor.dry_min <= sum(dry.minutes for dry in cost.stretches)


@pytest.mark.parametrize("seed", range(6))
def test_the_bound_holds_at_any_prices(seed: int) -> None:
    problem = _site(seed)
    plan = best_start(problem)
    fill(plan)
    relaxed = Relaxed(problem)
    chance = np.random.default_rng(seed)
    shape = (relaxed.crews.pools, relaxed.crews.slots)
    nights = len(relaxed.crews.nights)
    for scale in (0.05, 0.3, 1.0):
        prices = scale * chance.exponential(size=shape)
        fees = scale * 200 * chance.exponential(size=(nights, relaxed.customers))
        assert relaxed.value(prices, fees).total <= plan.cost


def test_each_customer_pays_what_its_choices_cost() -> None:
    """The sum of the parts is the whole: the value is linear where choices stay."""
    relaxed = Relaxed(_site(3))
    chance = np.random.default_rng(3)
    prices = 0.3 * chance.exponential(size=(relaxed.crews.pools, relaxed.crews.slots))
    fees = 30 * chance.exponential(size=(len(relaxed.crews.nights), relaxed.customers))
    here = relaxed.value(prices, fees)
    # A concave function lies below its tangent everywhere, by the shortage as slope.
    for scale in (0.0, 0.5, 0.99, 1.01, 2.0):
        there = relaxed.value(scale * prices, scale * fees)
        slope = (here.lack * prices).sum() + (here.unpaid * fees).sum()
        assert there.total <= here.total + (scale - 1) * slope + 1e-6
