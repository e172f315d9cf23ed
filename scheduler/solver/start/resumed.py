"""A roster that is planned further: its visits, as far as they still fit."""

from collections.abc import Iterable

from models.records import Visit
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.problem import Problem
from scheduler.solver.start.cheapest_place import assign_duties, place_cheapest


def resume(problem: Problem, visits: Iterable[Visit]) -> Plan:
    """Put the visits of a roster of the same crews back in, then what is left to do.

    What can no longer be laid or lifted when it was gets its new place at once: before
    what comes later takes its covers or its people.
    """
    plan = Plan(problem)
    jobs = {job.task.id: job.index for job in problem.jobs}
    lanes = {lane.shift.id: lane.index for lane in problem.lanes}
    points = {supply.id: index for index, supply in enumerate(problem.supplies)}
    minute = problem.work.horizon.minute
    stops = sorted(
        Stop(
            minute(visit.starts_at),
            jobs[visit.task_id],
            lanes[visit.shift_id],
            points.get(visit.water_point_id or "", -1),
        )
        for visit in visits
        if visit.task_id in jobs and visit.shift_id in lanes
    )
    if not plan.change((), stops):
        for stop in stops:
            stands = plan.change((), (stop,))
            moves_covers = (
                stop.job in plan.covers.lifting or stop.job in plan.covers.laying
            )
            if not stands and moves_covers:
                place_cheapest(plan, problem.jobs[stop.job])
    assign_duties(plan, [job for job in problem.jobs if not job.repeats])
    return plan
