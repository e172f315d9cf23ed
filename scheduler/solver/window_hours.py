"""Overtime and call-outs in a window: what they cost, and the week they count in."""

from ortools.sat.python import cp_model

from scheduler.solver.cost import Stop, beyond_shift_min
from scheduler.solver.draft import Draft
from scheduler.solver.prepare import Lane
from scheduler.solver.window import Scene
from scheduler.solver.window_crews import Placed


def keep_hours(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """Price overtime and call-outs, and keep each crew within its weeks."""
    problem = scene.problem
    lanes = [problem.lanes[index] for index in scene.window.lanes]
    crews = sorted({lane.crew for lane in lanes})
    weeks = [week for crew in crews for week in problem.weeks_of_crew[crew]]
    counted = {index for week in weeks for index in week.lanes}
    beyond: dict[int, cp_model.IntVar] = {}
    for lane in lanes:
        mine = [one for one in placed if lane.index in one.lanes]
        if not mine:
            continue
        limited = lane.index in counted
        if lane.shift.kind == "on_call":
            _price_call(draft, scene, lane, mine)
            by_hour = lane.shift.call_out_per_min > 0
            more = _away(draft, scene, lane, mine) if limited or by_hour else None
        else:
            more = _overtime(draft, scene, lane, mine, limited=limited)
        if more is not None:
            beyond[lane.index] = more
    for week in weeks:
        free = [beyond[index] for index in week.lanes if index in beyond]
        if free:
            fixed = sum(
                beyond_shift_min(
                    problem, problem.lanes[index], scene.fixed_on_lane[index]
                )
                for index in week.lanes
                if index not in beyond
            )
            draft.model.add(sum(free) <= week.left - fixed)


def _price_call(draft: Draft, scene: Scene, lane: Lane, placed: list[Placed]) -> None:
    if not lane.call_out_cost or scene.fixed_on_lane[lane.index]:
        return
    called = draft.flag(any(_today(one, lane) for one in placed))
    for one in placed:
        draft.model.add_implication(one.lanes[lane.index], called)
    draft.price(called, lane.call_out_cost)


def _overtime(
    draft: Draft, scene: Scene, lane: Lane, placed: list[Placed], *, limited: bool
) -> cp_model.IntVar | None:
    """Give minutes of overtime, priced; None where the window cannot change them."""
    problem = scene.problem
    fixed = scene.fixed_on_lane[lane.index]
    stays = beyond_shift_min(problem, lane, fixed)
    over = [
        one
        for one in placed
        if one.item.spans[lane.index][1] + one.item.job.duration > lane.ends + stays
    ]
    if not over or not (problem.overtime_cost or limited):
        return None
    today = [
        stop.start + problem.jobs[stop.job].duration - lane.ends
        for one in placed
        if (stop := _today(one, lane))
    ]
    overtime = draft.number(
        stays, lane.closes - lane.ends, max(stays, max(today, default=0))
    )
    draft.price(overtime, problem.overtime_cost)
    for one in over:
        late = one.start + (one.item.job.duration - lane.ends)
        draft.model.add(overtime >= late).only_enforce_if(one.lanes[lane.index])
    return overtime


def _away(
    draft: Draft, scene: Scene, lane: Lane, placed: list[Placed]
) -> cp_model.IntVar:
    """Give minutes of a call-out, from leaving home to the end of the last job.

    Those beyond what is paid in any case have their price.
    """
    problem, model = scene.problem, draft.model
    fixed = scene.fixed_on_lane[lane.index]
    way = problem.travel[lane.home]

    def span(stops: list[Stop]) -> tuple[int, int]:
        if not stops:
            return lane.starts, lane.starts
        jobs = problem.jobs
        left = min(stop.start - way[jobs[stop.job].zone] for stop in stops)
        return left, max(stop.start + jobs[stop.job].duration for stop in stops)

    today = [stop for one in placed if (stop := _today(one, lane))]
    hint = span([*fixed, *today])
    leaves = draft.number(lane.starts, lane.closes, hint[0])
    returns = draft.number(lane.starts, lane.closes, hint[1])
    if fixed:
        left, back = span(fixed)
        model.add(leaves <= left)
        model.add(returns >= back)
    for one in placed:
        literal, job = one.lanes[lane.index], one.item.job
        model.add(leaves <= one.start - way[job.zone]).only_enforce_if(literal)
        model.add(returns >= one.start + job.duration).only_enforce_if(literal)
    most, paid = lane.closes - lane.starts, lane.shift.call_out_paid_min
    away = draft.number(0, most, hint[1] - hint[0])
    model.add(away >= returns - leaves)
    if lane.shift.call_out_per_min and most > paid:
        unpaid = draft.number(0, most - paid, max(0, hint[1] - hint[0] - paid))
        model.add(unpaid >= away - paid)
        draft.price(unpaid, lane.shift.call_out_per_min)
    return away


def _today(one: Placed, lane: Lane) -> Stop | None:
    """Where an item stands now, if in this lane."""
    stop = one.item.today
    return stop if stop is not None and stop.lane == lane.index else None
