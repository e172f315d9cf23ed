"""Last touches: one more visit wherever it pays, moves by minutes, room for duties.

After this, a gap that a single visit could still close is one whose visit costs more
than the dryness.
"""

from scheduler.solver.improve.ejection import ejection_moves
from scheduler.solver.improve.freeing import fetch_covers
from scheduler.solver.improve.rewetting import insert_rewets
from scheduler.solver.improve.shift_starts import shift_starts
from scheduler.solver.improve.sooner import bring_forward
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.start.cheapest_place import place_cheapest


def local_search(plan: Plan, rounds: int | None = None) -> None:
    """Add and move single visits as long as that makes the roster cheaper.

    Parameters
    ----------
    rounds : int or None
        Rounds of all moves, at most, amid a search; None: as many as the settings say,
        and late duties are brought forward too, which a search is led astray by, and
        covers fetched for what waits bare.
    """
    problem = plan.problem
    by_itself = rounds is None
    if rounds is None:
        rounds = problem.settings.local_search.rounds
    for _ in range(rounds):
        before = plan.cost
        done = {stop.job for own in plan.by_surface for stop in own}
        for job in problem.jobs:
            if not job.repeats and job.index not in done:
                place_cheapest(plan, job)
        for surface in problem.surfaces:
            if surface.rewet is not None:
                insert_rewets(plan, problem.jobs[surface.rewet])
        shift_starts(plan)
        if by_itself:
            bring_forward(plan)
        _leave_out(plan)
        ejection_moves(plan)
        if by_itself:
            fetch_covers(plan)
        plan.recount()
        if plan.cost > before - LEAST_GAIN:
            return


def _leave_out(plan: Plan) -> None:
    """Take out single visits that cost more than they save."""
    for stop in plan.stops():
        plan.improve([stop], [])
