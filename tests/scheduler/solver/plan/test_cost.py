import pytest

from models.records import Costs, Link, Stretch
from scheduler.solver.plan.cost import (
    Stop,
    dry_stretches,
    gang_shift_cost,
    late_minutes,
    surface_cost,
)
from scheduler.solver.problem.problem import Problem, prepare
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def prepared(*surfaces: object, **fields: object) -> Problem:
    return prepare(work_list(*surfaces, **fields))  # type: ignore[arg-type]  # terse


def test_a_rewet_keeps_its_surface_wet_from_its_start_until_the_cover_is_dry() -> None:
    problem = prepared(surface())
    stops = [Stop(100, 0, 0, 0)]
    found = dry_stretches(problem, problem.surfaces[0], stops)
    # wet from 100 to 120 while it lasts, then 120 minutes
    assert [(d.start, d.end) for d in found] == [(0, 100), (240, 600)]
    assert surface_cost(problem, problem.surfaces[0], stops).dry == 100 + 360


def test_a_bare_surface_is_safe_while_someone_fogs_and_once_it_is_covered() -> None:
    fog = duty("S/fog", kind="fog", effect="protect")
    lay = duty("S/lay", kind="lay_cover", effect="wet", covers=True)
    bare = surface(
        tasks=(fog, lay), covered_from_min=None,
        fresh=(Stretch(from_min=0, until_min=600),),
    )  # fmt: skip
    problem = prepared(bare)
    stops = [Stop(10, 0, 0, -1), Stop(100, 1, 0, -1)]
    found = dry_stretches(problem, problem.surfaces[0], stops)
    # bare 0-10 and 40-100 at 3 a minute; covered and full at 130, dry at 250
    assert [(d.start, d.end, d.covered) for d in found] == [
        (0, 10, False),
        (40, 100, False),
        (250, 600, True),
    ]
    assert surface_cost(problem, problem.surfaces[0], stops).dry == 70 * 3 + 350


def test_a_sealed_surface_is_never_dry_again() -> None:
    spray = duty("S/spray", kind="spray_compound", effect="seal")
    bare = surface(
        tasks=(spray,), rewet=None, curve=None, covered_from_min=None,
        fresh=(Stretch(from_min=0, until_min=600),),
    )  # fmt: skip
    problem = prepared(bare)
    assert surface_cost(problem, problem.surfaces[0], [Stop(50, 0, 0, -1)]).dry == 150


def test_work_is_late_after_its_due_time_and_after_too_long_a_wait() -> None:
    lay = duty("S/lay", due_min=40, late_cost_per_min=2)
    soak = duty(
        "S/soak", late_cost_per_min=1,
        after=(Link(task_id="S/lay", min_gap_min=5, max_gap_min=15),),
    )  # fmt: skip
    problem = prepared(surface(tasks=(lay, soak)))
    stops = [Stop(20, 0, 0, -1), Stop(70, 1, 0, -1)]
    # lay ends at 50, 10 late; soak starts 20 after it, 5 too long
    late = [(job.task.id, minutes) for job, minutes in late_minutes(problem, stops)]
    assert late == [("S/lay", 10), ("S/soak", 5)]
    assert surface_cost(problem, problem.surfaces[0], stops).late == 10 * 2 + 5


@pytest.mark.parametrize(
    ("start", "costs"),
    [(0, 0), (40, 2 * 30), (79, 2 * 69), (80, 140), (300, 140)],
)
def test_a_late_duty_costs_no_more_than_one_left_out(start: int, costs: int) -> None:
    # 30 min, due at 40, 2 a minute: from 70 min late on it costs the 140 of leaving it.
    look = duty("S/look", due_min=40, late_cost_per_min=2, missed_cost=140)
    problem = prepared(surface(tasks=(look,)))
    stops = [Stop(start, 0, 0, -1)]
    assert surface_cost(problem, problem.surfaces[0], stops).late == costs


def test_a_duty_left_out_costs_its_price() -> None:
    problem = prepared(surface(tasks=(duty("S/look", missed_cost=150),)))
    assert surface_cost(problem, problem.surfaces[0], []).missed == 150
    assert surface_cost(problem, problem.surfaces[0], [Stop(0, 0, 0, -1)]).missed == 0


def test_a_shift_costs_walks_overtime_and_the_call() -> None:
    problem = prepared(
        surface("S"), surface("T"),
        shifts=(shift(kind="on_call", call_out_cost=400, ends_min=100,
                      overtime_max_min=60),),
        costs=Costs(overtime_cost_per_min=2, travel_cost_per_min=0.5),
    )  # fmt: skip
    # home to S: 3; stay on S: 0; to T: 3. T ends at 130, 30 over.
    stops = [Stop(10, 0, 0, 0), Stop(40, 0, 0, 0), Stop(110, 1, 0, 0)]
    found = gang_shift_cost(problem, (0,), [stops])
    assert (found.call_out, found.overtime_min, found.travel_min) == (400, 30, 6)
    assert found.total == pytest.approx(400 + 30 * 2 + 6 * 0.5)
    assert gang_shift_cost(problem, (0,), [[]]).total == 0


@pytest.mark.parametrize(
    ("starts", "cost"),
    [
        ((10,), 160),  # three minutes' walk and 20 of work: the two hours paid at least
        ((10, 107), 160),  # from 7 to 127, just two hours
        ((10, 137), 175),  # half an hour more, at 30 an hour
    ],
)
def test_a_call_out_is_paid_by_the_hour_from_the_walk_to_the_last_end(
    starts: tuple[int, ...], cost: float
) -> None:
    # 100 for the call and two hours at 30 in any case
    night = shift(
        kind="on_call", call_out_cost=160, call_out_paid_min=120, call_out_per_min=0.5
    )
    problem = prepared(surface("S"), shifts=(night,))
    found = gang_shift_cost(problem, (0,), [[Stop(s, 0, 0, 0) for s in starts]])
    assert found.call_out == pytest.approx(cost)
