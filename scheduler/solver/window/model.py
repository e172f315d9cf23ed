"""The exact model of one window, built from its scene and solved."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.window.builder import Draft
from scheduler.solver.window.changes import price_changes
from scheduler.solver.window.covers import keep_covers
from scheduler.solver.window.crews import keep_crews, place_item
from scheduler.solver.window.dryness import price_dryness
from scheduler.solver.window.hours import keep_hours
from scheduler.solver.window.links import keep_links
from scheduler.solver.window.water import keep_water, wished_point
from scheduler.solver.window.window import Scene

#: Work of building and loading a model, against CP-SAT's own count of its work.
_WORK_PER_CONSTRAINT = 1.2e-5


@dataclass(frozen=True)
class Solved:
    """What a window came to.

    Attributes
    ----------
    remove, add : list of Stop
        The change it proposes; both empty if it found nothing better.
    work : float
        Deterministic work spent, the same on every machine.
    proven : bool
        The window's model holds nothing better.
    """

    remove: list[Stop]
    add: list[Stop]
    work: float
    proven: bool


def solve_window(setting: Scene, most_work: float, seed: int) -> Solved:
    """Plan a window anew."""
    draft = Draft()
    placed = [place_item(draft, item, setting.window.slot) for item in setting.items]
    if not placed:
        return Solved([], [], 0.0, True)
    keep_crews(draft, setting, placed)
    keep_hours(draft, setting, placed)
    keep_links(draft, setting, placed)
    price_dryness(draft, setting, placed)
    price_changes(draft, setting, placed)
    points = keep_water(draft, setting, placed)
    keep_covers(draft, setting, placed)
    draft.minimize()
    solver = cp_model.CpSolver()
    settings = solver.parameters
    settings.num_workers = 1
    settings.random_seed = seed
    settings.max_deterministic_time = most_work
    # Made as small as they are, the models gain less by presolve than it takes.
    settings.cp_model_presolve = False
    settings.symmetry_level = 0
    settings.linearization_level = 0
    settings.hint_conflict_limit = 50
    status = solver.solve(draft.model)
    size = len(draft.model.proto.constraints)
    work = solver.response_proto.deterministic_time + size * _WORK_PER_CONSTRAINT
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solved([], [], work, False)
    add = []
    for number, one in enumerate(placed):
        if solver.boolean_value(one.present):
            lane = next(k for k, lit in one.lanes.items() if solver.boolean_value(lit))
            point = wished_point(points.get(number, {}), solver.boolean_value)
            start = solver.value(one.start)
            add.append(Stop(start, one.item.job.index, lane, point))
    return Solved(setting.freed, sorted(add), work, status == cp_model.OPTIMAL)
