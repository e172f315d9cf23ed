"""Why a roster that stands leaves its gaps, for those who play it on newer figures."""

from collections.abc import Sequence
from datetime import datetime

from models.records import Gap, Visit, WorkList
from scheduler.solver.explain.explain import Explainer
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Problem, prepare


def why_dry(
    work: WorkList, visits: Sequence[Visit], gaps: Sequence[Gap], now: datetime
) -> tuple[Gap, ...]:
    """Tell what stands in the way of closing gaps that lie ahead.

    Parameters
    ----------
    work : WorkList
        The work as the roster has it, with the crews, water and drying that are known
        now.
    visits : sequence of Visit
        The roster's; they stay where they are, even where they break a rule now.
    gaps : sequence of Gap
        Dry times of that work with these visits.
    now : datetime
        Nobody can come before.
    """
    if not gaps:
        return ()
    plan = Plan(prepare(work))
    plan.place(_stops(plan.problem, visits))
    minute = work.horizon.minute
    explainer = Explainer(plan, not_before=max(0, minute(now)))
    surfaces = {one.work.surface_id: one for one in plan.problem.surfaces}
    return tuple(
        gap.model_copy(
            update={
                "reasons": explainer.why_dry(
                    surfaces[gap.surface_id],
                    minute(gap.starts_at),
                    minute(gap.ends_at),
                    covered=gap.covered,
                )
            }
        )
        for gap in gaps
    )


def _stops(problem: Problem, visits: Sequence[Visit]) -> list[Stop]:
    jobs = {job.task.id: job.index for job in problem.jobs}
    points = {supply.id: index for index, supply in enumerate(problem.supplies)}
    stops = []
    for visit in visits:
        if visit.task_id in jobs:
            start = problem.work.horizon.minute(visit.starts_at)
            job, lane = jobs[visit.task_id], _lane_of(problem, visit)
            point = points.get(visit.water_point_id or "", -1)
            stops.append(Stop(start, job, lane, point))
    return stops


def _lane_of(problem: Problem, visit: Visit) -> int:
    """Find the shift of a visit, or another of its crew at that time; else -1."""
    minute = problem.work.horizon.minute
    start, end = minute(visit.starts_at), minute(visit.ends_at)
    own = [
        lane
        for lane in problem.lanes
        if lane.shift.crew_id == visit.crew_id
        and (
            lane.shift.id == visit.shift_id
            or (lane.starts < end and start < lane.closes)
        )
    ]
    own.sort(key=lambda lane: (lane.shift.id != visit.shift_id, lane.index))
    return own[0].index if own else -1
