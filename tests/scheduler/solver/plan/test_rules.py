import pytest

from models.records import Link, Stretch
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.rules import (
    hours_fit,
    lane_fits,
    rest_fits,
    stop_fits,
    surface_fits,
)
from scheduler.solver.problem.problem import Problem, prepare
from tests.scheduler.solver.solver_builders import (
    duty,
    shift,
    surface,
    week,
    work_list,
)


def two_surfaces(**fields: object) -> Problem:
    return prepare(work_list(surface("S"), surface("T"), **fields))  # type: ignore[arg-type]  # terse


@pytest.mark.parametrize(
    ("start", "fits"), [(2, False), (3, True), (580, True), (581, False)]
)
def test_a_shift_begins_with_the_walk_and_ends_with_the_work(
    start: int, fits: bool
) -> None:
    problem = two_surfaces()
    assert stop_fits(problem, problem.jobs[0], problem.lanes[0], start) is fits


@pytest.mark.parametrize(
    ("start", "fits"), [(80, True), (81, False), (129, False), (130, True)]
)
def test_nobody_works_in_a_break(start: int, fits: bool) -> None:
    pause = (Stretch(from_min=100, until_min=130),)
    problem = two_surfaces(shifts=(shift(breaks=pause),))
    assert stop_fits(problem, problem.jobs[0], problem.lanes[0], start) is fits


def test_a_heat_ban_and_a_break_that_meet_keep_the_work_out_together() -> None:
    pause = (Stretch(from_min=100, until_min=130),)
    ban = (Stretch(from_min=120, until_min=200),)
    problem = two_surfaces(shifts=(shift(breaks=pause),), heat_bans=ban)
    assert problem.lanes[0].breaks == ((100, 200),)
    for start, fits in ((80, True), (81, False), (199, False), (200, True)):
        assert stop_fits(problem, problem.jobs[0], problem.lanes[0], start) is fits


def test_a_crew_without_hands_or_skill_has_no_lane() -> None:
    two = surface(tasks=(duty("S/lift", people=3), duty("S/fog", skills=("fogger",))))
    problem = prepare(work_list(two))
    assert [job.lanes for job in problem.jobs] == [(), (), (0,)]


def test_the_next_surface_takes_a_walk_and_the_same_one_none() -> None:
    problem = two_surfaces()
    there = [Stop(10, 0, 0, 0), Stop(32, 1, 0, 0)]
    assert not lane_fits(problem, there)
    assert lane_fits(problem, [there[0], Stop(33, 1, 0, 0)])
    assert lane_fits(problem, [there[0], Stop(30, 0, 0, 0)])


def test_a_surface_has_one_visit_at_a_time_in_order() -> None:
    lay = duty("S/lay", covers=True)
    soak = duty("S/soak", after=(Link(task_id="S/lay", min_gap_min=10),))
    problem = prepare(work_list(surface(tasks=(lay, soak), covered_from_min=None)))
    here = problem.surfaces[0]
    good = [Stop(10, 0, 0, -1), Stop(50, 1, 0, -1), Stop(80, 2, 0, 0)]
    assert surface_fits(problem, here, good)
    assert not surface_fits(problem, here, [good[0], Stop(49, 1, 0, -1)])
    assert not surface_fits(problem, here, good[1:])  # soaked but not laid
    assert not surface_fits(problem, here, [Stop(5, 2, 0, 0), Stop(30, 0, 0, -1)])
    assert not surface_fits(problem, here, [good[0], Stop(45, 0, 0, -1)])  # twice


@pytest.mark.parametrize(("start", "fits"), [(39, False), (40, True)])
def test_the_next_visit_waits_until_the_one_before_is_over(
    start: int, fits: bool
) -> None:
    tasks = duty("S/lay"), duty("S/look")
    problem = prepare(work_list(surface(tasks=tasks)))
    stops = [Stop(10, 0, 0, -1), Stop(start, 1, 0, -1)]
    assert surface_fits(problem, problem.surfaces[0], stops) is fits


def test_a_rewet_waits_for_the_first_cover_reported_or_laid() -> None:
    lay = duty("S/lay", covers=True)
    for covered_from in (None, 300):
        problem = prepare(
            work_list(surface(tasks=(lay,), covered_from_min=covered_from))
        )
        here = problem.surfaces[0]
        # laid from 10 to 40
        for start, fits in ((40, True), (300, True)):
            stops = [Stop(10, 0, 0, -1), Stop(start, 1, 0, 0)]
            assert surface_fits(problem, here, stops) is fits
        assert not surface_fits(problem, here, [Stop(200, 1, 0, 0)])


@pytest.mark.parametrize(("start", "fits"), [(699, False), (700, True)])
def test_a_crew_rests_between_shifts(start: int, fits: bool) -> None:
    shifts = (shift(), shift(id="red/night", starts_min=620, ends_min=1200))
    problem = two_surfaces(shifts=shifts, rest_min=480, minutes=1200)
    # work ends at 220; 480 minutes of rest until 700
    by_lane = [[Stop(200, 0, 0, 0)], [Stop(start, 0, 1, 0)]]
    assert rest_fits(problem, 0, by_lane) is fits
    # a gang that does nothing on one of them rests there
    assert rest_fits(problem, 0, [[], by_lane[1]])


@pytest.mark.parametrize(("left", "fits"), [(29, False), (30, True)])
def test_overtime_counts_on_top_of_the_week(left: int, fits: bool) -> None:
    shifts = (shift(overtime_max_min=60),)
    problem = two_surfaces(shifts=shifts, hours_limits=(week(left),))
    # ends at 630, 30 minutes after the shift
    assert hours_fit(problem, 0, [[Stop(610, 0, 0, 0)]]) is fits


@pytest.mark.parametrize(("left", "fits"), [(122, False), (123, True)])
def test_a_call_out_counts_from_the_walk_to_the_last_end(left: int, fits: bool) -> None:
    problem = two_surfaces(shifts=(shift(kind="on_call"),), hours_limits=(week(left),))
    # leaves at 97 for the first at 100; the second ends at 220
    by_lane = [[Stop(100, 0, 0, 0), Stop(200, 1, 0, 0)]]
    assert hours_fit(problem, 0, by_lane) is fits


def test_every_week_is_counted_by_itself() -> None:
    shifts = (
        shift(overtime_max_min=60),
        shift(id="red/2", starts_min=1440, ends_min=2040, overtime_max_min=60),
    )
    stops = [[Stop(610, 0, 0, 0)], [Stop(2050, 0, 1, 0)]]  # 30 over, then 30 over
    one = week(59, shift_ids=("red/day", "red/2"))
    two = (week(30), week(30, shift_ids=("red/2",)))
    short = (week(30), week(29, shift_ids=("red/2",)))
    for weeks, fits in (((one,), False), (two, True), (short, False)):
        problem = two_surfaces(shifts=shifts, hours_limits=weeks, minutes=2880)
        assert hours_fit(problem, 0, stops) is fits


@pytest.mark.parametrize(("start", "fits"), [(1989, False), (1990, True)])
def test_a_call_out_in_the_night_puts_off_the_next_mornings_work(
    start: int, fits: bool
) -> None:
    # Called out at 02:00, minute 1200, and over at 1330 with the second rewet: the day
    # shift begins at 07:00, but eleven hours of rest last until minute 1990.
    night = shift(
        id="red/call", kind="on_call", starts_min=1080, ends_min=1440, call_out_cost=1
    )
    day = shift(id="red/2", starts_min=1500, ends_min=2100)
    problem = two_surfaces(shifts=(night, day), rest_min=660, minutes=2880)
    by_lane = [[Stop(1200, 0, 0, 0), Stop(1310, 1, 0, 0)], [Stop(start, 0, 1, 0)]]
    assert rest_fits(problem, 0, by_lane) is fits
