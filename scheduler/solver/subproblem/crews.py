"""One job at a time, walks, breaks and rest: the part of the model about people.

No overlap per work unit over stops padded by the shortest walk. Plain ints of time are
minutes from the start of the horizon.
"""

from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import merged_stops
from scheduler.solver.subproblem.crew_options import CrewOption, options_in
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem
from scheduler.solver.subproblem.walks import (
    keep_walk,
    keep_walk_to_fixed,
    stay_literals,
)


def constrain_crews(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """One job at a time, walks, breaks and rest."""
    lanes = [
        subproblem.problem.lanes[index] for index in subproblem.neighbourhood.lanes
    ]
    for own in dict.fromkeys(own for lane in lanes for own in lane.lanes_by_unit):
        options = options_in(builder, own, placed)
        if options:
            _keep_unit(builder, subproblem, own, options)
    _keep_rest(builder, subproblem, placed)


def _keep_unit(
    builder: ModelBuilder,
    subproblem: Subproblem,
    lanes: tuple[int, ...],
    options: list[CrewOption],
) -> None:
    """Keep a work unit to one job at a time in the lanes that it works in."""
    problem, model = subproblem.problem, builder.model
    neighbourhood = subproblem.neighbourhood
    fixed = [
        stop
        for stop in merged_stops(subproblem.fixed_on_lane, lanes)
        if stop.start >= neighbourhood.start
        and stop.start + problem.jobs[stop.job].duration <= neighbourhood.end
    ]
    intervals: list[cp_model.IntervalVar] = []
    pads: dict[int, int] = {}
    for one in options:
        job, start = one.job, one.placed.start
        pad = min(problem.travel[job.zone])
        together = stay_literals(builder, subproblem, one, options, fixed, pad)
        pads[id(one)] = pad
        size = job.duration + pad
        if together:
            walks = builder.flag(not any(builder.hinted(stays) for stays in together))
            model.add(walks + sum(together) == 1)
            item = one.placed.item
            end = builder.number(
                item.first + job.duration,
                item.last + size,
                (item.current.start if item.current else item.first)
                + job.duration
                + pad * builder.hinted(walks),
            )
            length = job.duration + pad * walks
            intervals.append(
                model.new_optional_interval_var(start, length, end, one.literal, "")
            )
        else:
            intervals.append(
                model.new_optional_fixed_size_interval_var(start, size, one.literal, "")
            )
    for stop in fixed:
        job = problem.jobs[stop.job]
        # The walk away from a fixed stop is asked for pair by pair.
        intervals.append(
            model.new_fixed_size_interval_var(stop.start, job.duration, "")
        )
    for a, b in problem.lanes[lanes[0]].breaks:
        # A walk may fall into a break: only the work itself keeps out of it.
        for one in options:
            _keep_out(builder, one, a, b)
    model.add_no_overlap(intervals)
    for one, other in combinations(options, 2):
        keep_walk(builder, problem, one, other, pads)
    for one in options:
        for stop in fixed:
            keep_walk_to_fixed(builder, problem, one, stop)


def _keep_out(builder: ModelBuilder, one: CrewOption, a: int, b: int) -> None:
    """Keep the work itself out of a break, before it or after it."""
    job, start, model = one.job, one.placed.start, builder.model
    if one.low >= b or one.high + job.duration <= a:
        return
    current = one.placed.item.current
    before = builder.flag(current is not None and current.start < a)
    model.add(start + job.duration <= a).only_enforce_if(one.literal, before)
    model.add(start >= b).only_enforce_if(one.literal, ~before)


def _keep_rest(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """Leave a work unit its rest between the shifts of the neighbourhood."""
    problem, model = subproblem.problem, builder.model
    lanes = sorted(subproblem.neighbourhood.lanes)
    for index, early in enumerate(lanes):
        for late in lanes[index + 1 :]:
            a, b = problem.lanes[early], problem.lanes[late]
            shared = set(a.work_units) & set(b.work_units)
            if a.gang_shift == b.gang_shift or not shared:
                continue
            if a.closes + problem.rest_min <= b.starts:
                continue
            for one in (p for p in placed if early in p.lanes):
                rested = one.start + (one.item.job.duration + problem.rest_min)
                for other in (p for p in placed if late in p.lanes):
                    if other is one:
                        continue
                    both = (one.lanes[early], other.lanes[late])
                    model.add(other.start >= rested).only_enforce_if(*both)
