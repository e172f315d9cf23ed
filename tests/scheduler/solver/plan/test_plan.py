from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.openings import intersected, lane_openings, surface_openings
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from tests.scheduler.solver.solver_builders import duty, surface, tap, work_list


def test_a_change_is_made_whole_or_not_at_all() -> None:
    plan = Plan(prepare(work_list(surface("S"), surface("T"))))
    before = plan.cost
    overlapping = (Stop(10, 0, 0, -1), Stop(15, 1, 0, -1))
    assert not plan.change((), overlapping)
    assert plan.cost == before
    assert plan.stops() == []
    assert plan.water.points[0].drawn.sum() == 0


def test_a_rewet_takes_its_minutes_off_the_cost() -> None:
    plan = Plan(prepare(work_list(surface())))
    assert plan.cost == 600
    assert plan.change((), (Stop(100, 0, 0, -1),))
    # wet for the second half of 20 minutes of work and 120 after it
    assert plan.cost == 600 - 130


def test_an_improvement_that_costs_more_is_undone() -> None:
    plan = Plan(prepare(work_list(surface(ends_min=10), minutes=600)))
    late = Stop(200, 0, 0, -1)
    assert not plan.improve((), (late,))
    assert plan.stops() == []


def test_a_visit_gets_another_water_point_when_its_own_is_short() -> None:
    supplies = (tap(id="a", flow_l_min=20), tap(id="b", flow_l_min=20))
    work = work_list(
        surface("S"), surface("T"), supplies=supplies,
        water_points={"A": ("a", "b")},
        shifts=(*work_list().shifts, work_list().shifts[0].model_copy(
            update={"crew_id": "blue", "id": "blue/day"})),
    )  # fmt: skip
    plan = Plan(prepare(work))
    assert plan.change((), (Stop(100, 0, 0, 0), Stop(100, 1, 1, 0)))
    assert sorted(stop.point for stop in plan.stops()) == [0, 1]


def test_openings_leave_walks_and_the_surface_its_visits() -> None:
    problem = prepare(work_list(surface("S"), surface("T", tasks=(duty("T/look"),))))
    plan = Plan(problem)
    assert plan.change((), (Stop(100, 0, 0, -1),))  # S wetted from 100 to 120
    look = problem.jobs[1]
    lane = problem.lanes[0]
    # thirty minutes and a walk of three before 100; from 123 to the end at 600
    assert lane_openings(plan, look, lane) == [(3, 67), (123, 570)]
    assert lane_openings(plan, look, lane, walks=False) == [(3, 70), (120, 570)]
    rewet = problem.jobs[0]
    assert surface_openings(plan, rewet) == [(0, 80), (120, 9980)]
    assert intersected([(0, 10), (20, 30)], [(5, 25)]) == [(5, 10), (20, 25)]
