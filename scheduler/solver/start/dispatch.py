"""A first roster by a foreman's rules: earliest dry-out first, nearest as tie-break.

Work with a time of its own (covers, fog, soaks, compound) is given out ahead; rewets
and wide duties are handed to whoever is free, minute after minute; before a stretch
that nobody serves, covers are topped up early; a call-out is taken where the dryness
it saves is worth several times its price.
"""

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
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job, Problem
from scheduler.solver.start.foreman import Foreman, Rules
from scheduler.solver.start.warm_start import stand, stands

_TIGHT_MIN = 240  # a duty with less play than this is given out ahead
_FOREMEN_SURFACES = 360
_MAX_LANES = 120  # tried for one job; the nearest are the likely ones

RULES = (
    Rules(45, 2.0, 150, 1.3),
    Rules(20, 2.0, 90, None),
    Rules(20, 5.0, 180, 1.3),
    Rules(90, 2.0, 180, None),
    Rules(20, 0.5, 180, 2.0),
    Rules(60, 5.0, 240, 1.3),
)


def dispatch(problem: Problem, rules: Rules) -> Plan:
    """Build a roster; a published one counts where its visits find their place free."""
    plan = Plan(problem)
    give_out(plan, [job for job in problem.jobs if _is_timed(plan, job)])
    stand(plan, problem.jobs)
    Foreman(plan, rules).work()
    give_out(plan, [job for job in problem.jobs if not job.repeats])
    return plan


def take_up(problem: Problem) -> Plan:
    """Build a roster from what stands of a published one; the rest finds its place."""
    plan = Plan(problem)
    timed = [job for job in problem.jobs if _is_timed(plan, job)]
    stand(plan, timed)
    give_out(plan, timed)
    stand(plan, problem.jobs)
    give_out(plan, [job for job in problem.jobs if not job.repeats])
    return plan


def best_start(problem: Problem, rules: tuple[Rules, ...] = RULES) -> Plan:
    """Cheapest roster of several foremen; of fewer on a large site."""
    tried = rules[: max(1, _FOREMEN_SURFACES // max(1, len(problem.surfaces)))]
    return min((dispatch(problem, one) for one in tried), key=lambda plan: plan.cost)


def _is_timed(plan: Plan, job: Job) -> bool:
    if job.repeats:
        return False
    if job.index in plan.covers.lifting:
        return True
    play = min(job.latest, job.due + 60) - job.earliest - job.duration
    tied = any(link.max_gap is not None for link in job.after)
    return job.affects_dryness or play < _TIGHT_MIN or tied


def give_out(plan: Plan, jobs: list[Job]) -> None:
    """Give each job the place that costs least, in order of time; skip done ones.

    Its published place comes first, if there is one.
    """
    waiting = sorted(jobs, key=lambda job: (job.earliest, job.due, job.index))
    done = {stop.job for own in plan.by_surface for stop in own}
    waiting = [job for job in waiting if job.index not in done]
    while waiting:
        later: list[Job] = []
        placed = False
        for job in waiting:
            if any(link.job not in done for link in job.after):
                later.append(job)
            elif stands(plan, job) or place(plan, job):
                done.add(job.index)
                placed = True
        if not placed:
            return
        waiting = later


def place(plan: Plan, job: Job) -> bool:
    """Put a job where the roster gets cheapest by it, if it gets cheaper at all."""
    mine = surface_openings(plan, job)
    current = _but_dry_covers(plan.cost, plan.surface_costs[job.surface])
    opens_more = _opens_more(plan, job)
    more, reach = InsertionCost(plan, job), hull(mine)
    options: list[tuple[float, int, int]] = []
    for lane in lanes_for(plan, job, mine):
        for low, high in intersected(lane_openings(plan, job, lane, reach), mine)[:8]:
            # As early as it may, or as late as still in time: enough to choose from.
            on_time = min(max(low, job.due - job.duration), high)
            for start in sorted({low, on_time}) if not job.affects_dryness else (low,):
                price = more.roster(start, lane)
                price = _but_dry_covers(price, more.surface(start))
                if opens_more:
                    price += start - job.earliest  # others wait for it
                options.append((price, start, lane.index))
    for price, start, index in sorted(options):
        if price >= current and not opens_more:
            return False
        if plan.change((), (Stop(start, job.index, index, -1),)):
            return True
    return False


def lanes_for(plan: Plan, job: Job, spans: list[Span]) -> list[Lane]:
    """Lanes at work in some spans that could do a job; on a large site, the nearest."""
    if not spans:
        return []
    problem = plan.problem
    first, last = hull(spans)
    lanes = list(problem.lanes_for(job, first + job.duration, last))
    if len(lanes) > _MAX_LANES:
        lanes.sort(key=lambda lane: (problem.travel[lane.home][job.zone], lane.index))
    return lanes[:_MAX_LANES]


def _but_dry_covers(cost: float, surface: SurfaceCost) -> float:
    """Cost of the roster, but for a surface's dry cover: rewets are still to come."""
    return cost - sum(dry.cost for dry in surface.stretches if dry.covered)


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
