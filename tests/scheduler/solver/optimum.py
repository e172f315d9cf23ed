"""The best roster of a tiny site: one window over everything, solved to its end.

It is planned from nothing. Window after window, each with one more rewet of a surface,
may end in a roster that only two more at once make cheaper.
"""

from dataclasses import replace

from models.records import WorkList
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import prepare
from scheduler.solver.window.model import solve_window
from scheduler.solver.window.window import Window, scene

PLENTY = 20.0


def everything(plan: Plan) -> Window:
    """Take in all lanes, to the end of the last, and all surfaces."""
    lanes, surfaces = plan.problem.lanes, plan.problem.surfaces
    end = max(lane.closes for lane in lanes)
    return Window(tuple(range(len(lanes))), tuple(range(len(surfaces))), 0, end, slot=1)


def best_plan(work: WorkList, rewets: int) -> Plan:
    """Plan the best roster with at most so many rewets of each surface."""
    plan = Plan(prepare(work))
    setting = scene(plan, everything(plan))
    setting.items[:] = [
        replace(item)
        for item in setting.items
        for _ in range(rewets if item.job.repeats else 1)
    ]
    solved = solve_window(setting, PLENTY, seed=1)
    assert solved.proven
    assert plan.change(solved.remove, solved.add)
    return plan
