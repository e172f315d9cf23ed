"""The exact model of one neighbourhood, built from its subproblem and solved."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.subproblem.changes import price_changes
from scheduler.solver.subproblem.covers import constrain_covers
from scheduler.solver.subproblem.crews import constrain_crews
from scheduler.solver.subproblem.dryness import price_dryness
from scheduler.solver.subproblem.hours import constrain_hours
from scheduler.solver.subproblem.links import constrain_links
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import place_item
from scheduler.solver.subproblem.subproblem import Subproblem
from scheduler.solver.subproblem.water import constrain_water, wished_point


@dataclass(frozen=True)
class Solution:
    """What a neighbourhood came to.

    Attributes
    ----------
    remove, add : list of Stop
        The change it proposes; both empty if it found nothing better.
    work : float
        Deterministic work spent, the same on every machine.
    proven : bool
        The neighbourhood's model holds nothing better.
    """

    remove: list[Stop]
    add: list[Stop]
    work: float
    proven: bool


def solve_subproblem(subproblem: Subproblem, most_work: float, seed: int) -> Solution:
    """Solve a subproblem with CP-SAT.

    Parameters
    ----------
    most_work : float
        CP-SAT's deterministic time that it may take.
    """
    builder = ModelBuilder()
    placed = [
        place_item(builder, item, subproblem.neighbourhood.slot_min)
        for item in subproblem.items
    ]
    if not placed:
        return Solution([], [], 0.0, True)
    constrain_crews(builder, subproblem, placed)
    constrain_hours(builder, subproblem, placed)
    constrain_links(builder, subproblem, placed)
    price_dryness(builder, subproblem, placed)
    price_changes(builder, subproblem, placed)
    points = constrain_water(builder, subproblem, placed)
    constrain_covers(builder, subproblem, placed)
    builder.minimize()
    solver = cp_model.CpSolver()
    settings, parameters = subproblem.problem.settings.model, solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = seed
    parameters.max_deterministic_time = most_work
    # Made as small as they are, the models gain less by presolve than it takes.
    parameters.cp_model_presolve = False
    parameters.symmetry_level = 0
    parameters.linearization_level = 0
    parameters.hint_conflict_limit = settings.hint_conflicts
    status = solver.solve(builder.model)
    size = len(builder.model.proto.constraints)
    work = solver.response_proto.deterministic_time
    work += size * settings.work_per_constraint
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solution([], [], work, False)
    add = []
    for number, one in enumerate(placed):
        if solver.boolean_value(one.present):
            lane = next(k for k, lit in one.lanes.items() if solver.boolean_value(lit))
            point = wished_point(points.get(number, {}), solver.boolean_value)
            start = solver.value(one.start)
            add.append(Stop(start, one.item.job.index, lane, point))
    return Solution(subproblem.freed, sorted(add), work, status == cp_model.OPTIMAL)
