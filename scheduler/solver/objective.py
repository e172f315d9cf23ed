"""The parts of the objective, each in its own unit and in cost.

Units, prices and formulas stand in ``models/records/objective.py``.
"""

from collections import Counter, defaultdict
from itertools import pairwise

import numpy as np

from models.records import OBJECTIVE, Age, DryShare, ObjectivePart, PartName
from scheduler.solver.dry_runs import dry_shares_by_minute
from scheduler.solver.plan.cost import (
    dry_stretches,
    late_minutes,
    low_water_stretches,
)
from scheduler.solver.plan.fallen import Left, left_undone
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.published import PublishedRoster

DIGITS = 6  # costs are sums of decimals; what lies behind is noise


def objective(plan: Plan) -> tuple[ObjectivePart, ...]:
    """Every part of the cost in its own unit, in the order of ``OBJECTIVE``."""
    counted = _parts(plan)
    return tuple(
        ObjectivePart(
            name=name,
            amount=round(counted[name][0], DIGITS),
            unit=rule.unit,
            cost=round(counted[name][1], DIGITS),
        )
        for name, rule in OBJECTIVE.items()
        if name in counted
    )


def _parts(plan: Plan) -> dict[PartName, tuple[float, float]]:
    """Give amount and cost of each part; changes only of a published roster."""
    problem, costs = plan.problem, plan.surface_costs
    dry_min = low_min = late_min = 0
    for surface in problem.surfaces:
        stops = plan.by_surface[surface.index]
        dry_min += sum(dry.minutes for dry in dry_stretches(problem, surface, stops))
        low = low_water_stretches(problem, surface, stops)
        low_min += sum(stretch.minutes for stretch in low)
        late_min += sum(
            late
            for job, late in late_minutes(problem, stops)
            if job.late_cost_per_min > 0
        )
    gang_shifts = plan.gang_shift_costs.values()
    overtime_min = sum(one.overtime_min for one in gang_shifts)
    travel_min = sum(one.travel_min for one in gang_shifts)
    calls = sum(
        lane.shift.kind == "on_call" and bool(plan.by_lane[lane.index])
        for lane in problem.lanes
    )
    counted: dict[PartName, tuple[float, float]] = {
        "dry": (dry_min, sum(own.dry_cost for own in costs)),
        "low_water": (low_min, sum(own.low_water_cost for own in costs)),
        "late": (late_min, sum(own.late_cost for own in costs)),
        "missed": (len(left_jobs(plan)), sum(own.missed_cost for own in costs)),
        "call_out": (calls, sum(one.call_out_cost for one in gang_shifts)),
        "overtime": (overtime_min, overtime_min * problem.overtime_cost_per_min),
        "travel": (travel_min, travel_min * problem.travel_cost_per_min),
        "labour": (_worker_min(plan), sum(own.labour_cost for own in costs)),
        "water": (_litres_l(plan), sum(own.water_cost for own in costs)),
        "covers_short": (_covers_short_m2(plan), 0.0),
    }
    if (published := problem.published) is not None:
        changes = _changes(plan, published)
        counted["changes"] = (changes, published.change_cost * changes)
    return counted


def _changes(plan: Plan, published: PublishedRoster) -> int:
    """Visits of a published roster that are no longer so, and new ones."""
    return published.obsolete + sum(
        published.changed(surface.jobs, surface.rewet, plan.by_surface[surface.index])
        for surface in plan.problem.surfaces
    )


def left_jobs(plan: Plan) -> list[Left]:
    """Duties that nobody does, with those that fall away with them."""
    problem = plan.problem
    return [
        left
        for surface in problem.surfaces
        for left in left_undone(problem, surface, plan.by_surface[surface.index])
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
        shares_by_minute = dry_shares_by_minute(plan, surface, stops)
        for shares, bare in zip(shares_by_minute, (True, False), strict=True):
            steps = surface.work.fresh_weights if bare else surface.work.weights
            begins = [0, *(max(0, s.from_min) for s in steps[1:]), len(shares)]
            for step, (a, b) in zip(steps, pairwise(begins), strict=True):
                own = shares[a : max(a, b)]
                key = bare, step.age
                minutes[key] += int(np.count_nonzero(own))
                area_min[key] += float(own.sum()) * surface.work.area_m2
                cost[key] += float(own.sum()) * step.per_min
    found = (
        DryShare(
            bare=key[0],
            age=key[1],
            minutes=count,
            area_time_m2_h=round(area_min[key] / 60, DIGITS),
            cost=round(cost[key], DIGITS),
        )
        for key, count in minutes.items()
        if count
    )
    return tuple(sorted(found, key=lambda one: (-one.cost, one.age, one.bare)))
