"""One more visit for each dry stretch of a surface, where it pays."""

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.insertion import InsertionCost
from scheduler.solver.plan.openings import (
    hull,
    intersected,
    lane_openings,
    surface_openings,
)
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.problem.problem import Job
from scheduler.solver.start.cheapest_place import lanes_for


def insert_rewets(plan: Plan, rewet: Job) -> None:
    """Wet a surface before each stretch in which its cover is dry."""
    for gap in plan.surface_costs[rewet.surface].stretches:
        if gap.covered and gap.cost > 0:
            useful = (gap.start - rewet.duration, gap.end - 1)
            _best_visit(plan, rewet, useful)


def _best_visit(plan: Plan, job: Job, useful: tuple[int, int]) -> None:
    """Add the visit that helps most in a stretch, if any helps."""
    options: list[tuple[float, int, int]] = []
    more = InsertionCost(plan, job)
    mine = intersected([useful], surface_openings(plan, job))
    reach = hull(mine)
    for lane in lanes_for(plan, job, mine):
        for low, high in intersected(lane_openings(plan, job, lane, reach), mine):
            for start in sorted({low, min(high, useful[0] + job.duration), high}):
                if start >= low:
                    price = more.of_roster(start, lane)
                    if price <= plan.cost - LEAST_GAIN:
                        options.append((price, start, lane.index))
    for _, start, index in sorted(options):
        if plan.improve((), (Stop(start, job.index, index, -1),)):
            return
