"""A neighbourhood planned to the minute against the exact rules and prices.

Solved to its end, its roster costs what the model says, and nothing is better.
"""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from models.records import (
    BusyStretch,
    Link,
    Stretch,
    SurfaceWork,
    Task,
    WeightStep,
    WorkList,
)
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.start.dispatch import best_start
from scheduler.solver.subproblem import model as model_module
from scheduler.solver.subproblem.model import Solution, solve_subproblem
from scheduler.solver.subproblem.model_builder import SCALE, ModelBuilder
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import subproblem_of
from tests.builders import work_for_nothing
from tests.scheduler.solver.every_roster import cheapest
from tests.scheduler.solver.optimum import PLENTY, best_plan, everything
from tests.scheduler.solver.small_weeks import MINUTES, near_published, weeks
from tests.scheduler.solver.solver_builders import (
    WET_FOR_MIN,
    duty,
    shift,
    surface,
    work_list,
)

slow_draws = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])


def solved_with_gain(
    plan: Plan, neighbourhood: Neighbourhood
) -> tuple[Solution, float]:
    """Solve a neighbourhood; say too how much lower its model prices the new roster."""
    models: list[cp_model.CpModel] = []

    class Recorded(ModelBuilder):
        def minimize(self) -> None:
            super().minimize()
            models.append(self.model)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(model_module, "ModelBuilder", Recorded)
        solved = solve_subproblem(subproblem_of(plan, neighbourhood), PLENTY, seed=1)
    assert solved.proven
    if not models:
        return solved, 0.0
    current, best = (
        _objective(models[0], current=current) for current in (True, False)
    )
    return solved, (current - best) / SCALE


def _objective(model: cp_model.CpModel, *, current: bool) -> float:
    """Least objective, or that of the hint, which is today's roster."""
    solver = cp_model.CpSolver()
    solver.parameters.fix_variables_to_their_hinted_value = current
    solver.parameters.num_workers = 1
    solver.parameters.cp_model_presolve = False  # as neighbourhoods are solved
    assert solver.solve(model) == cp_model.OPTIMAL
    return float(solver.objective_value)


@st.composite
def neighbourhoods(draw: st.DrawFn) -> tuple[Plan, Neighbourhood]:
    """All or a part of a small site, from nothing or from a dispatched roster.

    No tank fills: neighbourhoods count by the hour what has come.
    """
    work = draw(near_published(draw(weeks(most_surfaces=3, most_crews=2))))
    still = [s.model_copy(update={"refill_l_min": 0.0}) for s in work.supplies]
    # Slots named one by one and all of them chained mean the same.
    least = draw(st.sampled_from((1, 1000)))
    chained = replace(DEFAULT.model, least_chained_slots=least)
    problem = prepare(
        work.model_copy(update={"supplies": tuple(still)}),
        replace(DEFAULT, model=chained),
    )
    plan = best_start(problem) if draw(st.booleans()) else Plan(problem)
    most = len(problem.surfaces)
    surfaces = tuple(range(draw(st.integers(1, most))))
    start = draw(st.sampled_from((0, 0, 40, 80)))
    end = draw(st.sampled_from((120, MINUTES)))
    return plan, Neighbourhood(
        tuple(range(len(problem.lanes))), surfaces, start, end, slot_min=1
    )


@settings(slow_draws, max_examples=15)
@given(neighbourhoods())
def test_a_neighbourhood_gains_what_its_model_says(
    given_: tuple[Plan, Neighbourhood],
) -> None:
    plan, neighbourhood = given_
    solved, gain = solved_with_gain(plan, neighbourhood)
    before = plan.cost
    assert plan.change(solved.remove, solved.add)
    assert before - plan.cost == pytest.approx(gain)


fives = st.integers(0, 12).map(lambda n: 5 * n)


def strips(name: str, first: int, *, fog: bool) -> tuple[Task, ...]:
    """Two strips of a cover, the second from the start of the first on; fog beside.

    Who fogs keeps two thirds of it.
    """
    one = duty(
        f"{name}/lay-1", kind="lay_cover", effect="wet", duration_min=10, job="lay",
        share_fraction=0.5, strip=True, earliest_min=first,
    )  # fmt: skip
    after = (Link(task_id=one.id, from_start=True),)
    other = one.model_copy(
        update={"id": f"{name}/lay-2", "covers": True, "after": after}
    )
    mist = duty(
        f"{name}/fog", kind="fog", effect="protect", duration_min=20, job="lay",
        share_fraction=2 / 3, earliest_min=first, latest_min=first + 20,
    )  # fmt: skip
    return (one, other, *((mist,) if fog else ()))


@st.composite
def tiny_surfaces(draw: st.DrawFn, name: str) -> SurfaceWork:
    """Under its cover, with a duty at times, or to be covered first."""
    fields: dict[str, object] = {
        "zone_id": draw(st.sampled_from("AB")),
        "weights": (WeightStep(from_min=0, per_min=draw(st.integers(1, 4))),),
    }
    if draw(st.booleans()):
        first = draw(fives)
        if draw(st.booleans()):
            bare = (Stretch(from_min=first, until_min=MINUTES),)
            tasks = strips(name, first, fog=draw(st.booleans()))
            return surface(
                name, covered_from_min=None, tasks=tasks, fresh=bare, **fields
            )
        lay = duty(
            f"{name}/lay", kind="lay_cover", effect="wet", covers=True, duration_min=20,
            earliest_min=first,
        )  # fmt: skip
        bare = (Stretch(from_min=first, until_min=MINUTES),)
        return surface(name, covered_from_min=None, tasks=(lay,), fresh=bare, **fields)
    if draw(st.booleans()):
        due = 10 + draw(fives)
        fields["tasks"] = (
            duty(
                f"{name}/look", duration_min=10, due_min=due,
                latest_min=due + draw(fives), missed_cost=draw(st.integers(0, 80)),
                late_cost_per_min=1, met_by_wetting=draw(st.booleans()),
            ),
        )  # fmt: skip
    return surface(name, reserve_at_start_l_m2=draw(fives) / WET_FOR_MIN, **fields)


@st.composite
def tiny_sites(draw: st.DrawFn) -> WorkList:
    """Two surfaces and one gang for an hour, with overtime and a break at times."""
    opens = draw(fives)
    pause = (Stretch(from_min=opens, until_min=opens + 10),)
    other = (BusyStretch(from_min=20, until_min=30, doing="placing P9"),)
    gang = shift(
        ends_min=draw(st.sampled_from((45, 50, 65))),
        overtime_max_min=draw(st.sampled_from((0, 10))),
        breaks=draw(st.sampled_from(((), pause))),
        busy=draw(st.sampled_from(((), other))),
    )
    return work_list(
        *(draw(tiny_surfaces(name)) for name in "ST"),
        minutes=MINUTES, shifts=(gang,), zone_ids=("A", "B"),
        travel_min=((5, 10), (10, 5)), water_points={"A": ("tap",), "B": ("tap",)},
        costs=work_for_nothing(
            travel_cost_per_min=0, overtime_cost_per_min=draw(st.integers(0, 3)),
            litre_cost=draw(st.sampled_from((0, 0.1))),
        ),
    )  # fmt: skip


def optimum(work: WorkList) -> float:
    """Least cost; the gang of a tiny site has no time for a fourth rewet."""
    return best_plan(work, rewets=3).cost


@settings(slow_draws, max_examples=15)
@given(tiny_sites())
def test_no_roster_of_a_tiny_site_is_better(work: WorkList) -> None:
    assert optimum(work) == pytest.approx(cheapest(work))


def test_two_rewets_at_once_may_be_worth_more_than_a_cover() -> None:
    lay = duty(
        "S/lay", kind="lay_cover", effect="wet", covers=True, duration_min=20,
        earliest_min=30,
    )  # fmt: skip
    bare = (Stretch(from_min=30, until_min=MINUTES),)
    dear = (WeightStep(from_min=0, per_min=3.2),)
    work = work_list(
        surface("S", covered_from_min=None, tasks=(lay,), fresh=bare),
        surface("T", zone_id="B", weights=dear),
        minutes=MINUTES, shifts=(shift(ends_min=50),), zone_ids=("A", "B"),
        travel_min=((5, 10), (10, 5)), water_points={"A": ("tap",), "B": ("tap",)},
    )  # fmt: skip
    # T wetted at 10 and at 30 is dry to 20 and from 170, and S bare from 30 on.
    best = 3.2 * (20 + 30) + 3 * 170
    assert optimum(work) == pytest.approx(best)
    assert cheapest(work) == pytest.approx(best)
    # Laid at 30, S is bare to 40 and dry from 170, and no time is left for T: 700. One
    # rewet of T is worth less: dry to 20 and from 150 it leaves 734.
    assert best_plan(work, rewets=1).cost == pytest.approx(3 * 10 + 30 + 3.2 * 200)


def test_rewets_that_touch_need_no_walk_between_them() -> None:
    # 45 minutes are the walk of 5 and two rewets of 20: dry to 15, wet to 45 + 120.
    work = work_list(
        surface(), minutes=240, travel_min=((5,),), shifts=(shift(ends_min=45),)
    )
    assert optimum(work) == cheapest(work) == 15 + 240 - 165


def test_no_rewet_is_proposed_under_a_cover_that_nobody_can_lay() -> None:
    lay = duty("S/lay", covers=True, people=3)
    bare = surface(
        tasks=(lay,), covered_from_min=None, fresh=(Stretch(from_min=0, until_min=90),)
    )
    plan = Plan(prepare(work_list(bare, minutes=90)))
    assert subproblem_of(plan, everything(plan)).items == []
