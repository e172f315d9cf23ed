"""The cheapest place for a job: priced at each opening, with every crew that may do it.

Plain ints of time are minutes from the start of the horizon.
"""

from collections.abc import Mapping

from scheduler.solver.plan.cost import Stop, SurfaceCost
from scheduler.solver.plan.insertion import InsertionCost
from scheduler.solver.plan.openings import (
    Span,
    hull,
    intersected,
    lane_openings,
    surface_openings,
)
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.soaking import change_with_soaking, soaked_from
from scheduler.solver.plan.wet_moves import NEVER
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job
from scheduler.solver.start.published import place_published_visit


def assign_duties(
    plan: Plan, jobs: list[Job], first: Mapping[int, float] | None = None
) -> None:
    """Put jobs one by one where each costs least; skip those that are done.

    Surfaces go ahead by the figure that ``first`` has for them, the highest first; the
    rest comes in order of time. A job's published place comes first, if there is one.
    """
    ahead = first or {}
    waiting = sorted(jobs, key=lambda job: (-ahead.get(job.surface, 0), *_in_turn(job)))
    done = {stop.job for own in plan.by_surface for stop in own}
    waiting = [job for job in waiting if job.index not in done]
    while waiting:
        later: list[Job] = []
        placed = False
        for job in waiting:
            if any(link.job not in done for link in job.after):
                later.append(job)
            elif place_published_visit(plan, job) or place_cheapest(plan, job):
                done.add(job.index)
                placed = True
        if not placed:
            return
        waiting = later


def _in_turn(job: Job) -> tuple[int, bool, int, int]:
    """Order of time; who can lay does not fog."""
    return job.opens, not job.strip, job.due, job.index


def place_cheapest(plan: Plan, job: Job) -> bool:
    """Put a job where the roster gets cheapest by it, if it gets cheaper at all.

    What soaks covers comes with their laying; what checks them before placing is done
    as late as may be, so that they can be in water by then.
    """
    if job.index in plan.covers.soaking:
        return False
    mine = surface_openings(plan, job)
    soaked = soaked_from(plan, job)
    if soaked < NEVER and (not mine or soaked < mine[0][0]):
        mine = surface_openings(plan, job, soaked)
    is_check = job.index in plan.covers.checking
    current = _but_dry_covers(plan.cost, plan.surface_costs[job.surface])
    opens_more = _opens_more(plan, job)
    more, reach = InsertionCost(plan, job), hull(mine)
    most = plan.problem.settings.start.most_openings
    options: list[tuple[float, int, int]] = []
    for lane in lanes_for(plan, job, mine):
        openings = intersected(lane_openings(plan, job, lane, reach), mine)
        for low, high in openings[:most]:
            # As early as it may, or as late as still in time: enough to choose from.
            on_time = min(max(low, job.due - job.duration), high)
            starts = (low,) if job.affects_dryness else sorted({low, on_time})
            for start in starts[-1:] if is_check else starts:
                price = more.of_roster(start, lane)
                price = _but_dry_covers(price, more.of_surface(start))
                if opens_more:
                    price += start - job.opens  # others wait for it
                options.append((price, start, lane.index))
    for price, start, index in sorted(options, key=_latest if is_check else None):
        if price >= current and not opens_more:
            return False
        stop = Stop(start, job.index, index, -1)
        if plan.change((), (stop,)) or change_with_soaking(plan, [], stop):
            return True
    return False


def _latest(option: tuple[float, int, int]) -> tuple[float, int, int]:
    """Sort by price, of the same price the latest first."""
    return option[0], -option[1], option[2]


def lanes_for(plan: Plan, job: Job, spans: list[Span]) -> list[Lane]:
    """Lanes at work in some spans that could do a job; on a large site, the nearest."""
    if not spans:
        return []
    problem = plan.problem
    first, last = hull(spans)
    lanes = list(problem.lanes_for(job, first + job.duration, last))
    most = problem.settings.start.most_lanes
    if len(lanes) > most:
        lanes.sort(key=lambda lane: (problem.travel[lane.home][job.zone], lane.index))
    return lanes[:most]


def _but_dry_covers(cost: float, surface: SurfaceCost) -> float:
    """Cost of the roster, but for a surface's dry cover: rewets are still to come."""
    dry_cost = sum(dry.cost for dry in surface.stretches if dry.covered)
    return cost - dry_cost - surface.low_water_cost


def _opens_more(plan: Plan, job: Job) -> bool:
    """Whether other work waits for this job, so that it may cost something itself.

    Where covers are scarce, other surfaces wait for those that come off this one.
    """
    surface = plan.problem.surfaces[job.surface]
    return (
        bool(job.before)
        or (job.covers and surface.rewet is not None)
        or job.index in plan.covers.lifting
    )
