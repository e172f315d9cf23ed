"""Last touches: one more visit wherever it pays, and moves by minutes.

After this, a gap that a single visit could still close is one whose visit costs more
than the dryness.
"""

from scheduler.solver.cost import Stop
from scheduler.solver.dispatch import lanes_for, place
from scheduler.solver.one_more import OneMore
from scheduler.solver.openings import hull, joint, lane_openings, surface_openings
from scheduler.solver.plan import LEAST_GAIN, Plan
from scheduler.solver.prepare import Job
from scheduler.solver.slide import slide

_ROUNDS = 3


def fill(plan: Plan) -> None:
    """Add and move single visits as long as that makes the roster cheaper."""
    problem = plan.problem
    for _ in range(_ROUNDS):
        before = plan.cost
        done = {stop.job for own in plan.by_surface for stop in own}
        for job in problem.jobs:
            if not job.repeats and job.index not in done:
                place(plan, job)
        for surface in problem.surfaces:
            if surface.rewet is not None:
                _fill_surface(plan, problem.jobs[surface.rewet])
        slide(plan)
        plan.recount()
        if plan.cost > before - LEAST_GAIN:
            return


def _fill_surface(plan: Plan, rewet: Job) -> None:
    for gap in plan.surface_costs[rewet.surface].stretches:
        if gap.covered and gap.cost > 0:
            useful = (gap.start - rewet.duration, gap.end - 1)
            _best_visit(plan, rewet, useful)


def _best_visit(plan: Plan, job: Job, useful: tuple[int, int]) -> None:
    """Add the visit that helps most in a stretch, if any helps."""
    options: list[tuple[float, int, int]] = []
    more = OneMore(plan, job)
    mine = joint([useful], surface_openings(plan, job))
    reach = hull(mine)
    for lane in lanes_for(plan, job, mine):
        for low, high in joint(lane_openings(plan, job, lane, reach), mine):
            for start in sorted({low, min(high, useful[0] + job.duration), high}):
                if start >= low:
                    price = more.roster(start, lane)
                    if price <= plan.cost - LEAST_GAIN:
                        options.append((price, start, lane.index))
    for _, start, index in sorted(options):
        if plan.improve((), (Stop(start, job.index, index, -1),)):
            return
