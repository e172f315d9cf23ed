"""Last touches: one more visit wherever it pays, moves by minutes, room for duties.

After this, a gap that a single visit could still close is one whose visit costs more
than the dryness.
"""

from scheduler.solver.improve.make_room import make_room
from scheduler.solver.improve.rewetting import rewet_surface
from scheduler.solver.improve.shift_starts import slide
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.start.dispatch import place

_ROUNDS = 3


def fill(plan: Plan, rounds: int = _ROUNDS) -> None:
    """Add and move single visits as long as that makes the roster cheaper."""
    problem = plan.problem
    for _ in range(rounds):
        before = plan.cost
        done = {stop.job for own in plan.by_surface for stop in own}
        for job in problem.jobs:
            if not job.repeats and job.index not in done:
                place(plan, job)
        for surface in problem.surfaces:
            if surface.rewet is not None:
                rewet_surface(plan, problem.jobs[surface.rewet])
        slide(plan)
        make_room(plan)
        plan.recount()
        if plan.cost > before - LEAST_GAIN:
            return
