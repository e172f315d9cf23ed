"""The roster that the search begins with: dispatched by rules, or a published one.

By a rule the cover that is dry soonest comes first, the nearest of equal ones. Work
with a time of its own (covers, fog, soaks, compound) is placed ahead; rewets and wide
duties go to whoever is free, minute after minute; before a stretch without a crew
covers are topped up early; a call-out is made where the dryness that it saves is worth
several times its price.
"""

from collections import Counter
from collections.abc import Mapping

from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job, Problem
from scheduler.solver.settings.start import DispatchRule
from scheduler.solver.start.cheapest_place import assign_duties
from scheduler.solver.start.greedy_dispatcher import GreedyDispatcher
from scheduler.solver.start.published import place_published


def dispatch(
    problem: Problem, rule: DispatchRule, first: Mapping[int, float] | None = None
) -> Plan:
    """Build a roster by one rule; published visits come first where they still fit.

    ``first`` says which surfaces go ahead (see `assign_duties`).
    """
    plan = Plan(problem)
    assign_duties(plan, [job for job in problem.jobs if _is_timed(plan, job)], first)
    place_published(plan, problem.jobs)
    GreedyDispatcher(plan, rule).work()
    assign_duties(plan, [job for job in problem.jobs if not job.repeats])
    return plan


def warm_start(problem: Problem) -> Plan:
    """Build a roster from what still fits of a published one; the rest is added."""
    plan = Plan(problem)
    timed = [job for job in problem.jobs if _is_timed(plan, job)]
    place_published(plan, timed)
    assign_duties(plan, timed)
    place_published(plan, problem.jobs)
    assign_duties(plan, [job for job in problem.jobs if not job.repeats])
    return plan


def best_start(problem: Problem) -> Plan:
    """Give the cheapest roster of several dispatch rules; of fewer on a large site.

    By the best rule it is built again and again: each time the surfaces that lay bare
    at the highest cost so far get the first choice of people.
    """
    settings, surfaces = problem.settings.start, max(1, len(problem.surfaces))
    tried = settings.rules[: max(1, settings.rules_surfaces // surfaces)]
    plans = [(dispatch(problem, rule), rule) for rule in tried]
    best, rule = min(plans, key=lambda one: one[0].cost)
    last, blame, costs = best, Counter[int](), {best.cost}
    for _ in range(min(settings.rebuilt, settings.rebuilt_surfaces // surfaces)):
        blame.update(_bare_costs(last))
        last = dispatch(problem, rule, blame)
        best = min(best, last, key=lambda plan: plan.cost)
        if last.cost in costs:  # the order has settled
            break
        costs.add(last.cost)
    return best


def _bare_costs(plan: Plan) -> dict[int, float]:
    """Price of all bare time of each surface."""
    return {
        index: sum(dry.cost for dry in surface.stretches if not dry.covered)
        for index, surface in enumerate(plan.surface_costs)
    }


def _is_timed(plan: Plan, job: Job) -> bool:
    if job.repeats:
        return False
    if job.index in plan.covers.lifting or job.index in plan.covers.soaking:
        return True
    settings = plan.problem.settings.start
    latest = min(job.latest, job.due + settings.due_grace_min)
    play = latest - job.opens - job.duration
    tied = any(link.max_gap is not None for link in job.after)
    return job.affects_dryness or play < settings.tight_play_min or tied
