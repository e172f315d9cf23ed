from models.records import Stretch
from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.start.dispatch import best_start, dispatch
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def test_the_cover_that_dries_first_is_wetted_first() -> None:
    early = surface("S", reserve_at_start_l_m2=0.2)  # dry at 24
    late = surface("T", reserve_at_start_l_m2=0.3)  # dry at 36
    plan = dispatch(
        prepare(work_list(early, late, minutes=100)), DEFAULT.start.rules[0]
    )
    assert [stop.job for stop in plan.stops()][:2] == [0, 1]


def test_covers_go_on_as_soon_as_they_may() -> None:
    lay = duty("S/lay", effect="wet", covers=True, earliest_min=40)
    bare = surface(
        tasks=(lay,), covered_from_min=None, fresh=(Stretch(from_min=0, until_min=600),)
    )
    plan = dispatch(prepare(work_list(bare)), DEFAULT.start.rules[0])
    assert plan.stops()[0][:2] == (40, 0)


def test_covers_are_topped_up_before_a_night_that_nobody_serves() -> None:
    # Wetted at 600 a cover is dry at 720; without it the reserve ends at 610.
    work = work_list(surface(reserve_at_start_l_m2=1), minutes=900)
    plan = dispatch(prepare(work), DEFAULT.start.rules[0])
    last = plan.stops()[-1]
    assert plan.end(last) > 500


def test_nobody_is_called_out_for_less_than_it_costs() -> None:
    dear = shift(kind="on_call", call_out_cost=100_000)
    assert (
        dispatch(
            prepare(work_list(surface(), shifts=(dear,))), DEFAULT.start.rules[0]
        ).stops()
        == []
    )


def test_the_best_of_several_foremen_is_taken() -> None:
    problem = prepare(work_list(surface("S"), surface("T"), surface("U")))
    costs = [dispatch(problem, rule).cost for rule in DEFAULT.start.rules]
    assert best_start(problem).cost == min(costs)
