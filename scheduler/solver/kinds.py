"""The ways to draw a window around a sore, from small to large.

A few crews for some hours; a handful of surfaces of a zone with every crew there is;
a whole night with the afternoon before it; a surface over a day and a night; all the
work of a surface that hangs together.
"""

from collections.abc import Callable
from dataclasses import dataclass

from scheduler.solver.focus import Picker, Sore
from scheduler.solver.lanes import Lane
from scheduler.solver.prepare import Job
from scheduler.solver.window import Window

_MAX_STOPS = 36
_MAX_LANES = 14
_LINKED_MIN = 720
_MOST_RIVALS = 3
_WHOLE_STOPS = 24
_TO_THE_MINUTE = 8  # so few stops and surfaces are planned exactly
_SHORTEST_MIN, _LONGEST_MIN = 360, 36 * 60

Maker = Callable[[Picker, Sore, Lane, int], Window]


@dataclass(frozen=True)
class Kind:
    """One way to draw a window, with the work it may take."""

    name: str
    make: Maker
    work: float


def _clip(picker: Picker, start: int, end: int) -> tuple[int, int]:
    return max(0, start), min(end, picker.problem.horizon + 240)


def _crews(hours: float, crews: int, slot: int, guests: int) -> Maker:
    """Take a few crews for some hours, with all the surfaces they serve then."""

    def make(picker: Picker, sore: Sore, lane: Lane, minute: int) -> Window:
        rng = picker.rng
        half = int(hours * 30 * picker.scale)
        start, end = _clip(picker, minute - half, minute + half)
        others = [i for i in picker.lanes_within(start, end) if i != lane.index]
        lanes = [lane.index, *rng.sample(others, min(len(others), crews - 1))]
        surfaces = picker.surfaces_served(lanes, start, end)
        while len(surfaces) > _MAX_STOPS * picker.scale and end - start > 120:
            end -= 30
            surfaces = picker.surfaces_served(lanes, start, end)
        sore_ones = [i for _, i in picker.sore_surfaces(start, end + 480)][: 2 * guests]
        coming = [sore.job.surface, *rng.sample(sore_ones, min(guests, len(sore_ones)))]
        chosen = dict.fromkeys([*surfaces, *coming])
        return Window(tuple(sorted(lanes)), tuple(sorted(chosen)), start, end, slot)

    return make


def _zone(hours: float, count: int, slot: int) -> Maker:
    """Take a handful of surfaces with every crew there is."""

    def make(picker: Picker, sore: Sore, lane: Lane, minute: int) -> Window:
        problem, rng = picker.problem, picker.rng
        half = int(hours * 30 * picker.scale)
        start, end = _clip(picker, minute - half, minute + half)
        own = sore.job.zone
        near = sorted(
            (problem.travel[own][surface.zone] + rng.randint(0, 4), surface.index)
            for surface in problem.surfaces
            if surface.minutes.counted_until > start
        )
        chosen = {sore.job.surface, *(i for _, i in near[:count])}
        dear = [i for _, i in picker.sore_surfaces(start, end)[:count]]
        chosen |= set(rng.sample(dear, min(2, len(dear))))
        lanes = picker.lanes_within(start, end)
        if len(lanes) > 8:
            lanes = rng.sample(lanes, 8)
        lanes = sorted({*lanes, lane.index})
        return Window(tuple(lanes), tuple(sorted(chosen)), start, end, slot)

    return make


def _night(count: int, slot: int) -> Maker:
    """Take a night and the afternoon before: top-ups at dusk against a call-out."""

    def make(picker: Picker, sore: Sore, lane: Lane, minute: int) -> Window:
        rng = picker.rng
        half = int(480 * picker.scale)
        start, end = _clip(picker, minute - half, minute + half)
        many = int(count * picker.scale)
        dear = [i for _, i in picker.sore_surfaces(start, end)]
        dear = [i for i in dear if i != sore.job.surface]
        lanes = picker.lanes_within(start, end)
        calls = [i for i in lanes if picker.problem.lanes[i].call_out_cost]
        called = picker.surfaces_served(calls, start, end)[: many // 2]
        chosen = [sore.job.surface, *called, *dear[: many // 2]]
        rest = dear[many // 2 :]
        chosen += rng.sample(rest, min(len(rest), many // 3))
        if len(chosen) < many:
            others = [s.index for s in picker.problem.surfaces if s.index not in chosen]
            chosen += rng.sample(others, min(len(others), many - len(chosen)))
        shifts = [i for i in lanes if not picker.problem.lanes[i].call_out_cost]
        lanes = rng.sample(shifts, min(4, len(shifts))) + calls[:2] + [lane.index]
        return Window(
            tuple(sorted(set(lanes))), tuple(sorted(set(chosen))), start, end, slot
        )

    return make


def _chain(hours: float, slot: int) -> Maker:
    """One or two surfaces over a day and a night: work that hangs together."""

    def make(picker: Picker, sore: Sore, lane: Lane, minute: int) -> Window:
        rng = picker.rng
        half = int(hours * 30 * picker.scale)
        start, end = _clip(picker, minute - half, minute + half)
        dear = [i for _, i in picker.sore_surfaces(start, end)[:6]]
        chosen = {
            sore.job.surface,
            *rng.sample(dear, min(int(picker.scale), len(dear))),
        }
        lanes = picker.lanes_within(start, end)
        if len(lanes) > 14:
            lanes = rng.sample(lanes, 14)
        lanes = sorted({*lanes, lane.index})
        return Window(tuple(lanes), tuple(sorted(chosen)), start, end, slot)

    return make


def linked_work(picker: Picker, sore: Sore, slot: int, guests: int) -> Window:
    """All the work of a surface that hangs together, with every crew that could do it.

    Fog, covers and what waits for one another must often move at the same time: one
    coat too late keeps the next one late, whoever moves alone.
    """
    problem, plan = picker.problem, picker.plan
    surface = problem.surfaces[sore.job.surface]
    once = [problem.jobs[j] for j in surface.jobs if j != surface.rewet]
    mine = [j for j in once if j.matters or j.after or j.before or j == sore.job]
    today = {stop.job: stop.start for stop in plan.by_surface[surface.index]}
    spans = []
    for job in mine:
        start = today.get(job.index, max(job.earliest, 0))
        soonest = min(start, max(job.earliest, start - _LINKED_MIN))
        spans.append((soonest, max(start, min(job.latest, job.due)) + job.duration))
    low, high = sore.start - _LINKED_MIN, sore.end + _LINKED_MIN
    near = [(a, b) for a, b in spans if a < high and b > low] or [(low, high)]
    ahead, rivals = _waits_for_covers(picker, mine, near)
    low, near = low - ahead, [(a - ahead, b) for a, b in near]
    start, end = _clip(
        picker,
        max(low, min(a for a, _ in near)),
        min(high, max(b for _, b in near) + 60),
    )
    able = sorted({lane for job in mine for lane in job.lanes} | set(sore.job.lanes))
    lanes = [i for i in picker.lanes_within(start, end) if i in able]
    doing = {stop.lane for stop in plan.by_surface[surface.index]}
    lanes.sort(key=lambda i: (i not in doing, _home_walk(picker, i, surface.zone), i))
    lanes = sorted(lanes[:_MAX_LANES])
    others = picker.surfaces_served(lanes, start, end)
    others = [i for i in others if i != surface.index]
    chosen = {surface.index, *picker.rng.sample(others, min(guests, len(others)))}
    return Window(tuple(lanes), tuple(sorted(chosen | rivals)), start, end, slot)


def _waits_for_covers(
    picker: Picker, jobs: list[Job], near: list[tuple[int, int]]
) -> tuple[int, set[int]]:
    """Say who has covers that some jobs wait for, and how long they are not free.

    They must come off so long before that they are washed and soaked again in time.
    """
    book, ahead, surfaces = picker.plan.covers, 0, set[int]()
    for job in jobs:
        if job.index not in book.laying:
            continue
        need = book.needs[book.laying[job.index]]
        first, last = max(0, job.earliest - need.lead), max(b for _, b in near)
        if book.free_from(need, until=last, from_min=first) > first:
            ahead = max(ahead, need.lead + need.turnaround)
            holders = book.holders(need, first, last)[:_MOST_RIVALS]
            surfaces.update(holder.surface for holder in holders)
    return ahead, surfaces


def _home_walk(picker: Picker, lane: int, zone: int) -> int:
    return picker.problem.travel[picker.problem.lanes[lane].home][zone]


def whole_site(picker: Picker, middle: int, slot: int) -> Window:
    """Every surface with every crew, for as long as the window holds few stops."""
    half = _SHORTEST_MIN // 2
    most = int(_WHOLE_STOPS * picker.scale)
    while half < _LONGEST_MIN // 2:
        wider = half + 60
        if picker.stops_within(middle - wider, middle + wider) > most:
            break
        half = wider
    start, end = _clip(picker, middle - half, middle + half)
    surfaces = tuple(surface.index for surface in picker.problem.surfaces)
    if picker.stops_within(start, end) > 2 * most or len(surfaces) > _MAX_STOPS:
        surfaces = ()
    lanes = tuple(picker.lanes_within(start, end)) if surfaces else ()
    if picker.stops_within(start, end) + len(surfaces) <= _TO_THE_MINUTE:
        slot = 1
    return Window(lanes, surfaces, start, end, slot)


def _whole(slot: int) -> Maker:
    """Draw the middle of a window with everything in it."""

    def make(picker: Picker, sore: Sore, lane: Lane, minute: int) -> Window:
        del sore, lane
        return whole_site(picker, minute, slot)

    return make


#: From the smallest to the largest.
KINDS = (
    Kind("one crew, hours", _crews(4, 1, 10, 3), 0.08),
    Kind("two crews, hours", _crews(4, 2, 10, 4), 0.15),
    Kind("zone", _zone(7, 4, 10), 0.15),
    Kind("crew, half a day", _crews(7, 1, 15, 4), 0.2),
    Kind("three crews", _crews(4, 3, 15, 5), 0.25),
    Kind("night", _night(9, 15), 0.25),
    Kind("day and night", _chain(28, 15), 0.2),
    Kind("whole site", _whole(15), 0.4),
)
