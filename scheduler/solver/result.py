"""The roster as a record: visits, gaps, what was left out, the parts of its cost."""

from collections import Counter
from collections.abc import Sequence

import numpy as np

from models.records import Gap, Missed, ObjectivePart, Roster, Visit
from scheduler.solver.bound import Bound
from scheduler.solver.cost import Stop, dry_stretches, late_minutes
from scheduler.solver.explain import Explainer
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job, Surface

_DIGITS = 6  # costs are sums of decimals; what lies behind is noise


def roster_of(plan: Plan, bound: Bound, seed: int, solver_words: str) -> Roster:
    """Write a plan down."""
    work, explainer = plan.problem.work, Explainer(plan)
    parts = objective(plan)
    cost = round(sum(part.cost for part in parts), _DIGITS)
    return Roster(
        site_name=work.site_name,
        timezone=work.timezone,
        horizon=work.horizon,
        surfaces=tuple(sorted(work.surfaces, key=lambda s: s.surface_id)),
        visits=_visits(plan),
        missed=_missed(plan, explainer),
        gaps=_gaps(plan, explainer),
        objective=parts,
        cost=cost,
        lower_bound=max(0.0, min(cost, round(bound.value - 10**-_DIGITS, _DIGITS))),
        bound_words=bound.words,
        seed=seed,
        solver_words=solver_words,
    )


def objective(plan: Plan) -> tuple[ObjectivePart, ...]:
    """Every part of the cost in its own unit."""
    problem = plan.problem
    dry_min = late_min = 0
    for surface in problem.surfaces:
        stops = plan.by_surface[surface.index]
        dry_min += sum(dry.minutes for dry in dry_stretches(problem, surface, stops))
        late_min += sum(
            late for job, late in late_minutes(problem, stops) if job.late_cost > 0
        )
    surfaces, lanes = plan.surface_costs, plan.lane_costs
    overtime = sum(lane.overtime_min for lane in lanes)
    travel = sum(lane.travel_min for lane in lanes)
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
                "cost": round(cost, _DIGITS),
            }
        )

    return (
        part("dry", dry_min, "min", sum(s.dry for s in surfaces)),
        part("late", late_min, "min", sum(s.late for s in surfaces)),
        part(
            "missed", len(missed_jobs(plan)), "tasks", sum(s.missed for s in surfaces)
        ),
        part("call_out", calls, "call-outs", sum(lane.call_out for lane in lanes)),
        part("overtime", overtime, "min", overtime * problem.overtime_cost),
        part("travel", travel, "min", travel * problem.travel_cost),
    )


def missed_jobs(plan: Plan) -> list[Job]:
    """Duties that nobody does."""
    done = {stop.job for own in plan.by_surface for stop in own}
    return [
        job
        for job in plan.problem.jobs
        if job.missed_cost > 0 and job.index not in done
    ]


def _missed(plan: Plan, explainer: Explainer) -> tuple[Missed, ...]:
    found = []
    for job in missed_jobs(plan):
        limit, words = explainer.why_missed(job)
        found.append(
            Missed(
                task_id=job.task.id,
                surface_id=job.task.surface_id,
                limit=limit,
                words=words,
            )
        )
    return tuple(found)


def _visits(plan: Plan) -> tuple[Visit, ...]:
    problem = plan.problem
    at = problem.work.horizon.at
    done: Counter[int] = Counter()
    visits = []
    for stop in plan.stops():
        job, lane = problem.jobs[stop.job], problem.lanes[stop.lane]
        done[stop.job] += 1
        point = problem.supplies[stop.point].id if stop.point >= 0 else None
        visits.append(
            Visit(
                id=f"{job.task.id}/{done[stop.job]}" if job.repeats else job.task.id,
                task_id=job.task.id,
                surface_id=job.task.surface_id,
                crew_id=lane.shift.crew_id,
                shift_id=lane.shift.id,
                starts_at=at(stop.start),
                ends_at=at(stop.start + job.duration),
                water_point_id=point,
            )
        )
    return tuple(sorted(visits, key=lambda v: (v.starts_at, v.crew_id, v.id)))


def _gaps(plan: Plan, explainer: Explainer) -> tuple[Gap, ...]:
    problem, gaps = plan.problem, []
    at = problem.work.horizon.at
    for surface in problem.surfaces:
        stops = plan.by_surface[surface.index]
        for start, end, covered in dry_runs(plan, surface, stops):
            limit, words = explainer.why_dry(surface, start, end, covered=covered)
            gaps.append(
                Gap(
                    surface_id=surface.work.surface_id,
                    starts_at=at(start),
                    ends_at=at(end),
                    covered=covered,
                    limit=limit,
                    words=words,
                )
            )
    return tuple(gaps)


def dry_runs(
    plan: Plan, surface: Surface, stops: Sequence[Stop]
) -> list[tuple[int, int, bool]]:
    """Find runs of dry minutes, bare and covered apart: first minute, the one after.

    A stretch without a visit may hold minutes that rain or bleeding keeps damp.
    """
    horizon = plan.problem.horizon
    dry = np.zeros((2, horizon), bool)
    jobs, clock = plan.problem.jobs, surface.minutes
    on = surface.covered_from
    for stop in stops:
        if jobs[stop.job].covers:
            end = stop.start + jobs[stop.job].duration
            on = end if on is None else min(on, end)
    counts = (np.diff(clock.fresh_count) > 0, np.diff(clock.covered_count) > 0)
    rain = clock.late_rain(on) if on is not None and on > 0 else None
    for stretch in dry_stretches(plan.problem, surface, stops):
        span = slice(stretch.start, stretch.end)
        row = int(stretch.covered)
        dry[row, span] |= counts[row][span]
        if rain is not None and on is not None and stretch.covered:
            first, last = max(on, stretch.start), min(rain[0], stretch.end)
            for minute in range(first, last):
                if rain[2][minute - on + 1] > rain[2][minute - on]:
                    dry[1, minute] = True
    runs: list[tuple[int, int, bool]] = []
    for row in (0, 1):
        edges = np.flatnonzero(np.diff(np.concatenate(([0], dry[row], [0]))))
        pairs = edges.reshape(-1, 2).tolist()
        runs += [(first, last, bool(row)) for first, last in pairs]
    return sorted(runs)
