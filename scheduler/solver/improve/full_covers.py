"""No wetting of a cover that drips: taken out, where no dry minute comes of it.

Such a visit may save a walk back for a look that it does as well, or minutes of little
water days later. People who are sent to wet what is full stop reading the list: the
look is given a visit of its own, and the minutes of little water are let go.
"""

from bisect import bisect_left

from scheduler.solver.improve.undo import back_to, standing
from scheduler.solver.plan.cost import Stop, missed_duties
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.start.cheapest_place import place_cheapest


def spare_full_covers(plan: Plan) -> None:
    """Take out wettings of covers that are nearly full, one after another."""
    least = plan.problem.settings.local_search.full_share
    for stop in plan.stops():
        if plan.problem.jobs[stop.job].repeats and share_left(plan, stop) >= least:
            _spare(plan, stop)
    plan.recount()


def _spare(plan: Plan, stop: Stop) -> None:
    problem = plan.problem
    surface = problem.surfaces[problem.jobs[stop.job].surface]
    then, cost, before = standing(plan), plan.cost, plan.surface_costs[surface.index]
    met = missed_duties(problem, surface, plan.by_surface[surface.index])
    if not plan.change((stop,), ()):
        return
    for job in missed_duties(problem, surface, plan.by_surface[surface.index]):
        if job not in met:
            place_cheapest(plan, job)
    now = plan.surface_costs[surface.index]
    little_water = now.low_water_cost - before.low_water_cost
    dearer = plan.cost - cost - little_water
    if (
        now.dry_cost > before.dry_cost + LEAST_GAIN
        or now.missed_cost > before.missed_cost + LEAST_GAIN
        or dearer > problem.settings.local_search.full_rewet_cost
    ):
        back_to(plan, then)


def share_left(plan: Plan, stop: Stop) -> float:
    """Share of its water that a cover has left as a visit to it starts."""
    problem = plan.problem
    work = problem.surfaces[problem.jobs[stop.job].surface].work
    own = plan.by_surface[problem.jobs[stop.job].surface]
    filled = (
        plan.end(other)
        for other in own[: bisect_left(own, stop)]
        if problem.jobs[other.job].refills or problem.jobs[other.job].covers
    )
    since = max((end for end in filled if end <= stop.start), default=0)
    if work.curve is None:
        return 0.0
    held_l_m2 = work.curve.held_l_m2
    left_l_m2 = held_l_m2 if since else work.reserve_at_start_l_m2
    step_min, losses = work.curve.step_min, work.curve.loss_l_m2_h
    minute = since
    while minute < stop.start:
        step = min(minute // step_min, len(losses) - 1)
        until = min(stop.start, (step + 1) * step_min)
        until = until if until > minute else stop.start  # the last one goes on
        left_l_m2 -= losses[step] * (until - minute) / 60
        left_l_m2 = min(held_l_m2, max(0.0, left_l_m2))
        minute = until
    return left_l_m2 / held_l_m2
