"""The bound is proven: never above any roster, exact where nothing can be helped."""

import pytest

from models.records import Stretch
from scheduler.solver.bound import lower_bound
from scheduler.solver.dispatch import best_start
from scheduler.solver.prepare import prepare
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


@pytest.mark.parametrize("seed", range(8))
def test_no_roster_costs_less_than_the_bound(seed: int) -> None:
    work = instance(
        Size(4, days=2, tightness=0.4 + seed / 10, rain=seed % 2 == 0), seed
    )
    problem = prepare(work)
    cost = best_start(problem).cost
    assert lower_bound(problem).value <= cost
