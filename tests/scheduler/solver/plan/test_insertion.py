from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import WorkList
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.insertion import InsertionCost
from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.start.dispatch import dispatch
from tests.scheduler.solver.small_weeks import MINUTES, near_published, weeks


@settings(max_examples=20, deadline=None)
@given(weeks().flatmap(near_published), st.data())
def test_the_price_of_one_more_visit_is_what_the_roster_then_costs(
    work: WorkList, data: st.DataObject
) -> None:
    plan = dispatch(prepare(work), DEFAULT.start.rules[0])
    lanes = plan.problem.lanes
    for job in plan.problem.jobs:
        more = InsertionCost(plan, job)
        for index in job.lanes:
            start = data.draw(st.integers(0, MINUTES))
            price, surface = (
                more.of_roster(start, lanes[index]),
                more.of_surface(start),
            )
            stop = Stop(start, job.index, index, -1)
            if plan.change((), (stop,)):
                assert plan.cost == pytest.approx(price, abs=1e-6)
                now = plan.surface_costs[job.surface]
                assert replace(surface, changes_cost=now.changes_cost) == now
                added = next(s for s in plan.by_lane[index] if s[:2] == stop[:2])
                assert plan.change((added,), ())
                more = InsertionCost(plan, job)
