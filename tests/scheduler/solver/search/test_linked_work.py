"""Work that must move together: found without luck, on the smallest of sites."""

from random import Random

from models.records import CrewShift, Link, Stretch, SurfaceWork, Task
from scheduler.solver.improve.local_search import local_search
from scheduler.solver.plan.cost_drivers import cost_drivers
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.search.effort import Effort
from scheduler.solver.search.picker import Picker
from scheduler.solver.search.sweep import linked_work
from scheduler.solver.solve import solve
from scheduler.solver.start.dispatch import best_start
from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.subproblem.subproblem import subproblem_of
from tests.scheduler.solver.solver_builders import duty, shift, surface, work_list


def gang(name: str) -> CrewShift:
    return shift(name, skills=("fogger", "labourer", "sprayer"), ends_min=1200)


def coated() -> SurfaceWork:
    """Fog for the first hour, bleed water until minute 160, then two coats.

    The mix is due in the hour of the fog, which has the surface to itself.
    """

    def task(name: str, **fields: object) -> Task:
        return duty(f"S/{name}", missed_cost=600, **fields)

    return surface(
        covered_from_min=None, curve=None, rewet=None,
        fresh=(
            Stretch(from_min=10, until_min=70), Stretch(from_min=170, until_min=1000),
        ),
        tasks=(
            duty("S/fog", earliest_min=10, due_min=70, latest_min=70, duration_min=60,
                 kind="fog", skills=("fogger",), effect="protect"),
            task("mix", earliest_min=9, due_min=70, duration_min=15,
                 kind="mix_compound", skills=("sprayer",)),
            task("coat1", earliest_min=70, due_min=110, duration_min=40,
                 kind="spray_compound", skills=("sprayer",), effect="protect",
                 late_cost_per_min=1,
                 after=(Link(task_id="S/mix", max_gap_min=120),)),
            task("coat2", earliest_min=140, due_min=270, duration_min=40,
                 kind="spray_compound", skills=("sprayer",), effect="seal",
                 covers=True, late_cost_per_min=1,
                 after=(Link(task_id="S/coat1", min_gap_min=30, max_gap_min=120),)),
        ),
    )  # fmt: skip


def rough_start() -> Plan:
    """What a dispatch rule makes of it, moved by minutes: the fog is left out."""
    site = work_list(coated(), minutes=1200, shifts=(gang("red"), gang("blue")))
    plan = best_start(prepare(site))
    local_search(plan)
    return plan


def names(plan: Plan) -> list[str]:
    return [plan.problem.jobs[stop.job].task.id for stop in plan.stops()]


def test_one_neighbourhood_over_the_linked_work_moves_it_all_together() -> None:
    plan = rough_start()
    # An hour dry and bare at 3 a minute, and no single visit that could move.
    assert plan.cost == 180
    assert names(plan) == ["S/mix", "S/coat1", "S/coat2"]
    (driver,) = cost_drivers(plan)
    neighbourhood = linked_work(Picker(plan, Random(1)), driver, guests=0)
    solved = solve_subproblem(subproblem_of(plan, neighbourhood), 2.0, seed=1)
    assert plan.improve(solved.remove, solved.add)
    # The mix follows the fog at minute 70, the first coat ends at 125: 15 minutes late.
    # The second follows half an hour later and has half of it safe by 175, 5 minutes
    # after the bleed water is gone, at 3 a minute.
    assert plan.cost == 15 + 5 * 3
    assert names(plan) == ["S/fog", "S/mix", "S/coat1", "S/coat2"]


def test_the_whole_solver_finds_it_too() -> None:
    assert solve(rough_start().problem.work, Effort(work=0.2)).cost == 15 + 5 * 3
