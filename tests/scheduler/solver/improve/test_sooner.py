"""Late duties are brought forward, to another crew if that is free first."""

import pytest

from scheduler.solver.improve.sooner import bring_forward
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def late_plan(late_cost_per_min: float) -> Plan:
    """A look of 30 min, due at 60, at which owl, the second of two gangs, is at 300."""
    look = duty(
        "S/look", due_min=60, missed_cost=1000, late_cost_per_min=late_cost_per_min
    )
    work = work_list(
        surface("S", curve=None, rewet=None, tasks=(look,)),
        shifts=(shift("red"), shift("owl", starts_min=280)),
    )
    plan = Plan(prepare(work))
    owl = next(x.index for x in plan.problem.lanes if x.shift.crew_id == "owl")
    assert plan.change((), (Stop(300, 0, owl, -1),))
    return plan


def test_the_gang_that_is_free_first_takes_a_late_duty() -> None:
    plan = late_plan(1)
    before = plan.cost
    bring_forward(plan)
    (stop,) = plan.stops()
    # Red begin at 0 and walk for 3 min, as owl did: only lateness is spared, 330 - 60.
    assert (stop.start, plan.problem.lanes[stop.lane].shift.crew_id) == (3, "red")
    assert before - plan.cost == pytest.approx(270)


def test_what_nobody_pays_for_stays() -> None:
    plan = late_plan(0)
    bring_forward(plan)
    assert [stop.start for stop in plan.stops()] == [300]
