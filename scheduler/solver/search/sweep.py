"""Neighbourhoods in a fixed order: what must move together, then the site by the hour.

Neighbourhoods drawn at random find what is plain. These ask of every call-out whether
the shifts around it could do without it, take each surface's linked work, then every
stretch of the horizon with as many gangs as make a neighbourhood that can be proven.
Plain ints of time are minutes from the start of the horizon.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from random import Random
from typing import NamedTuple

from scheduler.solver.plan.cost_drivers import CostDriver, cost_drivers, costly_duties
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job, Problem
from scheduler.solver.search.picker import Picker
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import Span


class SweepItem(NamedTuple):
    """A neighbourhood of a sweep and the work that it may take."""

    neighbourhood: Neighbourhood
    most_work: float


def sweep(plan: Plan, rng: Random, number: int) -> Iterator[SweepItem]:
    """Go through the roster once, first what hangs together.

    Each neighbourhood is made when its time comes, as the roster is then.

    Parameters
    ----------
    number : int
        Of the sweep: the first, 0, takes linked work only; later ones are wider.
    """
    settings = plan.problem.settings.sweep
    scale = settings.first_scale + settings.scale_step * number
    picker = Picker(plan, rng, min(settings.widest_scale, scale))
    times = max(1, number)
    if number:
        for neighbourhood in _call_outs(picker):
            yield SweepItem(neighbourhood, settings.call_out_work * times)
    for neighbourhood in _linked(picker, number):
        yield SweepItem(neighbourhood, settings.work * times)
    if number:
        for neighbourhood in _stretches(picker):
            yield SweepItem(neighbourhood, settings.work * times)


def _call_outs(picker: Picker) -> Iterator[Neighbourhood]:
    plan = picker.plan
    for lane in plan.problem.lanes:
        if lane.shift.kind == "on_call" and plan.by_lane[lane.index]:
            yield call_out(picker, lane)


def call_out(picker: Picker, lane: Lane) -> Neighbourhood:
    """Take a call-out in use with the shifts around it, to try without it.

    All that it serves must go elsewhere at once, later at dusk or sooner at dawn, and
    what stands there now must make room.
    """
    settings = picker.settings.sweep
    start, end = picker.clipped(
        lane.starts - int(settings.dusk_min * picker.scale),
        lane.closes + int(settings.dawn_min * picker.scale),
    )
    served = picker.surfaces_served([lane.index], lane.starts, lane.closes)
    zones = {picker.problem.surfaces[i].zone for i in served}
    near = sorted(
        (min((_walk_from_home(picker, i, zone) for zone in zones), default=0), i)
        for i in picker.lanes_within(start, end)
        if i != lane.index
    )
    lanes = [lane.index, *(i for _, i in near[: settings.relief_shifts])]
    left = int(settings.call_out_stops * picker.scale)
    chosen = set(served)
    for surface, stops in picker.stops_by_surface(lanes, start, end).items():
        if surface in served or stops <= left:
            left -= stops
            chosen.add(surface)
    return Neighbourhood(
        lanes=tuple(sorted(lanes)),
        surfaces=tuple(sorted(chosen)),
        start=start,
        end=end,
        slot_min=settings.call_out_slot_min,
    )


def _linked(picker: Picker, guests: int) -> Iterator[Neighbourhood]:
    """Take each surface's linked work, dearest first."""
    seen = set[Neighbourhood]()
    most = picker.settings.sweep.linked_most
    for driver in costly_duties(picker.plan)[:most]:
        neighbourhood = linked_work(picker, driver, guests)
        if neighbourhood not in seen:
            seen.add(neighbourhood)
            yield neighbourhood


def linked_work(picker: Picker, driver: CostDriver, guests: int) -> Neighbourhood:
    """Take a surface's work that hangs together, with every crew that could do it.

    Fog, covers and what waits for one another must often move at the same time: one
    coat too late keeps the next one late, whoever moves alone.
    """
    problem, plan, settings = picker.problem, picker.plan, picker.settings.sweep
    margin = settings.linked_margin_min
    surface = problem.surfaces[driver.job.surface]
    once = [problem.jobs[j] for j in surface.jobs if j != surface.rewet]
    mine = [
        j
        for j in once
        if j.affects_dryness or j.before or j == driver.job or _is_tied(problem, j)
    ]
    current = {stop.job: stop.start for stop in plan.by_surface[surface.index]}
    spans = []
    for job in mine:
        start = current.get(job.index, job.opens)
        soonest = min(start, max(job.opens, start - margin))
        spans.append((soonest, max(start, min(job.latest, job.due)) + job.duration))
    low, high = driver.start - margin, driver.end + margin
    near = [(a, b) for a, b in spans if a < high and b > low] or [(low, high)]
    ahead, rivals = _waits_for_covers(picker, mine, near)
    low, near = low - ahead, [(a - ahead, b) for a, b in near]
    first, last = min(a for a, _ in near), max(b for _, b in near)
    start, end = picker.clipped(
        max(low, first), min(high, last + settings.linked_tail_min)
    )
    able = sorted({lane for job in mine for lane in job.lanes} | set(driver.job.lanes))
    lanes = [i for i in picker.lanes_within(start, end) if i in able]
    doing = {stop.lane for stop in plan.by_surface[surface.index]}
    zone = surface.zone
    lanes.sort(key=lambda i: (i not in doing, _walk_from_home(picker, i, zone), i))
    lanes = sorted(lanes[: settings.linked_lanes])
    others = picker.surfaces_served(lanes, start, end)
    others = [i for i in others if i != surface.index]
    chosen = {surface.index, *picker.rng.sample(others, min(guests, len(others)))}
    return Neighbourhood(
        lanes=tuple(lanes),
        surfaces=tuple(sorted(chosen | rivals)),
        start=start,
        end=end,
        slot_min=settings.linked_slot_min,
    )


def _is_tied(problem: Problem, job: Job) -> bool:
    """Whether a job must move with what it follows: more than come after a cover."""
    return any(
        link.min_gap
        or link.max_gap is not None
        or not problem.jobs[link.job].affects_dryness
        for link in job.after
    )


def _waits_for_covers(
    picker: Picker, jobs: list[Job], near: list[tuple[int, int]]
) -> tuple[int, set[int]]:
    """Say who has covers that some jobs wait for, and how long they are not free.

    They must come off so long before that they are washed and soaked again in time.
    """
    book, ahead, surfaces = picker.plan.covers, 0, set[int]()
    most = picker.settings.sweep.linked_rivals
    for job in jobs:
        if job.index not in book.laying:
            continue
        need = book.needs[book.laying[job.index]]
        first, last = max(0, job.opens - need.lead), max(b for _, b in near)
        if book.free_from(need, until=last, from_min=first) > first:
            ahead = max(ahead, need.lead + need.turnaround)
            holders = book.holders(need, first, last)[:most]
            surfaces.update(holder.surface for holder in holders)
    return ahead, surfaces


def _walk_from_home(picker: Picker, lane: int, zone: int) -> int:
    return picker.problem.travel[picker.problem.lanes[lane].home][zone]


def _stretches(picker: Picker) -> Iterator[Neighbourhood]:
    """Cut the horizon into stretches, then once more across the cuts; dearest first."""
    settings = picker.settings.sweep
    spans, middle = list[Span](), picker.rng.randrange(settings.first_cut_min)
    everybody = range(len(picker.problem.lanes))
    while middle < picker.problem.horizon:
        spans.append(_while_few(picker, everybody, middle))
        start, end = spans[-1]
        middle += max(settings.shortest_min // 3, (end - start) // 4)
    found = cost_drivers(picker.plan)

    def cost_within(span: Span) -> float:
        return sum(s.cost for s in found if s.start < span[1] and s.end > span[0])

    for cut in (spans[::2], spans[1::2]):
        for start, end in sorted(cut, key=lambda span: (-cost_within(span), span)):
            middle = (start + end) // 2
            for lanes in gangs_together(picker, middle):
                yield stretch(picker, lanes, middle)


def gangs_together(picker: Picker, middle: int) -> list[list[int]]:
    """Part the gangs into groups with few stops around a minute: the lanes of each.

    On a small site that is one group; on a large one it is gangs that start out near
    each other, counted from another zone each time.
    """
    lanes, travel = picker.problem.lanes, picker.problem.travel
    by_crew: dict[str, list[int]] = defaultdict(list)
    for lane in lanes:
        by_crew[lane.shift.crew_id].append(lane.index)
    walk = travel[picker.rng.randrange(len(travel))]
    groups, left = list[list[int]](), 0
    settings = picker.settings.sweep
    half = settings.shortest_min // 2
    for own in sorted(
        by_crew.values(), key=lambda own: (walk[lanes[own[0]].home], own)
    ):
        stops = picker.stops_within(own, middle - half, middle + half)
        if not groups or stops > left:
            groups.append([])
            left = int(settings.stretch_stops * max(1.0, picker.scale))
        groups[-1] += own
        left -= stops
    return groups


def stretch(picker: Picker, gangs: Sequence[int], middle: int) -> Neighbourhood:
    """Take some gangs with all that they serve or could, as long as stops are few."""
    settings = picker.settings.sweep
    start, end = picker.clipped(*_while_few(picker, gangs, middle))
    lanes = sorted(set(picker.lanes_within(start, end)).intersection(gangs))
    stops = picker.stops_by_surface(lanes, start, end)
    costly = picker.costly_surfaces(start, end)
    chosen = list(dict.fromkeys([*stops, *costly]))[: settings.stretch_surfaces]
    exact = sum(stops.values()) + len(chosen) <= settings.exact_size
    return Neighbourhood(
        lanes=tuple(lanes),
        surfaces=tuple(sorted(chosen)),
        start=start,
        end=end,
        slot_min=1 if exact else settings.stretch_slot_min,
    )


def _while_few(picker: Picker, lanes: Sequence[int], middle: int) -> tuple[int, int]:
    """Widen a stretch around a minute as long as some lanes have few stops in it."""
    settings = picker.settings.sweep
    half, most = settings.shortest_min // 2, int(settings.stretch_stops * picker.scale)
    while half < settings.longest_min // 2:
        wider = half + settings.widen_min
        if picker.stops_within(lanes, middle - wider, middle + wider) > most:
            break
        half = wider
    return middle - half, middle + half
