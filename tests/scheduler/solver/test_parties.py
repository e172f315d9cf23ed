"""Gangs that work as a whole or each party by itself."""

from collections import defaultdict
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import CrewShift, Roster, SurfaceWork, Task, WorkList
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.openings import lane_openings
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.builders import work_for_nothing
from tests.scheduler.solver.optimum import best_plan
from tests.scheduler.solver.solver_builders import (
    duty,
    shift,
    surface,
    week,
    work_list,
)

NAMES = ("red 1", "red 2", "red 3")


def gang(name: str = "day", **fields: object) -> tuple[CrewShift, ...]:
    """A gang of six on one shift, as a whole and as three pairs."""
    whole = shift("red", id=f"red/{name}", people=6, hands=NAMES, **fields)
    pairs = (
        shift(pair, id=f"{pair}/{name}", people=2, part_of=whole.id, **fields)
        for pair in NAMES
    )
    return (whole, *pairs)


def looked_at(name: str, *tasks: Task, **fields: object) -> SurfaceWork:
    """A surface under compound: it never dries, but has work of its own."""
    return surface(name, curve=None, rewet=None, tasks=tasks, **fields)


def lane_of(plan: Plan, crew_id: str, name: str = "day") -> int:
    lanes = plan.problem.lanes
    return next(x.index for x in lanes if x.shift.id == f"{crew_id}/{name}")


def test_one_pair_fogs_while_another_rewets() -> None:
    # Fog holds two people from minute 10 to 190; T is dry from minute 0 until wetted.
    fog = duty(
        "S/fog", kind="fog", people=2, duration_min=180, earliest_min=10, due_min=190,
        latest_min=190, effect="protect", missed_cost=600,
    )  # fmt: skip
    surfaces = looked_at("S", fog), surface("T")
    whole, split = (
        solve(work_list(*surfaces, shifts=shifts, minutes=200), Effort(work=1))
        for shifts in (gang()[:1], gang())
    )
    # A first visit from minute 3, the walk from home, keeps T wet from its middle at 13
    # until 142; a second falls into the fog. All six together can do no more than one
    # of the two.
    assert split.cost == 13
    fog_visit, *wets = sorted(split.visits, key=lambda v: v.task_id != "S/fog")
    meanwhile = {
        wet.crew_id
        for wet in wets
        if fog_visit.starts_at < wet.starts_at < fog_visit.ends_at
    }
    assert meanwhile
    assert fog_visit.crew_id not in meanwhile
    assert whole.cost > 100


def test_a_gang_and_its_party_never_work_at_once() -> None:
    big, small = duty("S/big", people=6), duty("T/small", people=2)
    problem = prepare(work_list(looked_at("S", big), looked_at("T", small),
                                shifts=gang()))  # fmt: skip
    plan = Plan(problem)
    assert plan.change((), (Stop(100, 0, lane_of(plan, "red"), -1),))
    # 30 minutes from 100, and 3 to walk: nothing between 68 and 132.
    for start, fits in ((67, True), (68, False), (110, False), (132, False)):
        stop = Stop(start, 1, lane_of(plan, "red 2"), -1)
        assert plan.change((), (stop,)) is fits
        if fits:
            assert plan.change((stop,), ())
    pair = problem.lanes[lane_of(plan, "red 2")]
    assert lane_openings(plan, problem.jobs[1], pair) == [(3, 67), (133, 570)]


def test_what_a_pair_can_do_is_not_for_all_six() -> None:
    work = work_list(looked_at("S", duty("S/a", people=2), duty("S/b", people=3)),
                     shifts=gang())  # fmt: skip
    problem = prepare(work)
    asked = [
        [problem.lanes[i].shift.crew_id for i in job.lanes] for job in problem.jobs
    ]
    assert asked == [list(NAMES), ["red"]]


def test_walks_together_count_once_and_overtime_until_the_last() -> None:
    six = duty("S/six", people=6), duty("T/six", people=6)
    two = duty("U/two", people=2)
    works = [looked_at(n, t) for n, t in zip("STU", (*six, two), strict=True)]
    late = gang(ends_min=300, overtime_max_min=60)
    costs = work_for_nothing(travel_cost_per_min=1, overtime_cost_per_min=2)
    plan = Plan(prepare(work_list(*works, shifts=late, costs=costs)))
    red, pair = lane_of(plan, "red"), lane_of(plan, "red 1")
    turn = plan.problem.lanes[red].gang_shift
    # All from home to S, on to T: 3 + 3, however many walk; T ends at 310, 10 over.
    assert plan.change((), (Stop(100, 0, red, -1), Stop(280, 1, red, -1)))
    assert (
        plan.gang_shift_costs[turn].travel_min,
        plan.gang_shift_costs[turn].overtime_min,
    ) == (
        6,
        10,
    )
    # One pair goes on to U, 3 more, and stays until 343: 43 over, the others' 10 in it.
    assert plan.change((), (Stop(313, 2, pair, -1),))
    assert (
        plan.gang_shift_costs[turn].travel_min,
        plan.gang_shift_costs[turn].overtime_min,
    ) == (
        9,
        43,
    )


@pytest.mark.parametrize(("start", "fits"), [(570, False), (630, True)])
def test_a_pair_rests_after_what_the_whole_gang_did(start: int, fits: bool) -> None:
    six, two = duty("S/six", people=6), duty("T/two", people=2)
    shifts = gang(ends_min=130) + gang("late", starts_min=500, ends_min=700)
    work = work_list(looked_at("S", six), looked_at("T", two), shifts=shifts,
                     minutes=700, rest_min=500)  # fmt: skip
    plan = Plan(prepare(work))
    assert plan.change((), (Stop(100, 0, lane_of(plan, "red"), -1),))
    assert (
        plan.change((), (Stop(start, 1, lane_of(plan, "red 1", "late"), -1),)) is fits
    )


def test_the_week_of_a_pair_holds_its_own_overtime_and_the_gangs() -> None:
    six, two = duty("S/six", people=6), duty("T/two", people=2)
    shifts = gang(starts_min=-600, ends_min=0, overtime_max_min=120)
    weeks = tuple(
        week(60).model_copy(update={"crew_id": name, "shift_ids": ("red/day",)})
        for name in NAMES
    )
    work = work_list(looked_at("S", six), looked_at("T", two), shifts=shifts,
                     hours_limits=weeks)  # fmt: skip
    plan = Plan(prepare(work))
    assert plan.change((), (Stop(10, 0, lane_of(plan, "red"), -1),))
    assert not plan.change((), (Stop(43, 1, lane_of(plan, "red 1"), -1),))
    more = week(73).model_copy(update={"crew_id": "red 1", "shift_ids": ("red/day",)})
    plan = Plan(prepare(work.model_copy(update={"hours_limits": (more, *weeks[1:])})))
    assert plan.change((), (Stop(10, 0, lane_of(plan, "red"), -1),))
    assert plan.change((), (Stop(43, 1, lane_of(plan, "red 1"), -1),))


def test_a_party_that_is_in_the_way_is_named() -> None:
    shifts = tuple(
        one.model_copy(update={"crew_name": one.crew_id.title()}) for one in gang()
    )
    holds = [
        looked_at(n, duty(f"{n}/hold", people=2, duration_min=150, earliest_min=3,
                          due_min=160, latest_min=160, missed_cost=9000))
        for n in "STU"
    ]  # fmt: skip
    work = work_list(*holds, surface("V"), shifts=shifts, minutes=160)
    reasons = solve(work, Effort(work=1)).gaps[0].reasons
    busy = [reason for reason in reasons if reason.limit == "crews_busy"]
    assert "Red 2 on Slab" in busy[0].words


@st.composite
def small_sites(draw: st.DrawFn, most: int) -> tuple[SurfaceWork, ...]:
    """A few surfaces, some dry, with work for one to six people."""
    found = []
    for name in "STUV"[: draw(st.integers(2, most))]:
        tasks = tuple(
            duty(
                f"{name}/{number}",
                people=draw(st.integers(1, 6)),
                duration_min=draw(st.sampled_from((15, 40, 90))),
                earliest_min=draw(st.integers(0, 120)),
                due_min=draw(st.integers(60, 240)),
                late_cost_per_min=1,
                missed_cost=draw(st.sampled_from((50, 400))),
            )
            for number in range(draw(st.integers(0, 2)))
        )
        dries = {} if draw(st.booleans()) else {"curve": None, "rewet": None}
        found.append(surface(name, tasks=tasks, **dries))
    return tuple(found)


def listed(
    surfaces: tuple[SurfaceWork, ...], shifts: tuple[CrewShift, ...]
) -> WorkList:
    return work_list(
        *surfaces,
        shifts=shifts,
        minutes=300,
        costs=work_for_nothing(travel_cost_per_min=0),
    )


@pytest.mark.slow
@settings(max_examples=8, deadline=None)
@given(small_sites(4))
def test_rosters_keep_every_work_unit_to_one_job_at_a_time(
    surfaces: tuple[SurfaceWork, ...],
) -> None:
    work = listed(surfaces, gang(ends_min=240, overtime_max_min=30))
    roster = solve(work, Effort(work=0.3))
    tasks = {
        t.id: t for s in surfaces for t in (*s.tasks, *([s.rewet] if s.rewet else []))
    }
    people = {"red": 6, **dict.fromkeys(NAMES, 2)}
    assert all(tasks[v.task_id].people <= people[v.crew_id] for v in roster.visits)
    for stretches in lanes_by_unit(roster).values():
        for (_, end, here), (start, _, there) in pairwise(sorted(stretches)):
            assert start >= end + (0 if here == there else 3)


def lanes_by_unit(roster: Roster) -> dict[str, list[tuple[int, int, str]]]:
    """What each pair does, alone or with all six: from, to and on which surface."""
    minute, found = roster.horizon.minute, defaultdict(list)
    for visit in roster.visits:
        for unit in NAMES if visit.crew_id == "red" else (visit.crew_id,):
            stretch = minute(visit.starts_at), minute(visit.ends_at), visit.surface_id
            found[unit].append(stretch)
    return found


@pytest.mark.slow
@settings(max_examples=8, deadline=None)
@given(small_sites(2))
def test_parties_never_make_the_best_roster_dearer(
    surfaces: tuple[SurfaceWork, ...],
) -> None:
    whole, split = (
        best_plan(listed(surfaces, shifts), rewets=3) for shifts in (gang()[:1], gang())
    )
    assert split.cost <= whole.cost + 1e-6
