"""A neighbourhood with all that its model needs: what may be placed, what stands still.

Besides the stops that it frees, duties that nobody does yet and one more rewet of each
surface that is dry may come in. Plain ints of time are minutes from the start of the
horizon.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.plan.covers import CoverLedger
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.water import SupplyLedger
from scheduler.solver.problem.problem import Job, Problem
from scheduler.solver.subproblem.neighbourhood import Neighbourhood, freed_by

Span = tuple[int, int]
"""First and last start."""


@dataclass(eq=False)
class Item:
    """A stop that the model places, or leaves out.

    Attributes
    ----------
    spans : dict
        First and last start by lane.
    current : Stop or None
        Where it stands now.
    mandatory : bool
        It may not be left out.
    """

    job: Job
    spans: dict[int, Span]
    current: Stop | None
    mandatory: bool = False
    first: int = field(init=False)
    last: int = field(init=False)

    def __post_init__(self) -> None:
        """Note the first and last start of all lanes."""
        self.first = min(low for low, _ in self.spans.values())
        self.last = max(high for _, high in self.spans.values())


@dataclass(frozen=True)
class Subproblem:
    """A neighbourhood with its items and the stops around them.

    A copy of all it needs: the roster may change while the neighbourhood is being
    solved.

    Attributes
    ----------
    fixed_on_lane, fixed_on_surface : dict
        Stops that stand still, in order of start; lanes are all those of the work
        units of the neighbourhood, and those of their gang shifts.
    water : list of WaterPoint
        What the stops that stand still draw.
    covers : CoverBook
        What all surfaces take of the stock today, freed stops included.
    """

    problem: Problem
    neighbourhood: Neighbourhood
    items: list[Item]
    freed: list[Stop]
    fixed_on_lane: dict[int, list[Stop]]
    fixed_on_surface: dict[int, list[Stop]]
    water: list[SupplyLedger]
    covers: CoverLedger


def subproblem_of(plan: Plan, neighbourhood: Neighbourhood) -> Subproblem:
    """Gather what a neighbourhood frees, what may come in and what stands still."""
    problem = plan.problem
    freed = freed_by(plan, neighbourhood)
    free = set(freed)
    within = [problem.lanes[lane] for lane in neighbourhood.lanes]
    units = {unit for lane in within for unit in lane.work_units}
    gang_shifts = [own for unit in units for own in problem.gang_shifts_of_unit[unit]]
    on_lane = {
        lane: [stop for stop in plan.by_lane[lane] if stop not in free]
        for lanes in (*gang_shifts, *(lane.gang_shift for lane in within))
        for lane in lanes
    }
    on_surface = {
        surface: [stop for stop in plan.by_surface[surface] if stop not in free]
        for surface in neighbourhood.surfaces
    }
    water = plan.water.without([(s.point, d) for s in freed if (d := plan.draw(s))])
    covers = plan.covers.copy()
    result = Subproblem(
        problem, neighbourhood, [], freed, on_lane, on_surface, water, covers
    )
    for surface in neighbourhood.surfaces:
        _add_items(
            result, plan, surface, [s for s in freed if _is_on(problem, s, surface)]
        )
    return result


def _is_on(problem: Problem, stop: Stop, surface: int) -> bool:
    return problem.jobs[stop.job].surface == surface


def _add_items(
    subproblem: Subproblem, plan: Plan, index: int, freed: Sequence[Stop]
) -> None:
    problem = subproblem.problem
    surface = problem.surfaces[index]
    planned = {stop.job for stop in plan.by_surface[index]}
    fixed = {stop.job for stop in subproblem.fixed_on_surface[index]}
    may_come = set(planned)
    stops: list[tuple[Job, Stop | None]] = []
    for number in surface.jobs:
        job = problem.jobs[number]
        if job.repeats:
            continue
        current = next((stop for stop in freed if stop.job == number), None)
        if current is not None:
            stops.append((job, current))
        elif number not in planned and all(f.job in may_come for f in job.after):
            stops.append((job, None))
            may_come.add(number)
    covered = surface.covered_from is not None or surface.cover_job in may_come
    if surface.rewet is not None and covered:
        rewet = problem.jobs[surface.rewet]
        mine = sorted(stop for stop in freed if stop.job == surface.rewet)
        stops += [(rewet, stop) for stop in mine]
        if plan.surface_costs[index].dry_cost > 0:
            stops.append((rewet, None))
    waits_for = {f.job for job in fixed for f in problem.jobs[job].after}
    if surface.rewet in fixed and surface.cover_job is not None:
        waits_for.add(surface.cover_job)
    kept: set[int] = set(fixed)
    free = {job.index for job, _ in stops}
    for job, current in stops:
        if current is None and _soaks_for_nobody(plan, job, free):
            continue
        comes_after = {f.job for f in job.after}
        cover = surface.cover_job if surface.covered_from is None else None
        if job.repeats and cover is not None:
            comes_after.add(cover)
        if current is None and not comes_after <= kept:
            continue
        spans = {
            lane: span
            for lane in subproblem.neighbourhood.lanes
            if job.allows(lane) and (span := _span(subproblem, job, lane)) is not None
        }
        if not spans:
            continue
        subproblem.items.append(
            Item(job, spans, current, mandatory=job.index in waits_for)
        )
        kept.add(job.index)


def _soaks_for_nobody(plan: Plan, job: Job, free: set[int]) -> bool:
    """Whether a job soaks covers ahead whose laying stands still or cannot come in."""
    index = plan.covers.soaking.get(job.index)
    return index is not None and plan.covers.needs[index].laid_by not in free


def _span(subproblem: Subproblem, job: Job, lane_index: int) -> Span | None:
    """First and last start of a job in a lane that the fixed stops leave."""
    problem, neighbourhood = subproblem.problem, subproblem.neighbourhood
    lane = problem.lanes[lane_index]
    low, high = problem.start_range(job, lane)
    low, high = (
        max(low, neighbourhood.start),
        min(high, neighbourhood.end - job.duration),
    )
    for stop in (
        s for index in lane.sharing_people for s in subproblem.fixed_on_lane[index]
    ):
        other = problem.jobs[stop.job]
        if stop.start < neighbourhood.start:
            low = max(low, stop.start + other.duration + problem.walk(other, job))
        elif stop.start + other.duration > neighbourhood.end:
            high = min(high, stop.start - problem.walk(job, other) - job.duration)
    for own in (
        own for unit in lane.work_units for own in problem.gang_shifts_of_unit[unit]
    ):
        stops, gang_shift = (
            merged_stops(subproblem.fixed_on_lane, own),
            problem.lanes[own[0]].gang_shift,
        )
        if stops and gang_shift < lane.gang_shift:
            last = stops[-1]
            ends = last.start + problem.jobs[last.job].duration
            low = max(low, ends + problem.rest_min)
        elif stops and gang_shift > lane.gang_shift:
            high = min(high, stops[0].start - problem.rest_min - job.duration)
    surface = problem.surfaces[job.surface]
    on = surface.covered_from
    for stop in subproblem.fixed_on_surface[job.surface]:
        other = problem.jobs[stop.job]
        end = stop.start + other.duration
        if job.is_beside(other):
            pass
        elif stop.start < neighbourhood.start:
            low = max(low, end)
        elif end > neighbourhood.end:
            high = min(high, stop.start - job.duration)
        for link in job.after:
            if link.job == stop.job:
                begun = stop.start if link.from_start else end
                low = max(low, begun + link.min_gap)
        for link in other.after:
            if link.job == job.index:
                lasts = 0 if link.from_start else job.duration
                high = min(high, stop.start - link.min_gap - lasts)
        if other.covers:
            on = end if on is None else min(on, end)
        if job.covers and other.repeats:
            high = min(high, stop.start - job.duration)
    if job.repeats and on is not None:
        low = max(low, on)
    return (low, high) if low <= high else None
