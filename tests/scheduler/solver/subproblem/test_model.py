"""Windows small enough to know the best answer."""

from models.records import Link, Stretch
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.subproblem.neighbourhood import Neighbourhood, freed_by
from scheduler.solver.subproblem.subproblem import subproblem_of
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import (
    duty,
    shift,
    surface,
    week,
    work_list,
)

SEED, WORK = 1, 2.0


def improve(plan: Plan, neighbourhood: Neighbourhood) -> None:
    solved = solve_subproblem(subproblem_of(plan, neighbourhood), WORK, SEED)
    assert solved.proven
    plan.improve(solved.remove, solved.add)


def test_a_neighbourhood_frees_what_lies_in_its_lanes_time_and_surfaces() -> None:
    plan = Plan(prepare(work_list(surface("S"), surface("T"))))
    assert plan.change(
        (), (Stop(10, 0, 0, -1), Stop(100, 1, 0, -1), Stop(300, 0, 0, -1))
    )
    neighbourhood = Neighbourhood((0,), (0,), 0, 200, 5)
    assert [stop[:2] for stop in freed_by(plan, neighbourhood)] == [(10, 0)]


def test_one_crew_wets_one_surface_as_soon_as_it_may() -> None:
    plan = Plan(prepare(work_list(surface(), minutes=140)))
    improve(plan, Neighbourhood((0,), (0,), 0, 140, 1))
    # after the walk of 3 and half of the work it is wet to minute 143, past the horizon
    assert plan.cost == 3 + 10


def test_two_surfaces_share_a_crew_and_the_dearer_comes_first() -> None:
    dear = surface("T", weights=({"from_min": 0, "per_min": 5},))
    plan = Plan(prepare(work_list(surface("S"), dear, minutes=100)))
    improve(plan, Neighbourhood((0,), (0, 1), 0, 100, 1))
    # T at 3, S at 3 + 20 + 3; each is dry for 10 minutes more
    assert plan.cost == 13 * 5 + 36


def test_a_neighbourhood_places_a_chain_in_its_order_with_its_gaps() -> None:
    lay = duty("S/lay", effect="protect", covers=True, earliest_min=50)
    soak = duty(
        "S/soak", effect="wet", duration_min=10, missed_cost=500, late_cost_per_min=1,
        after=(Link(task_id="S/lay", min_gap_min=5, max_gap_min=10),),
    )  # fmt: skip
    bare = surface(
        tasks=(lay, soak), rewet=None, covered_from_min=None,
        fresh=(Stretch(from_min=0, until_min=600),),
    )  # fmt: skip
    plan = Plan(prepare(work_list(bare, minutes=200)))
    improve(plan, Neighbourhood((0,), (0,), 0, 200, 1))
    starts = {stop.job: stop.start for stop in plan.stops()}
    # bare to 50 at 3 a minute, watched and laid to 80, dry 5 minutes and the first 5 of
    # soaking to 95, wet to 215
    assert starts == {0: 50, 1: 85}
    assert plan.cost == 50 * 3 + 5 + 5


def test_an_inspection_in_passing_needs_no_second_walk() -> None:
    look = duty("S/look", duration_min=10, missed_cost=100, latest_min=33)
    plan = Plan(prepare(work_list(surface(tasks=(look,)), minutes=100)))
    improve(plan, Neighbourhood((0,), (0,), 0, 100, 1))
    # rewet from 3 to 23, half done at 13, then the look from 23 to 33: any walk would
    # miss it
    assert plan.cost == 13
    assert len(plan.stops()) == 2


def test_a_list_may_ask_for_the_walk_on_the_same_surface_too() -> None:
    look = duty("S/look", duration_min=10, missed_cost=100, latest_min=33)
    work = work_list(surface(tasks=(look,)), minutes=100, walks_on_surface=True)
    plan = Plan(prepare(work))
    improve(plan, Neighbourhood((0,), (0,), 0, 100, 1))
    # The look from 3 to 13 comes first, then the walk of 3: dry for 16 minutes and 10
    # of the work.
    assert [stop[:2] for stop in plan.stops()] == [(3, 0), (16, 1)]
    assert plan.cost == 16 + 10


def test_a_call_out_is_made_only_where_it_pays() -> None:
    night = shift(kind="on_call", call_out_cost=50)
    for minutes, cost in ((50, 50), (100, 50 + 13)):
        # Wet from 13 on: of 50 dry minutes 37 are spared, of 100 87; the call costs 50.
        plan = Plan(prepare(work_list(surface(), minutes=minutes, shifts=(night,))))
        improve(plan, Neighbourhood((0,), (0,), 0, 100, 1))
        assert plan.cost == cost


def test_a_neighbourhood_that_frees_nothing_proposes_nothing() -> None:
    plan = Plan(prepare(work_list(surface(rewet=None))))
    solved = solve_subproblem(
        subproblem_of(plan, Neighbourhood((0,), (0,), 0, 100, 5)), WORK, SEED
    )
    assert (solved.remove, solved.add, solved.proven) == ([], [], True)


def test_a_neighbourhood_keeps_overtime_within_the_week() -> None:
    # Two rewets and the walk between them take 43 minutes of overtime.
    late = (shift(starts_min=-600, ends_min=0, overtime_max_min=60),)
    both = (surface("S"), surface("T"))
    free = work_for_nothing(travel_cost_per_min=0, overtime_cost_per_min=0)
    for weeks, visits in (
        ((), 2),
        ((week(43),), 2),
        ((week(42),), 1),
        ((week(19),), 0),
    ):
        work = work_list(*both, shifts=late, hours_limits=weeks, costs=free, minutes=60)
        plan = Plan(prepare(work))
        improve(plan, Neighbourhood((0,), (0, 1), 0, 60, 1))
        assert len(plan.stops()) == visits


def test_a_neighbourhood_keeps_a_call_out_within_the_week() -> None:
    # From the walk of 3 to the end of the second rewet: 3 + 20 + 3 + 20.
    call = (shift(kind="on_call"),)
    both = (surface("S"), surface("T"))
    for left, visits in ((46, 2), (45, 1), (22, 0)):
        work = work_list(*both, shifts=call, hours_limits=(week(left),), minutes=60)
        plan = Plan(prepare(work))
        improve(plan, Neighbourhood((0,), (0, 1), 0, 60, 1))
        assert len(plan.stops()) == visits


def test_a_second_visit_in_a_call_out_is_made_only_where_its_hours_pay() -> None:
    # Wet from 13 to 143, dry for 100 minutes more; a second visit keeps the crew for
    # another 117 minutes and more.
    for per_min, visits in ((0.5, 2), (1.0, 1)):
        night = shift(kind="on_call", call_out_cost=1, call_out_per_min=per_min)
        work = work_list(surface(), minutes=243, shifts=(night,))
        plan = Plan(prepare(work))
        assert plan.change((), (Stop(3, 0, 0, -1),))
        improve(plan, Neighbourhood((0,), (0,), 0, 243, 1))
        assert len(plan.stops()) == visits
