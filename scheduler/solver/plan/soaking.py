"""The visit that puts covers into water, found for a laying that waits for it.

Nobody gains by a soaking alone, nor may covers be laid without one that do not come
wet: both are put in together. Plain ints of time are minutes from the start of the
horizon.
"""

from collections.abc import Iterator
from itertools import islice

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.covers import Need
from scheduler.solver.plan.openings import beside_others, intersected, lane_openings
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.wet_moves import NEVER
from scheduler.solver.problem.problem import Job


def soaked_from(plan: Plan, job: Job) -> int:
    """First minute at which a job can lay what a visit still to come soaks; or never.

    That of covers that nobody soaks, or that are soaked by the plan already, too.
    """
    need = _soaked_need(plan, job)
    if need is None or need.soaked_by is None or plan.stop_of(need.soaked_by):
        return NEVER
    starts = (low for low, _, _ in _places(plan, need, NEVER))
    first = min(starts, default=NEVER)
    return first if first >= NEVER else first + plan.covers.soaks_for(need)


def soakings(plan: Plan, laying: Stop) -> Iterator[Stop]:
    """Find visits that soak what a stop lays in time, the latest ones first.

    The one that the plan has already may be among them: it would be moved.
    """
    need = _soaked_need(plan, plan.problem.jobs[laying.job])
    if need is None or need.soaked_by is None:
        return
    last = laying.start - plan.covers.soaks_for(need)
    lanes = plan.problem.lanes
    places = sorted(
        _places(plan, need, last),
        key=lambda place: (-place[1], lanes[place[2]].shift.people, place[2]),
    )
    for _, start, lane in islice(places, plan.problem.settings.start.most_soakings):
        yield Stop(start, need.soaked_by, lane, -1)


def change_with_soaking(plan: Plan, remove: list[Stop], laying: Stop) -> bool:
    """Change the plan for a laying, with the soaking that it takes, or without any."""
    need = _soaked_need(plan, plan.problem.jobs[laying.job])
    if need is None or need.soaked_by is None:
        return False
    current = plan.stop_of(need.soaked_by)
    gone = [*remove, *([current] if current and current not in remove else [])]
    if len(gone) > len(remove) and plan.change(gone, (laying,)):
        return True
    for soak in soakings(plan, laying):
        check = _check_too_soon(plan, need, soak)
        if check is None or check in gone:
            if plan.change(gone, (soak, laying)):
                return True
        else:
            later = next(_checks_after(plan, check, plan.end(soak)), None)
            if later and plan.change([*gone, check], (soak, later, laying)):
                return True
    return False


def _check_too_soon(plan: Plan, need: Need, soak: Stop) -> Stop | None:
    """Give the check before placing if it comes before a soaking that it could see."""
    if need.checked_by is None:
        return None
    check, over = plan.stop_of(need.checked_by), plan.end(soak)
    if check is None or over <= check.start:
        return None
    return check if over <= plan.covers.last_start(need.checked_by) else None


def _checks_after(plan: Plan, check: Stop, from_min: int) -> Iterator[Stop]:
    """Find later places for a check before placing, the latest ones first."""
    job = plan.problem.jobs[check.job]
    span = from_min, job.latest - job.duration
    places = []
    for lane in plan.problem.lanes_for(job, span[0] + job.duration, span[1]):
        if lane.shift.kind == "shift":
            free = lane_openings(plan, job, lane, span, but=check)
            mine = beside_others(plan, job, span, check)
            places += [(-high, lane.index) for _, high in intersected(free, mine)]
    for start, lane_index in sorted(places):
        yield Stop(-start, check.job, lane_index, -1)


def _soaked_need(plan: Plan, job: Job) -> Need | None:
    index = plan.covers.laying.get(job.index)
    return None if index is None else plan.covers.needs[index]


def _places(plan: Plan, need: Need, last: int) -> Iterator[tuple[int, int, int]]:
    """Yield where a need can be soaked: first and last start, and the lane.

    In ordinary hours, as soon as the covers are free.
    """
    assert need.soaked_by is not None
    job = plan.problem.jobs[need.soaked_by]
    low = max(job.earliest, 0, plan.covers.free_from(need))
    high = min(last, job.latest - job.duration)
    current = plan.stop_of(job.index)
    mine = beside_others(plan, job, (low, high), current)
    for lane in plan.problem.lanes_for(job, low + job.duration, high):
        if lane.shift.kind != "shift":
            continue
        free = lane_openings(plan, job, lane, (low, high), but=current)
        for first, until in intersected(free, mine):
            until = min(until, lane.ends - job.duration)
            if first <= until:
                yield first, until, lane.index
