"""The layers of the objective, each in its own unit and in cost.

Covers that are short are not priced: the dryness that they leave is. What a roster
changes of a published one is counted only where there is one.
"""

from collections import Counter, defaultdict
from itertools import pairwise

from models.records import Age, DryShare, ObjectivePart
from scheduler.solver.dry_runs import dry_runs
from scheduler.solver.plan.cost import dry_stretches, late_minutes, missed_duties
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Job
from scheduler.solver.problem.published import PublishedRoster

DIGITS = 6  # costs are sums of decimals; what lies behind is noise


def objective(plan: Plan) -> tuple[ObjectivePart, ...]:
    """Every part of the cost in its own unit."""
    problem = plan.problem
    dry_min = late_min = 0
    for surface in problem.surfaces:
        stops = plan.by_surface[surface.index]
        dry_min += sum(dry.minutes for dry in dry_stretches(problem, surface, stops))
        late_min += sum(
            late
            for job, late in late_minutes(problem, stops)
            if job.late_cost_per_min > 0
        )
    surfaces, gang_shifts = plan.surface_costs, plan.gang_shift_costs.values()
    overtime = sum(gang_shift.overtime_min for gang_shift in gang_shifts)
    travel = sum(gang_shift.travel_min for gang_shift in gang_shifts)
    calls = sum(
        lane.shift.kind == "on_call" and bool(plan.by_lane[lane.index])
        for lane in problem.lanes
    )

    def part(name: str, amount: float, unit: str, cost: float) -> ObjectivePart:
        return ObjectivePart.model_validate(
            {
                "name": name,
                "amount": amount,
                "unit": unit,
                "cost": round(cost, DIGITS),
            }
        )

    parts = (
        part("dry", dry_min, "min", sum(s.dry for s in surfaces)),
        part("late", late_min, "min", sum(s.late for s in surfaces)),
        part(
            "missed", len(missed_jobs(plan)), "tasks", sum(s.missed for s in surfaces)
        ),
        part(
            "call_out",
            calls,
            "call-outs",
            sum(gang_shift.call_out for gang_shift in gang_shifts),
        ),
        part("overtime", overtime, "min", overtime * problem.overtime_cost_per_min),
        part("travel", travel, "min", travel * problem.travel_cost_per_min),
        part("labour", _worker_min(plan), "min", sum(s.labour for s in surfaces)),
        part(
            "water",
            round(_litres_l(plan), DIGITS),
            "L",
            sum(s.water for s in surfaces),
        ),
        part("covers_short", round(_covers_short_m2(plan), DIGITS), "m²", 0.0),
    )
    if problem.published is None:
        return parts
    changes = _changes(plan, problem.published)
    return (
        *parts,
        part("changes", changes, "visits", changes * problem.published.change_cost),
    )


def _changes(plan: Plan, published: PublishedRoster) -> int:
    """Visits of a published roster that are no longer so, and new ones."""
    return published.obsolete + sum(
        published.changed(surface.jobs, surface.rewet, plan.by_surface[surface.index])
        for surface in plan.problem.surfaces
    )


def missed_jobs(plan: Plan) -> list[Job]:
    """Duties that nobody does."""
    problem = plan.problem
    return [
        job
        for surface in problem.surfaces
        for job in missed_duties(problem, surface, plan.by_surface[surface.index])
    ]


def _worker_min(plan: Plan) -> int:
    """Minutes of all people on all visits."""
    return sum(plan.problem.jobs[stop.job].task.worker_min for stop in plan.stops())


def _litres_l(plan: Plan) -> float:
    """Water that all visits draw."""
    needs = (plan.problem.jobs[stop.job].task.water for stop in plan.stops())
    return sum(need.litres_l for need in needs if need is not None)


def _covers_short_m2(plan: Plan) -> float:
    """Area whose covers were with others when it could first have been laid."""
    book, jobs = plan.covers, plan.problem.jobs
    return sum(
        need.area_m2
        for job, need in ((job, book.needs[i]) for job, i in book.laying.items())
        if not book.is_free(need, max(0, jobs[job].earliest - need.lead))
    )


def dry_shares(plan: Plan) -> tuple[DryShare, ...]:
    """Dry minutes by state and age, with area and price; the dearest first."""
    minutes: Counter[tuple[bool, Age]] = Counter()
    area_min: dict[tuple[bool, Age], float] = defaultdict(float)
    cost: dict[tuple[bool, Age], float] = defaultdict(float)
    for surface in plan.problem.surfaces:
        stops = plan.by_surface[surface.index]
        for start, end, covered in dry_runs(plan, surface, stops):
            steps = surface.work.weights if covered else surface.work.fresh_weights
            begins = [start, *(step.from_min for step in steps[1:]), end]
            for step, (a, b) in zip(steps, pairwise(begins), strict=True):
                length = min(b, end) - max(a, start)
                if length > 0:
                    key = not covered, step.age
                    minutes[key] += length
                    area_min[key] += length * surface.work.area_m2
                    cost[key] += length * step.per_min
    shares = (
        DryShare(
            bare=key[0],
            age=key[1],
            minutes=count,
            area_time_m2_h=round(area_min[key] / 60, DIGITS),
            cost=round(cost[key], DIGITS),
        )
        for key, count in minutes.items()
    )
    return tuple(sorted(shares, key=lambda one: (-one.cost, one.age, one.bare)))
