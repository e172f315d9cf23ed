"""From the work list to the roster: the one call for everybody else.

Start by dispatch rules, and from what still fits of a published roster if there is one,
then exact neighbourhoods until the effort is spent, each followed by a look at single
visits; then visits of a place are drawn together and a reason is found for every gap.
There is no work list that it cannot answer: what nobody can do becomes a gap or a duty
left out.
"""

from importlib.metadata import version
from time import monotonic

from models.records import Roster, WorkList
from scheduler.solver.improve.full_covers import spare_full_covers
from scheduler.solver.improve.local_search import local_search
from scheduler.solver.improve.rounds import group_into_rounds
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Problem, prepare
from scheduler.solver.result import roster_of
from scheduler.solver.search.effort import Effort, size_of
from scheduler.solver.search.search import Progress, Search
from scheduler.solver.settings.settings import DEFAULT, Settings
from scheduler.solver.start.dispatch import best_start, warm_start
from scheduler.solver.start.published import restore_published, unchanged_published
from scheduler.solver.start.resumed import resume
from scheduler.solver.workers.helper import Helper

__all__ = ["Effort", "Progress", "solve"]


def solve(
    work: WorkList,
    effort: Effort | None = None,
    seed: int = 1,
    progress: Progress | None = None,
    *,
    alone: bool = False,
    begun: Roster | None = None,
    settings: Settings = DEFAULT,
) -> Roster:
    """Plan the week.

    Parameters
    ----------
    work : WorkList
        Surfaces, tasks, crews, water.
    effort : Effort or None
        How long to search; by default the same work on every machine, so that the
        same work list gives the same roster, byte for byte.
    seed : int
        Of the search; another seed may find another roster.
    progress : callable or None
        Told the share of the effort spent and the cost so far.
    alone : bool
        Start no second process, where this one is one of many. The roster is the same.
    begun : Roster or None
        A roster of nearly the same work, to be planned further with a share of the
        effort.
    settings : Settings
        What steers the search.

    Returns
    -------
    Roster
        With every gap explained, and what no roster could avoid.
    """
    started = monotonic()
    effort = effort if effort is not None else Effort()
    limits = settings.effort
    told, share = effort.words, 1.0
    if work.begun:
        told, share = f"{told} of the rest", limits.replanned_share
    if begun is not None:
        told, share = f"{told}, then planned further", limits.resumed_share
    if share < 1:
        effort = effort.share(share, size_of(work, limits), limits)
    brief = effort.budget(size_of(work, limits), limits) < limits.helper_from_work
    with Helper(patience_s=limits.helper_patience_s, alone=alone or brief) as helper:
        problem = prepare(work, settings)
        helper.start(problem)
        plan, solved_count = unchanged_published(problem), 0
        if plan is None:
            plan, filled_in_s = _start(problem, begun)
            search = Search(
                plan, effort.less(limits.afterwards_factor * filled_in_s), seed,
                helper.solve_subproblem, progress, started,
            )  # fmt: skip
            search.run()
            solved_count = search.solved_count
            local_search(plan)
            group_into_rounds(plan)
            spare_full_covers(plan)
            restore_published(plan)
    by = f"CP-SAT (OR-Tools {version('ortools')})"
    words = f"{solved_count} windows by {by}, {told}"
    return roster_of(plan, seed, words)


def _start(problem: Problem, begun: Roster | None) -> tuple[Plan, float]:
    """Give the roster that the search begins with, and the seconds it took to fill."""
    if begun is not None:
        plan = resume(problem, begun.visits)
    else:
        plan = warm_start(problem) if problem.begun else best_start(problem)
    began = monotonic()
    local_search(plan)
    filled_in_s = monotonic() - began
    if problem.published is None or problem.begun or begun is not None:
        return plan, filled_in_s
    stood = warm_start(problem)
    local_search(stood)
    return min(stood, plan, key=lambda one: one.cost), filled_in_s
