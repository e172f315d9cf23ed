"""Nobody is sent to wet a cover that is nearly full, unless it would run dry.

A cover holds 1 L/m² and loses 0.5 in an hour; it is full at minute 0. A re-wetting
takes 20 minutes, a look 30.
"""

import pytest

from models.records import Link
from scheduler.solver.improve.full_covers import share_left, spare_full_covers
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import duty, surface, work_list


def plan_of(
    *starts: int, ends_min: int = 110, look: bool = False, walk_cost: float = 0
) -> Plan:
    """Wet until 120 without anybody; curing is over before."""
    look_in = duty("S/look", met_by_wetting=True, missed_cost=100)
    slab = surface(
        reserve_at_start_l_m2=1,
        ends_min=ends_min,
        tasks=(look_in,) if look else (),
    )
    prices = work_for_nothing(travel_cost_per_min=walk_cost)
    plan = Plan(prepare(work_list(slab, costs=prices)))
    rewet = plan.problem.surfaces[0].rewet
    assert rewet is not None
    assert plan.change((), [Stop(start, rewet, 0, -1) for start in starts])
    return plan


def kinds(plan: Plan) -> list[str]:
    return [plan.problem.jobs[stop.job].task.kind for stop in plan.stops()]


@pytest.mark.parametrize(
    ("starts", "shares"),
    [
        ((24,), [0.8]),  # 24 min at 0.5 / 60
        ((30, 74), [0.75, 0.8]),  # full again at 50
        ((150,), [0.0]),
    ],
)
def test_the_share_of_its_water_that_is_left(
    starts: tuple[int, ...], shares: list[float]
) -> None:
    plan = plan_of(*starts, ends_min=200)
    assert [share_left(plan, stop) for stop in plan.stops()] == pytest.approx(shares)


def test_a_wetting_of_a_full_cover_that_saves_nothing_is_taken_out() -> None:
    plan = plan_of(20)
    spare_full_covers(plan)
    assert plan.stops() == []


def test_one_of_a_cover_that_has_lost_more_stays() -> None:
    plan = plan_of(30)
    spare_full_covers(plan)
    assert kinds(plan) == ["rewet"]


def test_one_that_saves_dry_minutes_stays() -> None:
    # Full again at 40 it is wet for 40 minutes longer.
    plan = plan_of(20, ends_min=200)
    spare_full_covers(plan)
    assert kinds(plan) == ["rewet"]


def test_the_look_that_it_met_is_given_a_visit_of_its_own() -> None:
    plan = plan_of(20, look=True)
    assert plan.surface_costs[0].missed_cost == 0
    spare_full_covers(plan)
    assert kinds(plan) == ["inspect"]
    assert plan.surface_costs[0].missed_cost == 0


def test_a_look_that_takes_a_long_walk_keeps_the_wetting() -> None:
    """The gang soaks S for an hour and wets it next; it can look from minute 90 on.

    The look would take it home from T at 5 a minute: 3 min, 15 in all, over the 10
    that are let go.
    """
    soak = duty("S/soak", kind="soak", effect="wet", duration_min=60, missed_cost=1000)
    look = duty("S/look", earliest_min=60, met_by_wetting=True, missed_cost=100)
    late = look.model_copy(update={"after": (Link(task_id="S/soak", min_gap_min=90),)})
    slab = surface(reserve_at_start_l_m2=1, ends_min=160, tasks=(soak, late))
    at_t = duty("T/look", duration_min=60, earliest_min=90, missed_cost=1000)
    other = surface("T", curve=None, rewet=None, tasks=(at_t,))
    prices = work_for_nothing(travel_cost_per_min=5)
    plan = Plan(prepare(work_list(slab, other, costs=prices)))
    names = {job.task.id: job.index for job in plan.problem.jobs}
    visits = {"S/soak": 3, "S/rewet": 63, "T/look": 90}
    assert plan.change(
        (), [Stop(at, names[name], 0, -1) for name, at in visits.items()]
    )
    spare_full_covers(plan)
    assert kinds(plan) == ["soak", "rewet", "inspect"]
