"""Overtime and call-outs in the model: what they cost, and the limits they count in."""

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop, beyond_shift_min, merged_stops
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.subproblem.crew_options import CrewOption, options_in
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem


def constrain_hours(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """Price overtime and call-outs, and keep each work unit to its hours.

    A gang's overtime is priced once, until the last of its parties is done.
    """
    problem = subproblem.problem
    lanes = [problem.lanes[index] for index in subproblem.neighbourhood.lanes]
    units = sorted({unit for lane in lanes for unit in lane.work_units})
    limits = [limit for unit in units for limit in problem.limits_of_unit[unit]]
    counted = {own for limit in limits for own in limit.gang_shifts}
    beyond: dict[tuple[int, ...], cp_model.IntVar] = {}
    for own in dict.fromkeys(
        s for lane in lanes for s in (lane.gang_shift, *lane.lanes_by_unit)
    ):
        priced, limited = own == problem.lanes[own[0]].gang_shift, own in counted
        options = options_in(builder, own, placed) if priced or limited else []
        if not options:
            continue
        lane = problem.lanes[own[0]]
        if lane.shift.kind == "on_call":
            _price_call(builder, subproblem, own, options)
            _overtime(builder, subproblem, own, options, priced=priced, limited=False)
            by_hour = lane.shift.call_out_per_min > 0
            more = (
                _away(builder, subproblem, own, options) if limited or by_hour else None
            )
        else:
            more = _overtime(
                builder, subproblem, own, options, priced=priced, limited=limited
            )
        if more is not None:
            beyond[own] = more
    for limit in limits:
        free = [beyond[own] for own in limit.gang_shifts if own in beyond]
        if free:
            fixed = sum(
                beyond_shift_min(
                    problem,
                    problem.lanes[own[0]],
                    merged_stops(subproblem.fixed_on_lane, own),
                )
                for own in limit.gang_shifts
                if own not in beyond
            )
            builder.model.add(sum(free) <= limit.left_min - fixed)


def _price_call(
    builder: ModelBuilder,
    subproblem: Subproblem,
    lanes: tuple[int, ...],
    options: list[CrewOption],
) -> None:
    lane = subproblem.problem.lanes[lanes[0]]
    if not lane.call_out_cost or merged_stops(subproblem.fixed_on_lane, lanes):
        return
    called = builder.flag(any(one.current for one in options))
    for one in options:
        builder.model.add_implication(one.literal, called)
    builder.price(called, lane.call_out_cost)


def _overtime(
    builder: ModelBuilder,
    subproblem: Subproblem,
    lanes: tuple[int, ...],
    options: list[CrewOption],
    *,
    priced: bool,
    limited: bool,
) -> cp_model.IntVar | None:
    """Give minutes of overtime; None where the neighbourhood cannot change them."""
    problem = subproblem.problem
    lane = problem.lanes[lanes[0]]
    fixed = merged_stops(subproblem.fixed_on_lane, lanes)
    ends = [stop.start + problem.jobs[stop.job].duration for stop in fixed]
    least = max([0, *(end - lane.ends for end in ends)])
    over = [one for one in options if one.high + one.job.duration > lane.ends + least]
    if not over or not ((priced and problem.overtime_cost_per_min) or limited):
        return None
    current = [
        one.current.start + one.job.duration - lane.ends
        for one in options
        if one.current
    ]
    overtime = builder.number(
        least, lane.closes - lane.ends, max(least, max(current, default=0))
    )
    if priced:
        builder.price(overtime, problem.overtime_cost_per_min)
    for one in over:
        late = one.placed.start + (one.job.duration - lane.ends)
        builder.model.add(overtime >= late).only_enforce_if(one.literal)
    return overtime


def _away(
    builder: ModelBuilder,
    subproblem: Subproblem,
    lanes: tuple[int, ...],
    options: list[CrewOption],
) -> cp_model.IntVar:
    """Give minutes of a call-out, from leaving home to the end of the last job.

    Those beyond what is paid in any case have their price.
    """
    problem, model = subproblem.problem, builder.model
    lane: Lane = problem.lanes[lanes[0]]
    fixed = merged_stops(subproblem.fixed_on_lane, lanes)
    way = problem.travel[lane.home]

    def span(stops: list[Stop]) -> tuple[int, int]:
        if not stops:
            return lane.starts, lane.starts
        jobs = problem.jobs
        left = min(stop.start - way[jobs[stop.job].zone] for stop in stops)
        return left, max(stop.start + jobs[stop.job].duration for stop in stops)

    hint = span([*fixed, *(one.current for one in options if one.current)])
    leaves = builder.number(lane.starts, lane.closes, hint[0])
    returns = builder.number(lane.starts, lane.closes, hint[1])
    if fixed:
        left, back = span(fixed)
        model.add(leaves <= left)
        model.add(returns >= back)
    for one in options:
        start, job = one.placed.start, one.job
        model.add(leaves <= start - way[job.zone]).only_enforce_if(one.literal)
        model.add(returns >= start + job.duration).only_enforce_if(one.literal)
    most, paid = lane.closes - lane.starts, lane.shift.call_out_paid_min
    away = builder.number(0, most, hint[1] - hint[0])
    model.add(away >= returns - leaves)
    if lane.shift.call_out_per_min and most > paid:
        unpaid = builder.number(0, most - paid, max(0, hint[1] - hint[0] - paid))
        model.add(unpaid >= away - paid)
        builder.price(unpaid, lane.shift.call_out_per_min)
    return away
