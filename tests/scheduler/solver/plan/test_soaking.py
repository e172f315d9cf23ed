"""Covers soaked ahead by a visit, or laid wet as they come off another surface.

Laying takes 30 minutes, lifting 20, soaking ahead 10; the gang walks 3 to each job.
Covers lie in water for 60 minutes, are washed for 30 and stay wet for 200.
"""

from itertools import pairwise, product

import pytest

from models.records import CoverNeed, CoverSupply, Stretch, SurfaceWork, Task, WorkList
from models.records import WeightStep as Weight
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.soaking import change_with_soaking, soakings
from scheduler.solver.problem.problem import prepare
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from scheduler.solver.start.cheapest_place import assign_duties
from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import subproblem_of
from tests.scheduler.solver.plan.test_covers import lay, lift, start_of
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list

SOAK_MIN, LEAD_MIN, WASHED_MIN, STAYS_WET_MIN = 10, 60, 30, 200


def soak(name: str) -> Task:
    return duty(
        f"{name}/soak", kind="soak_ahead", title="Put burlap into water",
        duration_min=SOAK_MIN,
    )  # fmt: skip


def waits(
    name: str = "S", *more: Task, area_m2: float = 200, **fields: object
) -> SurfaceWork:
    """Bare from the start, 3 a minute; nothing is in water yet."""
    need = CoverNeed.model_validate(
        {
            "kind": "burlap_double", "area_m2": area_m2, "laid_by": f"{name}/lay",
            "soak_lead_min": LEAD_MIN, "soaked_by": f"{name}/soak",
            "turnaround_min": WASHED_MIN,
        } | fields
    )  # fmt: skip
    return surface(
        name, covered_from_min=None, rewet=None,
        tasks=(soak(name), lay(name), *more), cover_needs=(need,),
        fresh=(Stretch(from_min=0, until_min=600),),
    )  # fmt: skip


def lies(name: str, off: Task, area_m2: float = 200) -> SurfaceWork:
    """Under covers at no cost, lifted by a task."""
    need = CoverNeed(
        kind="burlap_double", area_m2=area_m2, lies_from_min=-600,
        lifted_by=(off.id,), turnaround_min=WASHED_MIN,
    )  # fmt: skip
    return surface(
        name, rewet=None, tasks=(off,), cover_needs=(need,),
        weights=(Weight(from_min=0, per_min=0),),
    )  # fmt: skip


def site(
    *surfaces: SurfaceWork, stock_m2: float = 5000, minutes: int = 600
) -> WorkList:
    owned = CoverSupply(
        kind="burlap_double", title="Wet burlap, two layers", stock_m2=stock_m2,
        stays_wet_min=STAYS_WET_MIN,
    )  # fmt: skip
    gang = shift(ends_min=minutes)
    return work_list(*surfaces, covers=(owned,), minutes=minutes, shifts=(gang,))


def at(plan: Plan, task_id: str, start: int) -> Stop:
    job = next(job for job in plan.problem.jobs if job.task.id == task_id)
    return Stop(start, job.index, 0, -1)


def test_nothing_is_laid_that_nobody_has_put_into_water_long_enough() -> None:
    # in water from 3 to 13, 60 minutes more: 73
    plan = Plan(prepare(site(waits())))
    soaked = at(plan, "S/soak", 3)
    assert not plan.change((), (at(plan, "S/lay", 300),))
    assert not plan.change((), (soaked, at(plan, "S/lay", 72)))
    assert plan.change((), (soaked, at(plan, "S/lay", 73)))
    assert not plan.change((soaked,), ())


def test_what_is_laid_before_anybody_could_have_soaked_it_was_in_water() -> None:
    plan = Plan(prepare(site(waits(in_water_until_min=100))))
    assert not plan.change((), (at(plan, "S/lay", 100),))
    assert plan.change((), (at(plan, "S/lay", 99),))


def test_covers_are_taken_when_they_go_into_water() -> None:
    # T is off at 23 and washed at 53
    plan = Plan(prepare(site(waits(), lies("T", lift("T")), stock_m2=200)))
    assert plan.change((), (at(plan, "T/lift", 3),))
    laid = at(plan, "S/lay", 400)
    assert not plan.change((), (at(plan, "S/soak", 52), laid))
    assert plan.change((), (at(plan, "S/soak", 53), laid))
    # the soak is over by 63, so that they may be laid from 123 on
    assert plan.covers.spans[0] == (53, 1 << 40)


@pytest.mark.parametrize(
    ("laid", "wet"), [(52, False), (53, True), (223, True), (224, False)]
)
def test_what_has_come_off_is_laid_wet_once_washed_for_a_while(
    laid: int, wet: bool
) -> None:
    # off at 23: washed at 53, wet until 223
    plan = Plan(prepare(site(waits(), lies("T", lift("T")), stock_m2=200)))
    assert plan.change((), (at(plan, "T/lift", 3),))
    assert plan.change((), (at(plan, "S/lay", laid),)) == wet
    if wet:
        assert plan.covers.spans[0] == (laid, 1 << 40)
        assert not plan.change((at(plan, "T/lift", 3),), ())


def test_two_cannot_lay_the_same_covers_wet() -> None:
    works = (waits("S"), waits("U"), lies("T", lift("T"), area_m2=399))
    plan = Plan(prepare(site(*works)))
    assert plan.change((), (at(plan, "T/lift", 3),))
    assert plan.change((), (at(plan, "S/lay", 60),))
    assert not plan.change((), (at(plan, "U/lay", 100),))
    assert plan.change((), (at(plan, "U/soak", 26), at(plan, "U/lay", 100)))


def test_the_check_before_placing_comes_after_the_soaking_if_that_is_over_by_then() -> (
    None
):
    hold = duty(
        "S/hold", kind="hold_point", duration_min=15, latest_min=100, due_min=100
    )
    plan = Plan(prepare(site(waits("S", hold, checked_by="S/hold"))))
    early, late = at(plan, "S/soak", 40), at(plan, "S/soak", 76)
    # over at 50: the check from then on; over at 86 it is too late for 85, its last
    assert not plan.change((), (early, at(plan, "S/hold", 20)))
    assert plan.change((), (late, at(plan, "S/hold", 20)))
    assert plan.change((late, at(plan, "S/hold", 20)), (early, at(plan, "S/hold", 53)))


def test_a_laying_brings_its_soaking_as_late_as_may_be() -> None:
    plan = Plan(prepare(site(waits())))
    # laid at 200: over by 140, begun by 130
    assert next(soakings(plan, at(plan, "S/lay", 200))).start == 130
    assert change_with_soaking(plan, [], at(plan, "S/lay", 200))
    assert {stop.start for stop in plan.stops()} == {130, 200}


def test_duties_are_assigned_with_the_soaking_that_they_take() -> None:
    plan = Plan(prepare(site(waits())))
    assign_duties(plan, list(plan.problem.jobs))
    # as soon as may be: walked by 3, in water by 13, laid at 73
    assert {stop.start for stop in plan.stops()} == {3, 73}


def improved(work: WorkList, *stops: tuple[str, int]) -> Plan:
    """The best roster by one neighbourhood over everything."""
    plan = Plan(prepare(work))
    assert plan.change((), [at(plan, *stop) for stop in stops])
    everything = tuple(range(len(plan.problem.surfaces)))
    solved = solve_subproblem(
        subproblem_of(plan, Neighbourhood((0,), everything, 0, 600, 5)), 4.0, 1
    )
    assert solved.proven
    if solved.remove or solved.add:
        assert plan.improve(solved.remove, solved.add)
    return plan


def starts(plan: Plan) -> dict[str, int]:
    return {plan.problem.jobs[stop.job].task.id: stop.start for stop in plan.stops()}


def test_a_neighbourhood_lays_wet_instead_of_soaking_again() -> None:
    work = site(waits(), lies("T", lift("T")), stock_m2=200)
    plan = improved(work, ("T/lift", 3), ("S/soak", 300), ("S/lay", 400))
    assert starts(plan) == {"T/lift": 3, "S/lay": 53}


def test_a_neighbourhood_soaks_sooner_what_nothing_comes_off_for() -> None:
    plan = improved(site(waits()), ("S/soak", 300), ("S/lay", 400))
    assert starts(plan) == {"S/soak": 3, "S/lay": 73}


def cheapest(stock_m2: float, off_m2: float, lift_from: int) -> float:
    """Least cost of S, bare from 0, and T, under covers, in 180 minutes, by trying.

    A dry minute of S costs 3, to the middle of its laying, and from 120 minutes after
    its end on 1; not to lay 300, not to lift 100.
    """
    best = float("inf")
    for soaked, laid, lifted in product(
        [None, *range(3, 100)], [None, *range(3, 150)], [None, lift_from]
    ):
        jobs = [
            (start, takes, where)
            for start, takes, where in (
                (soaked, SOAK_MIN, "S"), (laid, 30, "S"), (lifted, 20, "T"),
            )
            if start is not None
        ]  # fmt: skip
        jobs.sort()
        walks = (
            b[0] - a[0] - a[1] >= (0 if a[2] == b[2] else 3) for a, b in pairwise(jobs)
        )
        if not all(walks) or not _laid_wet(soaked, laid, lifted, stock_m2, off_m2):
            continue
        cost = 3.0 * (180 if laid is None else laid + 15)
        cost += 0 if laid is None else max(0, 180 - (laid + 30 + 120))
        cost += 300 * (laid is None) + 100 * (lifted is None)
        best = min(best, cost)
    return best


def _laid_wet(
    soaked: int | None,
    laid: int | None,
    lifted: int | None,
    stock_m2: float,
    off_m2: float,
) -> bool:
    if laid is None:
        return True
    washed = float("inf") if lifted is None else lifted + 20 + WASHED_MIN
    if soaked is not None and soaked + SOAK_MIN + LEAD_MIN <= laid:
        return stock_m2 - off_m2 >= 200 or soaked >= washed
    free = stock_m2 - off_m2 >= 200 or laid >= washed
    return (
        free and off_m2 >= 200 and washed <= laid <= washed - WASHED_MIN + STAYS_WET_MIN
    )


@pytest.mark.parametrize("stock_m2", [200, 399, 400])
@pytest.mark.parametrize("off_m2", [199, 200])
@pytest.mark.parametrize("lift_from", [3, 40])
def test_soaked_or_moved_wet_the_roster_is_the_best_there_is(
    stock_m2: float, off_m2: float, lift_from: int
) -> None:
    lifts = lift("T", earliest=lift_from, latest=lift_from + 20)
    work = site(waits(), lies("T", lifts, off_m2), stock_m2=stock_m2, minutes=180)
    roster = solve(work, Effort(work=0.3))
    assert roster.cost == cheapest(stock_m2, off_m2, lift_from)


def test_nobody_soaks_what_is_not_laid() -> None:
    lay_late = lay("S").model_copy(update={"latest_min": 40})
    work = waits()
    work = work.model_copy(update={"tasks": (soak("S"), lay_late)})
    roster = solve(site(work), Effort(work=0.1))
    assert start_of(roster, "S/lay") is None
    assert start_of(roster, "S/soak") is None
