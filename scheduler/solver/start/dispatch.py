"""The roster that the search begins with: dispatched by rules, or a published one.

By a rule the cover that is dry soonest comes first, the nearest of equal ones. Work
with a time of its own (covers, fog, soaks, compound) is placed ahead; rewets and wide
duties go to whoever is free, minute after minute; before a stretch without a crew
covers are topped up early; a call-out is made where the dryness that it saves is worth
several times its price.
"""

from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job, Problem
from scheduler.solver.start.cheapest_place import assign_duties
from scheduler.solver.start.greedy_dispatcher import DispatchRule, GreedyDispatcher
from scheduler.solver.start.published import place_published

_TIGHT_MIN = 240  # a duty with less play than this is given out ahead
_RULES_SURFACES = 360

DISPATCH_RULES = (
    DispatchRule(45, 2.0, 150, 1.3),
    DispatchRule(20, 2.0, 90, None),
    DispatchRule(20, 5.0, 180, 1.3),
    DispatchRule(90, 2.0, 180, None),
    DispatchRule(20, 0.5, 180, 2.0),
    DispatchRule(60, 5.0, 240, 1.3),
)


def dispatch(problem: Problem, rule: DispatchRule) -> Plan:
    """Build a roster by one rule; published visits come first where they still fit."""
    plan = Plan(problem)
    assign_duties(plan, [job for job in problem.jobs if _is_timed(plan, job)])
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


def best_start(
    problem: Problem, rules: tuple[DispatchRule, ...] = DISPATCH_RULES
) -> Plan:
    """Give the cheapest roster of several dispatch rules; of fewer on a large site."""
    tried = rules[: max(1, _RULES_SURFACES // max(1, len(problem.surfaces)))]
    return min((dispatch(problem, one) for one in tried), key=lambda plan: plan.cost)


def _is_timed(plan: Plan, job: Job) -> bool:
    if job.repeats:
        return False
    if job.index in plan.covers.lifting:
        return True
    play = min(job.latest, job.due + 60) - job.earliest - job.duration
    tied = any(link.max_gap is not None for link in job.after)
    return job.affects_dryness or play < _TIGHT_MIN or tied
