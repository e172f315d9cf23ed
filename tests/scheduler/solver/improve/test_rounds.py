"""Visits of a place are drawn together where that costs nothing."""

from itertools import pairwise

import pytest

from models.records import WorkList
from scheduler.solver.improve.local_search import local_search
from scheduler.solver.improve.rounds import group_into_rounds
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.start.dispatch import best_start
from tests.bench.instances import Size, instance
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def rounds_of(plan: Plan, stops: list[Stop]) -> int:
    """Count the rounds in a shift: runs of visits to a zone without a long pause."""
    jobs = plan.problem.jobs
    breaks = sum(
        jobs[here.job].zone != jobs[there.job].zone
        or there.start - plan.end(here) > DEFAULT.local_search.round_pause_min
        for here, there in pairwise(stops)
    )
    return breaks + bool(stops)


def two_zones() -> WorkList:
    """Two looks in zone A and one in B; three minutes within, nine between."""
    looks = [
        surface(name, zone_id=zone, curve=None, rewet=None, tasks=(
            duty(f"{name}/look", missed_cost=100, due_min=10_000),))
        for name, zone in (("S", "A"), ("T", "A"), ("U", "B"))
    ]  # fmt: skip
    return work_list(
        *looks, zone_ids=("A", "B"), travel_min=((3, 9), (9, 3)),
        water_points={"A": ("tap",), "B": ("tap",)},
    )  # fmt: skip


def test_scattered_looks_become_one_round_at_the_earlier_time() -> None:
    plan = Plan(prepare(two_zones()))
    # S at 100 and T at 400, in between a look at U in the other zone.
    for start, job in ((100, 0), (250, 2), (400, 1)):
        assert plan.change((), (Stop(start, job, 0, -1),))
    assert rounds_of(plan, plan.by_lane[0]) == 3
    cost = plan.cost
    group_into_rounds(plan)
    assert rounds_of(plan, plan.by_lane[0]) == 2
    # T takes 30 minutes and the walk on to S three.
    assert [(s.start, s.job) for s in plan.by_lane[0]] == [(67, 1), (100, 0), (250, 2)]
    assert plan.cost == cost


def test_a_long_pause_parts_two_rounds() -> None:
    plan = Plan(prepare(two_zones()))
    assert plan.change((), (Stop(100, 0, 0, -1), Stop(141, 1, 0, -1)))
    assert rounds_of(plan, plan.by_lane[0]) == 2
    group_into_rounds(plan)
    assert [s.start for s in plan.by_lane[0]] == [67, 100]


def test_of_many_shifts_the_nearest_are_looked_into() -> None:
    work = two_zones()
    # Thirty gangs at home in B, one in A, all there at the same hours.
    far = [shift(f"b{n:02}", home_zone="B") for n in range(30)]
    plan = Plan(prepare(work.model_copy(update={"shifts": (*far, shift("red"))})))
    assert plan.change((), (Stop(100, 0, 30, -1), Stop(400, 1, 0, -1)))
    group_into_rounds(plan)
    assert [(s.start, s.job) for s in plan.by_lane[30]] == [(67, 1), (100, 0)]


def test_what_would_cost_stays_apart() -> None:
    work = two_zones()
    late = (
        work.surfaces[1]
        .tasks[0]
        .model_copy(
            update={"earliest_min": 380, "due_min": 430, "late_cost_per_min": 1.0}
        )
    )
    bound = work.surfaces[1].model_copy(update={"tasks": (late,)})
    work = work.model_copy(
        update={"surfaces": (work.surfaces[0], bound, work.surfaces[2])}
    )
    first = work.surfaces[0].tasks[0].model_copy(update={"latest_min": 200})
    held = work.surfaces[0].model_copy(update={"tasks": (first,)})
    work = work.model_copy(update={"surfaces": (held, *work.surfaces[1:])})
    plan = Plan(prepare(work))
    assert plan.change((), (Stop(100, 0, 0, -1), Stop(390, 1, 0, -1)))
    before = plan.stops()
    group_into_rounds(plan)
    assert plan.stops() == before


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_never_dearer_never_more_rounds_and_always_the_same(seed: int) -> None:
    problem = prepare(instance(Size(8, days=2, tightness=0.8), seed))
    made = []
    for _ in range(2):
        plan = best_start(problem)
        local_search(plan)
        cost, rounds = plan.cost, sum(rounds_of(plan, s) for s in plan.by_lane)
        group_into_rounds(plan)
        plan.recount()
        assert plan.cost <= cost + 1e-6
        assert sum(rounds_of(plan, s) for s in plan.by_lane) <= rounds
        made.append(plan.stops())
    assert made[0] == made[1]
