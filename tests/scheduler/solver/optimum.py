"""The best roster of a tiny site: one neighbourhood over everything, solved to its end.

It is planned from nothing. Neighbourhood after neighbourhood, each with one more rewet
of a surface, may end in a roster that only two more at once make cheaper.
"""

from dataclasses import replace

from models.records import WorkList
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import subproblem_of

PLENTY = 20.0


def everything(plan: Plan) -> Neighbourhood:
    """Take in all lanes, to the end of the last, and all surfaces."""
    lanes, surfaces = plan.problem.lanes, plan.problem.surfaces
    end = max(lane.closes for lane in lanes)
    return Neighbourhood(
        tuple(range(len(lanes))), tuple(range(len(surfaces))), 0, end, slot_min=1
    )


def best_plan(work: WorkList, rewets: int) -> Plan:
    """Plan the best roster with at most so many rewets of each surface."""
    plan = Plan(prepare(work))
    subproblem = subproblem_of(plan, everything(plan))
    subproblem.items[:] = [
        replace(item)
        for item in subproblem.items
        for _ in range(rewets if item.job.repeats else 1)
    ]
    solved = solve_subproblem(subproblem, PLENTY, seed=1)
    assert solved.proven
    assert plan.change(solved.remove, solved.add)
    return plan
