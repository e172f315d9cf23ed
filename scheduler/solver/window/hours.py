"""Overtime and call-outs in a window: what they cost, and the week they count in."""

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop, beyond_shift_min, merged_stops
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.window.builder import Draft
from scheduler.solver.window.crews import Held, Placed, held_in
from scheduler.solver.window.window import Scene


def keep_hours(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """Price overtime and call-outs, and keep each work unit within its weeks.

    A gang's overtime is priced once, until the last of its parties is done.
    """
    problem = scene.problem
    lanes = [problem.lanes[index] for index in scene.window.lanes]
    units = sorted({unit for lane in lanes for unit in lane.work_units})
    weeks = [week for unit in units for week in problem.weeks_of_unit[unit]]
    counted = {own for week in weeks for own in week.gang_shifts}
    beyond: dict[tuple[int, ...], cp_model.IntVar] = {}
    for own in dict.fromkeys(
        s for lane in lanes for s in (lane.gang_shift, *lane.lanes_by_unit)
    ):
        priced, limited = own == problem.lanes[own[0]].gang_shift, own in counted
        held = held_in(draft, own, placed) if priced or limited else []
        if not held:
            continue
        lane = problem.lanes[own[0]]
        if lane.shift.kind == "on_call":
            _price_call(draft, scene, own, held)
            _overtime(draft, scene, own, held, priced=priced, limited=False)
            by_hour = lane.shift.call_out_per_min > 0
            more = _away(draft, scene, own, held) if limited or by_hour else None
        else:
            more = _overtime(draft, scene, own, held, priced=priced, limited=limited)
        if more is not None:
            beyond[own] = more
    for week in weeks:
        free = [beyond[own] for own in week.gang_shifts if own in beyond]
        if free:
            fixed = sum(
                beyond_shift_min(
                    problem,
                    problem.lanes[own[0]],
                    merged_stops(scene.fixed_on_lane, own),
                )
                for own in week.gang_shifts
                if own not in beyond
            )
            draft.model.add(sum(free) <= week.left_min - fixed)


def _price_call(
    draft: Draft, scene: Scene, lanes: tuple[int, ...], held: list[Held]
) -> None:
    lane = scene.problem.lanes[lanes[0]]
    if not lane.call_out_cost or merged_stops(scene.fixed_on_lane, lanes):
        return
    called = draft.flag(any(one.today for one in held))
    for one in held:
        draft.model.add_implication(one.literal, called)
    draft.price(called, lane.call_out_cost)


def _overtime(
    draft: Draft,
    scene: Scene,
    lanes: tuple[int, ...],
    held: list[Held],
    *,
    priced: bool,
    limited: bool,
) -> cp_model.IntVar | None:
    """Give minutes of overtime; None where the window cannot change them."""
    problem = scene.problem
    lane = problem.lanes[lanes[0]]
    fixed = merged_stops(scene.fixed_on_lane, lanes)
    ends = [stop.start + problem.jobs[stop.job].duration for stop in fixed]
    stays = max([0, *(end - lane.ends for end in ends)])
    over = [one for one in held if one.high + one.job.duration > lane.ends + stays]
    if not over or not ((priced and problem.overtime_cost_per_min) or limited):
        return None
    today = [
        one.today.start + one.job.duration - lane.ends for one in held if one.today
    ]
    overtime = draft.number(
        stays, lane.closes - lane.ends, max(stays, max(today, default=0))
    )
    if priced:
        draft.price(overtime, problem.overtime_cost_per_min)
    for one in over:
        late = one.placed.start + (one.job.duration - lane.ends)
        draft.model.add(overtime >= late).only_enforce_if(one.literal)
    return overtime


def _away(
    draft: Draft, scene: Scene, lanes: tuple[int, ...], held: list[Held]
) -> cp_model.IntVar:
    """Give minutes of a call-out, from leaving home to the end of the last job.

    Those beyond what is paid in any case have their price.
    """
    problem, model = scene.problem, draft.model
    lane: Lane = problem.lanes[lanes[0]]
    fixed = merged_stops(scene.fixed_on_lane, lanes)
    way = problem.travel[lane.home]

    def span(stops: list[Stop]) -> tuple[int, int]:
        if not stops:
            return lane.starts, lane.starts
        jobs = problem.jobs
        left = min(stop.start - way[jobs[stop.job].zone] for stop in stops)
        return left, max(stop.start + jobs[stop.job].duration for stop in stops)

    hint = span([*fixed, *(one.today for one in held if one.today)])
    leaves = draft.number(lane.starts, lane.closes, hint[0])
    returns = draft.number(lane.starts, lane.closes, hint[1])
    if fixed:
        left, back = span(fixed)
        model.add(leaves <= left)
        model.add(returns >= back)
    for one in held:
        start, job = one.placed.start, one.job
        model.add(leaves <= start - way[job.zone]).only_enforce_if(one.literal)
        model.add(returns >= start + job.duration).only_enforce_if(one.literal)
    most, paid = lane.closes - lane.starts, lane.shift.call_out_paid_min
    away = draft.number(0, most, hint[1] - hint[0])
    model.add(away >= returns - leaves)
    if lane.shift.call_out_per_min and most > paid:
        unpaid = draft.number(0, most - paid, max(0, hint[1] - hint[0] - paid))
        model.add(unpaid >= away - paid)
        draft.price(unpaid, lane.shift.call_out_per_min)
    return away
