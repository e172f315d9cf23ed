"""Windows to go through in turn: they hold what has to move together."""

from random import Random

import pytest

from scheduler.solver.improve.local_search import local_search
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.search.picker import Picker
from scheduler.solver.search.sweep import call_out, gangs_together, sweep
from scheduler.solver.start.dispatch import best_start
from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.subproblem.neighbourhood import freed_by
from scheduler.solver.subproblem.subproblem import subproblem_of
from tests.bench.instances import Size, instance
from tests.scheduler.solver.solver_builders import shift, surface, work_list

DAY, NIGHT = 0, 1


def called_at_night() -> Plan:
    """Wet two covers by day and on a call-out, which dusk visits could replace."""
    night = shift(
        "red", id="red/night", kind="on_call", starts_min=240, call_out_cost=400
    )
    site = work_list(
        surface("S", reserve_at_start_l_m2=1, ends_min=330),
        surface("T", reserve_at_start_l_m2=1, ends_min=330),
        shifts=(shift(ends_min=240), night),
    )
    problem = prepare(site)
    plan = Plan(problem)
    one, other = (s.rewet for s in problem.surfaces)
    assert one is not None
    assert other is not None
    stops = [Stop(100, one, DAY, 0), Stop(77, other, DAY, 0)]
    stops += [Stop(243, one, NIGHT, 0), Stop(266, other, NIGHT, 0)]
    assert plan.change((), stops)
    return plan


def test_a_call_out_goes_when_dusk_can_do_its_work() -> None:
    plan = called_at_night()
    # The call-out, and covers dry to the middle of its visits: from minute 217 to 276
    # and from 240 to 253.
    assert plan.cost == 400 + 59 + 13
    local_search(plan)
    assert plan.cost >= 400  # no single visit could do without it
    neighbourhood = call_out(Picker(plan, Random(1)), plan.problem.lanes[NIGHT])
    solved = solve_subproblem(subproblem_of(plan, neighbourhood), 2.0, seed=1)
    assert plan.improve(solved.remove, solved.add)
    local_search(plan)
    assert plan.cost == 0
    assert not plan.by_lane[NIGHT]


@pytest.fixture(scope="module")
def week() -> Plan:
    plan = best_start(prepare(instance(Size(30, 7, 0.75, None, False), seed=3)))
    local_search(plan)
    return plan


def test_gangs_are_parted_whole(week: Plan) -> None:
    lanes = week.problem.lanes
    for middle in range(300, week.problem.horizon, 2000):
        groups = gangs_together(Picker(week, Random(middle)), middle)
        assert sorted(lane for own in groups for lane in own) == list(range(len(lanes)))
        crews = [{lanes[i].shift.crew_id for i in own} for own in groups]
        assert sum(map(len, crews)) == len({lane.shift.crew_id for lane in lanes})


def test_a_call_out_is_freed_with_all_that_it_does() -> None:
    plan = called_at_night()
    neighbourhood = call_out(Picker(plan, Random(1)), plan.problem.lanes[NIGHT])
    assert set(plan.by_lane[NIGHT]) <= set(freed_by(plan, neighbourhood))


def test_later_turns_go_through_the_whole_horizon(week: Plan) -> None:
    first = list(sweep(week, Random(1), 0))
    later = list(sweep(week, Random(1), 1))
    assert len(later) > len(first)
    freed = {stop for item in later for stop in freed_by(week, item.neighbourhood)}
    assert len(freed) > 0.9 * len(week.stops())


def test_every_turn_may_take_more_work_than_the_last(week: Plan) -> None:
    most = [max(i.most_work for i in sweep(week, Random(1), t)) for t in (1, 2, 4)]
    assert most == sorted(set(most))
