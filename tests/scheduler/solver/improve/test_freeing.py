"""Covers that lie on cured concrete are fetched for what waits bare for them."""

import pytest

from models.records import Link, WeightStep
from scheduler.solver.improve.freeing import fetch_covers
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from tests.scheduler.solver.plan.test_covers import bare, lift, lying, site
from tests.scheduler.solver.solver_builders import duty, surface

FREE = (WeightStep(from_min=0, per_min=0),)


def waiting(*, lift_from: int = 0, lifted: int | None = 300) -> Plan:
    """B waits bare for the one cover there is; it lies on A, and is lifted at a minute.

    Lifting takes 20 min, the walk 3, laying 30: then it lies wet at no cost.
    """
    work = site(lying("A", lift("A", lift_from)), bare("B", weights=FREE), stock_m2=200)
    plan = Plan(prepare(work))
    off, on = (surface.jobs[0] for surface in plan.problem.surfaces)
    if lifted is not None:
        lay = Stop(lifted + 23, on, 0, -1)
        assert plan.change((), (Stop(lifted, off, 0, -1), lay))
    return plan


def starts(plan: Plan) -> dict[str, int]:
    return {plan.problem.jobs[s.job].task.id: s.start for s in plan.stops()}


def test_a_cover_is_lifted_for_what_waits_for_it() -> None:
    plan = waiting()
    before = plan.cost
    fetch_covers(plan)
    # Three minutes' walk, 20 of lifting, three of walking.
    assert starts(plan) == {"A/lift": 3, "B/lay": 26}
    # Bare at 3 a minute until the middle of laying: 323 + 15 before, 26 + 15 now.
    assert before - plan.cost == pytest.approx(3 * (338 - 41))


def test_what_was_left_out_for_want_of_covers_is_laid() -> None:
    plan = waiting(lifted=None)
    before = plan.cost
    fetch_covers(plan)
    assert starts(plan) == {"A/lift": 3, "B/lay": 26}
    # Left out: lifting 100, laying 300, bare all 600 minutes.
    assert before - plan.cost == pytest.approx(400 + 3 * (600 - 41))


def test_a_cover_that_must_stay_stays() -> None:
    plan = waiting(lift_from=300)
    stops, cost = plan.stops(), plan.cost
    fetch_covers(plan)
    assert plan.stops() == stops
    assert plan.cost == pytest.approx(cost)


def test_what_is_loosened_first_is_lifted_after_it() -> None:
    """An hour between: loosened 3 to 33, lifted from 93 to 113, laid from 116."""
    loosen = duty("A/loosen", kind="loosen", missed_cost=100)
    after = (Link(task_id="A/loosen", min_gap_min=60),)
    lifting = lift("A").model_copy(update={"after": after})
    held = lying("A", lifting)
    held = held.model_copy(update={"tasks": (loosen, lifting)})
    plan = Plan(prepare(site(held, bare("B", weights=FREE), stock_m2=200)))
    names = {job.task.id: job.index for job in plan.problem.jobs}
    late = [("A/loosen", 200), ("A/lift", 300), ("B/lay", 323)]
    assert plan.change((), [Stop(at, names[name], 0, -1) for name, at in late])
    fetch_covers(plan)
    assert starts(plan) == {"A/loosen": 3, "A/lift": 93, "B/lay": 116}


def test_a_lift_that_gains_nothing_is_left_where_it_was() -> None:
    """B is bare at no price: only that it is late costs, less than a third of all."""
    work = site(
        lying("A", lift("A")),
        bare("B", weights=FREE, fresh_weights=FREE),
        stock_m2=200,
    )
    plan = Plan(prepare(work))
    off, on = (surface.jobs[0] for surface in plan.problem.surfaces)
    assert plan.change((), (Stop(300, off, 0, -1), Stop(323, on, 0, -1)))
    stops, cost = plan.stops(), plan.cost
    fetch_covers(plan)
    assert (plan.stops(), plan.cost) == (stops, cost)


def test_a_lift_goes_before_other_work_and_the_laying_after_it() -> None:
    """The look of T takes from 100 to 340, and B cannot take a cover before 100."""
    looks = surface(
        "T",
        curve=None,
        rewet=None,
        tasks=(
            duty("T/look", earliest_min=100, due_min=340, latest_min=340,
                 duration_min=240, missed_cost=10_000),
        ),
    )  # fmt: skip
    work = site(
        lying("A", lift("A")), bare("B", earliest=100, weights=FREE), looks,
        stock_m2=200,
    )  # fmt: skip
    plan = Plan(prepare(work))
    off, on, look = (surface.jobs[0] for surface in plan.problem.surfaces)
    assert plan.change(
        (), (Stop(100, look, 0, -1), Stop(343, off, 0, -1), Stop(366, on, 0, -1))
    )
    cost = plan.cost
    fetch_covers(plan)
    # Lifted before the look; laid after it, 340 + 3 and not 366: 23 minutes at 3.
    assert starts(plan) == {"A/lift": 3, "T/look": 100, "B/lay": 343}
    assert cost - plan.cost == pytest.approx(3 * 23)
