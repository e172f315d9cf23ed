import pytest

from models.records import Costs, DryingCurve, Link, Stretch
from scheduler.solver.plan.cost import (
    GangShiftCost,
    Stop,
    SurfaceCost,
    beyond_shift_min,
    dry_stretches,
    gang_shift_cost,
    late_minutes,
    merged_stops,
    surface_cost,
)
from scheduler.solver.problem.problem import Problem, prepare
from tests.builders import work_for_nothing
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def prepared(*surfaces: object, **fields: object) -> Problem:
    return prepare(work_list(*surfaces, **fields))  # type: ignore[arg-type]  # terse


def test_a_rewet_keeps_its_surface_wet_from_its_middle_until_the_cover_is_dry() -> None:
    problem = prepared(surface())
    stops = [Stop(100, 0, 0, 0)]
    found = dry_stretches(problem, problem.surfaces[0], stops)
    # wet from 110 to 120, its second half, then 120 minutes
    assert [(d.start, d.end) for d in found] == [(0, 110), (240, 600)]
    assert surface_cost(problem, problem.surfaces[0], stops).dry_cost == 110 + 360


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
    # bare 0-10, and 40-115 until half of the cover is laid, at 3 a minute; covered and
    # full at 130, dry at 250
    assert [(d.start, d.end, d.covered) for d in found] == [
        (0, 10, False),
        (40, 115, False),
        (250, 600, True),
    ]
    assert surface_cost(problem, problem.surfaces[0], stops).dry_cost == 85 * 3 + 350


def test_a_long_strip_is_still_laid_under_the_cover_that_another_closed() -> None:
    # Halves: the first takes 80 min, the one that closes the cover 20, both from 0.
    # All of it is bare to 10, half to 20; full at 20 and at 80 it is dry from 200. That
    # the first half is half done at 40 only is no matter under the cover.
    strip = {"effect": "wet", "strip": True, "share_fraction": 0.5, "job": "lay"}
    long = duty("S/lay-1", kind="lay_cover", duration_min=80, **strip)
    short = duty("S/lay-2", kind="lay_cover", duration_min=20, covers=True, **strip)
    problem = prepared(
        surface(
            tasks=(long, short), covered_from_min=None,
            fresh=(Stretch(from_min=0, until_min=600),),
        )
    )  # fmt: skip
    stops = [Stop(0, 0, 0, -1), Stop(0, 1, 0, -1)]
    found = dry_stretches(problem, problem.surfaces[0], stops)
    assert [(d.start, d.end, d.covered, d.share) for d in found] == [
        (0, 10, False, 1), (10, 20, False, 0.5), (200, 600, True, 1),
    ]  # fmt: skip


def test_a_sealed_surface_is_never_dry_again() -> None:
    spray = duty("S/spray", kind="spray_compound", effect="seal")
    bare = surface(
        tasks=(spray,), rewet=None, curve=None, covered_from_min=None,
        fresh=(Stretch(from_min=0, until_min=600),),
    )  # fmt: skip
    problem = prepared(bare)
    stops = [Stop(50, 0, 0, -1)]
    # sprayed from 50 to 80, half of it by 65
    assert surface_cost(problem, problem.surfaces[0], stops).dry_cost == 65 * 3


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
    assert surface_cost(problem, problem.surfaces[0], stops).late_cost == 10 * 2 + 5


@pytest.mark.parametrize(
    ("start", "costs"),
    [(0, 0), (40, 2 * 30), (76, 2 * 66), (77, 133), (80, 133), (300, 133)],
)
def test_a_late_duty_costs_less_than_one_left_out(start: int, costs: int) -> None:
    # 30 min, due at 40, 2 a minute: from 67 min late on it costs 95 % of 140.
    look = duty("S/look", due_min=40, late_cost_per_min=2, missed_cost=140)
    problem = prepared(surface(tasks=(look,)))
    stops = [Stop(start, 0, 0, -1)]
    assert surface_cost(problem, problem.surfaces[0], stops).late_cost == costs


def test_a_duty_left_out_costs_its_price() -> None:
    problem = prepared(surface(tasks=(duty("S/look", missed_cost=150),)))
    assert surface_cost(problem, problem.surfaces[0], []).missed_cost == 150
    assert (
        surface_cost(problem, problem.surfaces[0], [Stop(0, 0, 0, -1)]).missed_cost == 0
    )


def test_a_shift_costs_walks_overtime_and_the_call() -> None:
    problem = prepared(
        surface("S"), surface("T"),
        shifts=(shift(kind="on_call", call_out_cost=400, ends_min=100,
                      overtime_max_min=60),),
        costs=work_for_nothing(overtime_cost_per_min=2, travel_cost_per_min=0.5),
    )  # fmt: skip
    # home to S: 3; stay on S: 0; to T: 3. T ends at 130, 30 over.
    stops = [Stop(10, 0, 0, 0), Stop(40, 0, 0, 0), Stop(110, 1, 0, 0)]
    found = gang_shift_cost(problem, (0,), [stops])
    assert (found.call_out_cost, found.overtime_min, found.travel_min) == (400, 30, 6)
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
    assert found.call_out_cost == pytest.approx(cost)


def test_the_parts_of_a_surface_s_cost_add_up() -> None:
    parts = SurfaceCost(
        dry_cost=1, low_water_cost=64, late_cost=2, missed_cost=4, labour_cost=8,
        water_cost=16, changes_cost=32, stretches=(),
    )  # fmt: skip
    assert (parts.curing_cost, parts.total) == (71, 127)


def test_a_surface_without_work_costs_nothing_beside_its_dryness() -> None:
    bare = surface(rewet=None, curve=None, covered_from_min=None, ends_min=0)
    problem = prepared(bare)
    assert surface_cost(problem, problem.surfaces[0], []).total == 0


def test_only_what_was_done_before_can_be_waited_for_too_long() -> None:
    lay = duty("S/lay")
    soak = duty(
        "S/soak", late_cost_per_min=1, after=(Link(task_id="S/lay", max_gap_min=15),)
    )
    look = duty("S/look", late_cost_per_min=1, after=(Link(task_id="S/lay"),))
    problem = prepared(surface(tasks=(lay, soak, look)))
    job = {job.task.id: job.index for job in problem.jobs}
    laid = Stop(0, job["S/lay"], 0, -1)
    # the soak without the laying before it; the look as long after it as it likes
    assert late_minutes(problem, [Stop(200, job["S/soak"], 0, -1)]) == []
    assert late_minutes(problem, [laid, Stop(400, job["S/look"], 0, -1)]) == []


@pytest.mark.parametrize(("covered_from", "dry_from"), [(0, 60), (1, 1), (90, 90)])
def test_what_a_cover_holds_at_the_start_counts_only_where_it_lies_by_then(
    covered_from: int, dry_from: int
) -> None:
    # Half a litre at half a litre an hour lasts until minute 60.
    on = surface(covered_from_min=covered_from, reserve_at_start_l_m2=0.5)
    problem = prepared(on)
    found = dry_stretches(problem, problem.surfaces[0], [])
    assert [(d.start, d.end, d.minutes) for d in found] == [
        (dry_from, 600, 600 - dry_from)
    ]


def test_the_earlier_of_a_report_and_a_laying_counts() -> None:
    lay = duty("S/lay", kind="lay_cover", covers=True)
    problem = prepared(surface(tasks=(lay,), covered_from_min=300))
    found = dry_stretches(problem, problem.surfaces[0], [Stop(100, 0, 0, -1)])
    assert [(d.start, d.end, d.covered) for d in found] == [(130, 600, True)]


def test_a_cover_that_goes_on_in_the_rain_has_missed_the_first_of_it() -> None:
    # Rain from 60 to 120 fills an empty cover by a sixtieth of a litre a minute. Laid
    # dry by 90 it is dry in that minute, holds half a litre at 120, not a whole one,
    # and is dry again at 180, not at 240.
    lay = duty("S/lay", kind="lay_cover", covers=True)
    rain = DryingCurve(
        step_min=60, loss_l_m2_h=(0.5, -1.0, *(0.5,) * 10), held_l_m2=1.0
    )
    problem = prepared(surface(tasks=(lay,), covered_from_min=None, curve=rain))
    here = problem.surfaces[0]
    laid = Stop(60, 0, 0, -1)
    assert [
        (d.start, d.end, d.minutes, d.cost)
        for d in dry_stretches(problem, here, [laid])
    ] == [(90, 600, 1 + 420, 421)]
    # A rewet from 200 to 220 keeps it wet from 210 to 340: dry from 180 until then, and
    # 260 after it.
    rewetted = [laid, Stop(200, 1, 0, 0)]
    assert [
        (d.start, d.end, d.minutes, d.cost)
        for d in dry_stretches(problem, here, rewetted)
    ] == [(90, 210, 1 + 30, 31), (340, 600, 260, 260)]


def test_stops_of_several_lanes_come_in_order_of_start() -> None:
    one, two, three = (Stop(start, 0, 0, -1) for start in (10, 20, 30))
    assert merged_stops([[one, three], [two]], (0, 1)) == [one, two, three]
    assert merged_stops([[one, three], [two]], (0,)) == [one, three]


def test_parties_walk_together_once_and_overtime_lasts_until_the_last_is_done() -> None:
    # All from home to S, 3; the first pair on to T, 3, until 110; the second stays on
    # S, no walk, until 640, 40 over.
    whole = shift("red", id="red/day", people=6, hands=("red 1", "red 2"))
    pairs = (
        shift(name, id=f"{name}/day", people=2, part_of="red/day")
        for name in ("red 1", "red 2")
    )
    tasks = {
        name: duty(name, people=people)
        for name, people in (("S/all", 4), ("S/look", 2), ("T/look", 2))
    }
    problem = prepared(
        surface("S", tasks=(tasks["S/all"], tasks["S/look"]), rewet=None),
        surface("T", tasks=(tasks["T/look"],), rewet=None),
        shifts=(whole, *pairs),
        costs=Costs(overtime_cost_per_min=2, travel_cost_per_min=0.5),
    )
    lane = {lane.shift.crew_id: lane.index for lane in problem.lanes}
    job = {job.task.id: job.index for job in problem.jobs}
    shift_lanes = problem.gang_shifts_of_unit[0][0]
    every = tuple(sorted({*shift_lanes, *problem.gang_shifts_of_unit[1][0]}))
    by_lane: dict[int, list[Stop]] = {index: [] for index in every}
    nothing = gang_shift_cost(problem, every, by_lane)
    assert nothing == GangShiftCost(0, 0, 0, 0)
    for crew, task_id, start in (
        ("red", "S/all", 10), ("red 1", "T/look", 80), ("red 2", "S/look", 610),
    ):  # fmt: skip
        by_lane[lane[crew]] = [Stop(start, job[task_id], lane[crew], -1)]
    found = gang_shift_cost(problem, every, by_lane)
    assert found == GangShiftCost(0, 40, 6, 40 * 2 + 6 * 0.5)


def test_an_idle_shift_costs_nothing() -> None:
    problem = prepared(surface(), shifts=(shift(kind="on_call", call_out_cost=400),))
    assert gang_shift_cost(problem, (0,), [[]]) == GangShiftCost(0, 0, 0, 0)
    assert beyond_shift_min(problem, problem.lanes[0], []) == 0


def test_work_beyond_a_shift_ends_with_the_last_job() -> None:
    # A look of 30 min from 560, then a rewet of 20 from 600: 20 min over; on call all
    # from the walk of 3 min on: 557 to 620.
    look = duty("S/look")
    stops = [Stop(560, 0, 0, -1), Stop(600, 1, 0, 0)]
    for kind, minutes in (("shift", 20), ("on_call", 63)):
        problem = prepared(
            surface(tasks=(look,)), shifts=(shift(kind=kind, overtime_max_min=60),)
        )
        assert beyond_shift_min(problem, problem.lanes[0], stops) == minutes


@pytest.mark.parametrize(
    ("start", "missed"), [(99, 150), (100, 0), (199, 0), (200, 150)]
)
def test_a_look_is_met_by_wetting_in_its_time(start: int, missed: int) -> None:
    look = duty(
        "S/look", earliest_min=100, latest_min=200, missed_cost=150, met_by_wetting=True
    )
    problem = prepared(surface(tasks=(look,)))
    rewet = problem.surfaces[0].rewet
    assert rewet is not None
    stops = [Stop(start, rewet, 0, 0)]
    assert surface_cost(problem, problem.surfaces[0], stops).missed_cost == missed
