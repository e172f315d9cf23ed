"""Covers of which there are not enough: counted, kept in neighbourhoods, named."""

from collections.abc import Sequence
from itertools import product
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import (
    CoverNeed,
    CoverSupply,
    Gap,
    Roster,
    Stretch,
    SurfaceWork,
    Task,
    WeightStep,
    WorkList,
)
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import subproblem_of
from tests.scheduler.solver.solver_builders import (
    STARTS_AT,
    duty,
    shift,
    surface,
    work_list,
)

LAY_MIN, LIFT_MIN = 30, 20


def lay(name: str, earliest: int = 0) -> Task:
    """Half an hour; the surface is wet and stays so for 120 minutes."""
    return duty(
        f"{name}/lay", kind="lay_cover", title="Lay burlap", earliest_min=earliest,
        duration_min=LAY_MIN, effect="wet", covers=True, missed_cost=300,
    )  # fmt: skip


def lift(name: str, earliest: int = 0, latest: int = 600) -> Task:
    return duty(
        f"{name}/lift", kind="remove_cover", title="Lift burlap", earliest_min=earliest,
        due_min=latest, latest_min=latest, duration_min=LIFT_MIN, missed_cost=100,
    )  # fmt: skip


def need(name: str, **fields: object) -> CoverNeed:
    base: dict[str, object] = {
        "kind": "burlap_double", "area_m2": 200, "laid_by": f"{name}/lay",
    }  # fmt: skip
    return CoverNeed.model_validate(base | fields)


def bare(name: str, *, earliest: int = 0, **fields: object) -> SurfaceWork:
    """Bare from the start, 3 a minute; laid by a task, lifted by none."""
    base: dict[str, object] = {
        "covered_from_min": None, "rewet": None, "tasks": (lay(name, earliest),),
        "fresh": (Stretch(from_min=earliest, until_min=600),),
        "cover_needs": (need(name),),
    }  # fmt: skip
    return surface(name, **(base | fields))


def lying(name: str, lifts: Task, **fields: object) -> SurfaceWork:
    """Under its cover already, dry at no cost; lifted by a task."""
    held = need(name, lies_from_min=-600, laid_by=None, lifted_by=(lifts.id,), **fields)
    return surface(
        name, rewet=None, tasks=(lifts,), cover_needs=(held,),
        weights=(WeightStep(from_min=0, per_min=0),),
    )  # fmt: skip


def site(*surfaces: SurfaceWork, stock_m2: float, minutes: int = 600) -> WorkList:
    owned = CoverSupply(
        kind="burlap_double", title="Wet burlap, two layers", stock_m2=stock_m2
    )
    gang = shift(ends_min=minutes)
    return work_list(*surfaces, covers=(owned,), minutes=minutes, shifts=(gang,))


def start_of(roster: Roster, task_id: str) -> int | None:
    found = (visit for visit in roster.visits if visit.task_id == task_id)
    visit = next(found, None)
    return None if visit is None else roster.horizon.minute(visit.starts_at)


def most_over_m2(work: WorkList, roster: Roster) -> float:
    """Most that is in use beyond the stock while something laid is, by the minute."""
    starts = {v.task_id: roster.horizon.minute(v.starts_at) for v in roster.visits}
    ends = {v.task_id: roster.horizon.minute(v.ends_at) for v in roster.visits}
    worst = -1e9
    for supply in work.covers:
        for minute in range(roster.horizon.length_min):
            used = laid = 0.0
            for one in (n for s in work.surfaces for n in s.cover_needs):
                if one.kind != supply.kind:
                    continue
                begins = one.lies_from_min
                if one.laid_by is not None:
                    begins = starts.get(one.laid_by)
                if begins is None or minute < begins - one.soak_lead_min:
                    continue
                off = [ends[t] for t in one.lifted_by if t in ends]
                gone = off and len(off) == len(one.lifted_by) and max(off) > begins
                if gone and minute >= max(off) + one.turnaround_min:
                    continue
                used += one.area_m2
                laid += one.area_m2 if one.laid_by is not None else 0
            if laid:
                worst = max(worst, used - supply.stock_m2)
    return worst


def test_without_enough_for_both_the_dearer_surface_is_covered() -> None:
    dear = bare("T", fresh_weights=(WeightStep(from_min=0, per_min=9),))
    roster = solve(site(bare("S"), dear, stock_m2=399), Effort(work=0.3))
    assert start_of(roster, "T/lay") == 3
    assert start_of(roster, "S/lay") is None


def test_a_kind_that_nobody_counts_is_no_limit() -> None:
    both = work_list(bare("S"), bare("T"))
    assert len(solve(both, Effort(work=0.3)).visits) == 2


def test_stock_is_taken_from_soaking_to_washing() -> None:
    # T is lifted by 3 + 20 = 23, washed by 83; S soaks for 40 from then: 123.
    lifts = lift("T")
    waits = bare("S", cover_needs=(need("S", soak_lead_min=40),))
    holds = lying("T", lifts, turnaround_min=60)
    plan = Plan(prepare(site(waits, holds, stock_m2=200)))
    assert not plan.change((), (Stop(123, 0, 0, -1),))
    assert plan.change((), (Stop(3, 1, 0, -1),))
    assert not plan.change((), (Stop(122, 0, 0, -1),))
    assert plan.change((), (Stop(123, 0, 0, -1),))


def test_what_soaks_before_the_plan_begins_soaks_from_its_start() -> None:
    waits = bare("S", cover_needs=(need("S", soak_lead_min=40),))
    plan = Plan(prepare(site(waits, bare("T"), stock_m2=200)))
    assert plan.change((), (Stop(3, 0, 0, -1),))
    assert not plan.change((), (Stop(300, 1, 0, -1),))


def test_a_later_lifting_may_not_take_covers_from_who_has_them() -> None:
    plan = Plan(prepare(site(bare("S"), lying("T", lift("T")), stock_m2=200)))
    lifted, laid = Stop(3, 1, 0, -1), Stop(30, 0, 0, -1)
    assert plan.change((), (lifted,))
    assert plan.change((), (laid,))
    assert not plan.change((lifted,), (lifted._replace(start=60),))
    assert not plan.change((lifted,), ())
    assert plan.change((laid,), ())
    assert plan.change((lifted,), ())


def test_more_that_lies_there_than_is_owned_only_bars_more() -> None:
    lifts = [lift(name) for name in "TU"]
    holds = [lying(one.surface_id, one) for one in lifts]
    plan = Plan(prepare(site(bare("S"), *holds, stock_m2=300)))
    assert plan.change((), (Stop(3, 1, 0, -1),))  # T is off by 23: 200 of 300 m²
    assert not plan.change((), (Stop(100, 0, 0, -1),))
    assert plan.change((), (Stop(50, 2, 0, -1),))  # U is off by 70
    assert plan.change((), (Stop(100, 0, 0, -1),))


def test_parts_lift_all_of_it_with_the_last_one() -> None:
    parts = (lift("T"), lift("T").model_copy(update={"id": "T/lift-2"}))
    held = need("T", lies_from_min=0, laid_by=None, lifted_by=("T/lift", "T/lift-2"))
    holds = surface("T", rewet=None, tasks=parts, cover_needs=(held,))
    plan = Plan(prepare(site(bare("S"), holds, stock_m2=200)))
    assert plan.change((), (Stop(3, 1, 0, -1),))
    assert not plan.change((), (Stop(60, 0, 0, -1),))
    assert plan.change((), (Stop(23, 2, 0, -1),))
    assert plan.change((), (Stop(60, 0, 0, -1),))


def improved(work: WorkList, *stops: Stop) -> Plan:
    """The best roster by one neighbourhood over everything."""
    plan = Plan(prepare(work))
    assert plan.change((), stops)
    everything = tuple(range(len(plan.problem.surfaces)))
    solved = solve_subproblem(
        subproblem_of(plan, Neighbourhood((0,), everything, 0, 600, 5)), 4.0, 1
    )
    assert solved.proven
    if solved.remove or solved.add:
        assert plan.improve(solved.remove, solved.add)
    return plan


def test_a_neighbourhood_lifts_sooner_what_another_surface_waits_for() -> None:
    work = site(bare("S"), lying("T", lift("T"), turnaround_min=30), stock_m2=200)
    plan = improved(work, Stop(500, 1, 0, -1))
    # lifted 3 to 23 and washed by 53: S is bare until half of it is laid by 68, at 3 a
    # minute; full at 83 it lasts for 120
    assert {stop.job: stop.start for stop in plan.stops()} == {0: 53, 1: 3}
    assert plan.cost == pytest.approx(68 * 3 + (600 - 83 - 120))


def test_the_search_lifts_sooner_what_another_surface_waits_for() -> None:
    holds = lying("T", lift("T", earliest=100), turnaround_min=60)
    waits = bare("S", cover_needs=(need("S", soak_lead_min=60),))
    roster = solve(site(waits, holds, stock_m2=200), Effort(work=0.3))
    assert (start_of(roster, "T/lift"), start_of(roster, "S/lay")) == (100, 240)


def cheapest(stock_m2: float, weights: Sequence[int], washed_min: int) -> int:
    """Least cost of S, bare from 0, and T, under covers, in 120 minutes, by trying.

    A dry minute of S costs its weight, to the middle of its laying; lateness of T's
    lifting, due at 100, another.
    """
    best = 10**9
    for laid, lifted in product([None, *range(3, 91)], [None, *range(3, 101)]):
        if laid is not None and lifted is not None:
            apart = (lifted + LIFT_MIN + 3 <= laid) or (laid + LAY_MIN + 3 <= lifted)
            if not apart:
                continue
        free_at = None if lifted is None else lifted + LIFT_MIN + washed_min
        waits = laid is not None and stock_m2 < 400
        if waits and (free_at is None or laid < free_at):
            continue
        cost = weights[0] * (120 if laid is None else laid + LAY_MIN // 2)
        cost += 300 * (laid is None) + 100 * (lifted is None)
        cost += weights[1] * (0 if lifted is None else max(0, lifted + LIFT_MIN - 60))
        best = min(best, cost)
    return best


@pytest.mark.parametrize("stock_m2", [200, 399, 400])
@pytest.mark.parametrize(("weights", "washed_min"), [((3, 1), 0), ((3, 9), 25)])
def test_with_stock_for_one_of_two_the_roster_is_the_best_there_is(
    stock_m2: float, weights: tuple[int, int], washed_min: int
) -> None:
    lifts = lift("T", latest=120).model_copy(
        update={"due_min": 60, "late_cost_per_min": weights[1]}
    )
    waits = bare("S", fresh_weights=(WeightStep(from_min=0, per_min=weights[0]),))
    holds = lying("T", lifts, turnaround_min=washed_min)
    work = site(waits, holds, stock_m2=stock_m2, minutes=120)
    roster = solve(work, Effort(work=0.3))
    assert roster.cost == cheapest(stock_m2, weights, washed_min)


def drawn(seed: int, stock_m2: float, count: int = 4) -> WorkList:
    """Surfaces by lot that lie or wait, with lead and turnaround."""
    rng = Random(seed)
    surfaces = []
    for index in range(count):
        name, area = f"S{index}", 100 * rng.randint(1, 3)
        turnaround, lead = rng.choice((0, 45)), rng.choice((0, 60))
        off = lift(name, rng.randint(0, 300))
        if rng.random() < 0.5:
            surfaces.append(lying(name, off, area_m2=area, turnaround_min=turnaround))
            continue
        earliest = rng.randint(0, 300)
        tasks = (
            (lay(name, earliest), off) if rng.random() < 0.5 else (lay(name, earliest),)
        )
        wants = need(
            name, area_m2=area, soak_lead_min=lead, turnaround_min=turnaround,
            lifted_by=tuple(task.id for task in tasks[1:]),
        )  # fmt: skip
        surfaces.append(
            bare(name, earliest=earliest, tasks=tasks, cover_needs=(wants,))
        )
    return site(*surfaces, stock_m2=stock_m2)


@settings(max_examples=12, deadline=None)
@given(seed=st.integers(0, 10_000), stock_m2=st.sampled_from((100, 300, 500)))
def test_no_roster_takes_more_than_there_is(seed: int, stock_m2: float) -> None:
    work = drawn(seed, stock_m2, count=5)
    roster = solve(work, Effort(work=0.1))
    assert most_over_m2(work, roster) <= 1e-6


@pytest.mark.parametrize("seed", range(5))
def test_more_stock_never_worsens_a_neighbourhood_solved_to_the_end(seed: int) -> None:
    costs = [improved(drawn(seed, m2, count=3)).cost for m2 in (100, 300, 500, 900)]
    assert costs == sorted(costs, reverse=True)


def bare_gaps(roster: Roster) -> list[Gap]:
    return [gap for gap in roster.gaps if not gap.covered]


def test_a_shortage_is_named_by_kind_amount_and_time() -> None:
    holds = lying("T", lift("T", earliest=120), turnaround_min=60)
    waits = bare("S", cover_needs=(need("S", soak_lead_min=60),))
    (gap,) = bare_gaps(solve(site(waits, holds, stock_m2=300), Effort(work=0.3)))
    # The first three minutes are those of the walk, the last are half of the laying,
    # from 260, 10:20, to 290.
    assert [reason.limit for reason in gap.reasons] == ["covers", "window"]
    # lifted from 120 to 140, 08:20, and washed by 200, 09:20; minute 0 is 06:00
    assert gap.reasons[0].words == (
        "Slab S wants 200 m² of wet burlap, two layers Mon 06:03, in water from Mon "
        "06:00; 100 m² of 300 m² are free, enough from Mon 09:20, when those of Slab T "
        "are off and washed"
    )
    assert gap.reasons[1].words == (
        "laying the cover begins Mon 10:20 and is half done by Mon 10:35"
    )
    assert gap.ends_at > STARTS_AT


def test_a_laying_that_is_missed_names_the_covers() -> None:
    roster = solve(site(bare("S"), stock_m2=150), Effort(work=0.3))
    (gap,), (missed,) = bare_gaps(roster), roster.missed
    assert (gap.reasons[0].limit, missed.limit) == ("covers", "covers")
    assert missed.words == (
        "Slab S wants 200 m² of wet burlap, two layers; the site has 150 m²"
    )
