"""Dear duties take the place of visits that can go elsewhere."""

import pytest
from hypothesis import given, settings

from models.records import Stretch, WorkList
from scheduler.solver.improve.ejection import ejection_moves
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.start.dispatch import dispatch
from tests.scheduler.solver.small_weeks import weeks
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def crowded(*, due_min: int) -> Plan:
    """Look at T all morning, while the cover of S waits to be laid."""
    bare = surface(
        "S",
        covered_from_min=None,
        curve=None,
        rewet=None,
        fresh=(Stretch(from_min=0, until_min=600),),
        tasks=(
            duty(
                "S/lay", kind="lay_cover", effect="protect", covers=True,
                missed_cost=600, duration_min=60,
            ),
        ),
    )  # fmt: skip
    looks = surface(
        "T",
        curve=None,
        rewet=None,
        covered_from_min=None,
        tasks=(
            duty("T/look", duration_min=120, due_min=due_min, missed_cost=1000,
                 late_cost_per_min=10),
        ),
    )  # fmt: skip
    problem = prepare(work_list(bare, looks, shifts=(shift(ends_min=300),)))
    plan = Plan(problem)
    lay, look = (surface.jobs[0] for surface in problem.surfaces)
    assert plan.change((), [Stop(3, look, 0, -1), Stop(126, lay, 0, -1)])
    return plan


def order(plan: Plan) -> list[str]:
    return [plan.problem.jobs[stop.job].task.id for stop in plan.stops()]


def test_a_cover_goes_before_a_look_that_can_wait() -> None:
    plan = crowded(due_min=10_000)
    before = plan.cost
    ejection_moves(plan)
    assert order(plan) == ["S/lay", "T/look"]
    # Bare at 3 a minute, 123 minutes less.
    assert before - plan.cost == 3 * 123


def test_what_is_put_out_in_vain_comes_back() -> None:
    plan = crowded(due_min=123)  # and dear if late
    stops, cost = plan.stops(), plan.cost
    ejection_moves(plan)
    assert plan.stops() == stops
    assert plan.cost == cost


@settings(max_examples=40, deadline=None)
@given(weeks())
def test_a_roster_gets_cheaper_or_stays_and_keeps_its_rules(work: WorkList) -> None:
    plan = dispatch(prepare(work), DEFAULT.start.rules[1])
    before, stops = plan.cost, plan.stops()
    ejection_moves(plan)
    assert plan.cost <= before + 1e-6
    if plan.cost > before - 1e-6:
        assert plan.stops() == stops
    again = Plan(plan.problem)
    assert again.change((), plan.stops())
    assert again.cost == pytest.approx(plan.cost)
