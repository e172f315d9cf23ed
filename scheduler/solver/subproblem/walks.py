"""Walks of one work unit: none where it stays on a surface, else in one order or other.

An item is padded by the shortest walk away from it; literals say that the unit stays
for the next job, and order literals leave longer walks between pairs that can meet.
Plain ints of time are minutes from the start of the horizon.
"""

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.problem.problem import Problem
from scheduler.solver.subproblem.crew_options import CrewOption
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.subproblem import Subproblem


def stay_literals(
    builder: ModelBuilder,
    subproblem: Subproblem,
    one: CrewOption,
    options: list[CrewOption],
    fixed: list[Stop],
    pad: int,
) -> list[cp_model.IntVar]:
    """Make literals for staying on the surface: the next job follows with no walk.

    Parameters
    ----------
    options : list of CrewOption
        All that the work unit may do, the one itself among them.
    fixed : list of Stop
        Stops of the work unit that stand still.
    pad : int
        Minutes that the item is padded by, for the walk that staying saves.
    """
    problem, job, together = subproblem.problem, one.job, []
    start, item = one.placed.start, one.placed.item
    end = start + job.duration
    if pad <= problem.walk(job, job):
        return []  # staying saves no walk
    # A walk within a slot is no reason to let rewets touch; it would cost a literal.
    again = (
        _next_rewet(one, options) if subproblem.neighbourhood.slot_min <= pad else None
    )
    for other in options:
        theirs, there = other.job, other.placed
        if other is one or theirs.surface != job.surface:
            continue
        if job.repeats and theirs.repeats and other is not again:
            continue
        soonest, latest = item.first + job.duration, item.last + job.duration
        if there.item.last < soonest or there.item.first > latest + pad:
            continue
        a, b = one.current, other.current
        hint = (
            a is not None
            and b is not None
            and 0 <= b.start - a.start - job.duration < pad
        )
        stays = builder.flag(hint)
        builder.model.add_implication(stays, one.literal)
        builder.model.add_implication(stays, other.literal)
        builder.model.add(there.start >= end).only_enforce_if(stays)
        builder.model.add(there.start < end + pad).only_enforce_if(stays)
        together.append(stays)
    for stop in fixed:
        if problem.jobs[stop.job].surface != job.surface:
            continue
        current = one.current
        hint = (
            current is not None and 0 <= stop.start - current.start - job.duration < pad
        )
        stays = builder.flag(hint)
        builder.model.add_implication(stays, one.literal)
        builder.model.add(end <= stop.start).only_enforce_if(stays)
        builder.model.add(end > stop.start - pad).only_enforce_if(stays)
        together.append(stays)
    return together


def _next_rewet(one: CrewOption, options: list[CrewOption]) -> CrewOption | None:
    """Find the copy of a rewet that comes next; copies stand in their order."""
    if not one.job.repeats:
        return None
    copies = [other for other in options if other.job is one.job]
    return next(iter(copies[copies.index(one) + 1 :]), None)


def keep_walk(
    builder: ModelBuilder,
    problem: Problem,
    one: CrewOption,
    other: CrewOption,
    pads: dict[int, int],
) -> None:
    """Leave the walk between two items, where the padding does not yet.

    Parameters
    ----------
    pads : dict
        Minutes that each option is padded by, by its ``id``.
    """
    model = builder.model
    a, b = one.job, other.job
    there, back = problem.walk(a, b), problem.walk(b, a)
    if there <= pads[id(one)] and back <= pads[id(other)]:
        return
    (a_low, a_high), (b_low, b_high) = (one.low, one.high), (other.low, other.high)
    if a_high + a.duration + there <= b_low or b_high + b.duration + back <= a_low:
        return
    both = (one.literal, other.literal)
    ahead = one.placed.start + (a.duration + there) <= other.placed.start
    behind = other.placed.start + (b.duration + back) <= one.placed.start
    if a_low + a.duration + there > b_high:
        model.add(behind).only_enforce_if(*both)
    elif b_low + b.duration + back > a_high:
        model.add(ahead).only_enforce_if(*both)
    else:
        here, elsewhere = one.placed.item, other.placed.item
        x, y = here.current, elsewhere.current
        first = builder.flag(
            (x.start if x else here.first) < (y.start if y else elsewhere.first)
        )
        model.add(ahead).only_enforce_if(*both, first)
        model.add(behind).only_enforce_if(*both, ~first)


def keep_walk_to_fixed(
    builder: ModelBuilder, problem: Problem, one: CrewOption, stop: Stop
) -> None:
    """Leave the walks between an item and a stop that stands still."""
    job, other, model = one.job, problem.jobs[stop.job], builder.model
    latest = stop.start - problem.walk(job, other) - job.duration
    soonest = stop.start + other.duration + problem.walk(other, job)
    if one.high <= latest or one.low >= soonest:
        return
    current, start = one.placed.item.current, one.placed.start
    before = builder.flag(current is not None and current.start < stop.start)
    model.add(start <= latest).only_enforce_if(one.literal, before)
    model.add(start >= soonest).only_enforce_if(one.literal, ~before)
