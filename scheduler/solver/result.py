"""The roster as a record: visits, gaps, what was left out and why."""

from collections import Counter

from models.records import Gap, Missed, Roster, Visit
from scheduler.solver.dry_runs import dry_runs
from scheduler.solver.explain.explain import Explainer
from scheduler.solver.explain.fallen import falls_away
from scheduler.solver.floors import floors
from scheduler.solver.objective import DIGITS, dry_shares, left_jobs, objective
from scheduler.solver.plan.plan import Plan


def roster_of(plan: Plan, seed: int, solver_words: str) -> Roster:
    """Write a plan down."""
    work, explainer = plan.problem.work, Explainer(plan)
    parts = objective(plan)
    return Roster(
        site_name=work.site_name,
        timezone=work.timezone,
        horizon=work.horizon,
        surfaces=work.surfaces,
        visits=_visits(plan),
        missed=_missed(plan, explainer),
        gaps=_gaps(plan, explainer),
        objective=parts,
        dry_shares=dry_shares(plan),
        cost=round(sum(part.cost for part in parts), DIGITS),
        floors=() if work.begun else floors(plan.problem),
        begun_until=work.horizon.at(work.begun_until_min)
        if work.begun_until_min
        else None,
        seed=seed,
        solver_words=solver_words,
    )


def _missed(plan: Plan, explainer: Explainer) -> tuple[Missed, ...]:
    found = []
    for job, fallen in left_jobs(plan):
        limit, words = explainer.why_missed(job)
        if follows := falls_away(job.task, [other.task for other in fallen]):
            words = f"{follows}; {words}"
        found.append(
            Missed(
                task_id=job.task.id,
                surface_id=job.task.surface_id,
                limit=limit,
                words=words,
                fallen=tuple(other.task.id for other in fallen),
            )
        )
    return tuple(found)


def _visits(plan: Plan) -> tuple[Visit, ...]:
    problem = plan.problem
    at = problem.work.horizon.at
    begun = {(one.start, one.job): one.crew for one in problem.begun}
    done: Counter[int] = Counter()
    visits = []
    for stop in plan.stops():
        job, crew_id, shift_id = problem.jobs[stop.job], "", ""
        if stop.lane >= 0:
            shift = problem.lanes[stop.lane].shift
            crew_id, shift_id = shift.crew_id, shift.id
        done[stop.job] += 1
        point = problem.supplies[stop.point].id if stop.point >= 0 else None
        visits.append(
            Visit(
                id=f"{job.task.id}/{done[stop.job]}" if job.repeats else job.task.id,
                task_id=job.task.id,
                surface_id=job.task.surface_id,
                crew_id=crew_id or begun[stop.start, stop.job],
                shift_id=shift_id,
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
            gaps.append(
                Gap(
                    surface_id=surface.work.surface_id,
                    starts_at=at(start),
                    ends_at=at(end),
                    covered=covered,
                    reasons=explainer.why_dry(surface, start, end, covered=covered),
                )
            )
    return tuple(gaps)
