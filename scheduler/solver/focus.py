"""Where a roster hurts, and which window around it to plan anew.

Windows are drawn by cost: a few crews for some hours, a few surfaces of a zone with
every crew there is, a whole night with the afternoon before it.
"""

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from scheduler.solver.cost import dry_stretches, late_minutes
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job, Lane
from scheduler.solver.window import Window

_LOOK_BACK_MIN = 8 * 60
_MAX_STOPS = 36


@dataclass(frozen=True)
class Sore:
    """Something that costs: a job that could have helped, and when."""

    cost: float
    job: Job
    start: int
    end: int


def sores(plan: Plan) -> list[Sore]:
    """Everything in a roster that costs, in a fixed order."""
    problem, found = plan.problem, []
    for surface in problem.surfaces:
        stops = plan.by_surface[surface.index]
        if plan.surface_costs[surface.index].total <= 0:
            continue
        done = {stop.job: stop.start for stop in stops}
        for dry in dry_stretches(problem, surface, stops):
            number = surface.rewet if dry.covered else surface.cover_job
            if number is None:
                number = next((j for j in surface.jobs if problem.jobs[j].guards), None)
            if number is not None and dry.cost > 0:
                start = dry.start - _LOOK_BACK_MIN // 2
                found.append(Sore(dry.cost, problem.jobs[number], start, dry.end))
        for job, late in late_minutes(problem, stops):
            if late * job.late_cost > 0:
                begun = [done[i] for i in (job.index, *(f.job for f in job.after))]
                start, end = min(begun) - _LOOK_BACK_MIN // 2, max(begun) + 60
                found.append(Sore(late * job.late_cost, job, start, end))
        for number in surface.jobs:
            job = problem.jobs[number]
            if number not in done and job.missed_cost > 0:
                end = min(job.latest, max(job.due, job.earliest) + _LOOK_BACK_MIN)
                found.append(Sore(job.missed_cost, job, job.earliest, end))
    for lane, cost in zip(problem.lanes, plan.lane_costs, strict=True):
        extra = cost.total - cost.travel_min * problem.travel_cost
        if extra > 0 and plan.by_lane[lane.index]:
            stops = plan.by_lane[lane.index]
            job = problem.jobs[stops[-1].job]
            found.append(Sore(extra / 2, job, lane.starts, lane.closes))
    return found


Maker = Callable[["Picker", Sore, Lane, int], Window]


@dataclass(frozen=True)
class Kind:
    """One way to draw a window, with the work it may take."""

    name: str
    make: Maker
    work: float


class Picker:
    """Draws windows around the sores of a roster.

    ``scale`` stretches them, once small ones gain no more.
    """

    def __init__(self, plan: Plan, rng: Random, scale: float = 1.0) -> None:
        self.plan, self.rng, self.scale = plan, rng, scale
        self.problem = plan.problem

    def pick(
        self, kind: Kind, found: list[Sore], weights: list[float], busy: set[int]
    ) -> Window | None:
        """Draw a window that keeps off busy lanes; None if none comes up."""
        for _ in range(6):
            sore = self.rng.choices(found, weights)[0]
            lanes = [
                lane
                for lane in (self.problem.lanes[i] for i in sore.job.lanes)
                if lane.index not in busy
                and lane.closes > sore.start - _LOOK_BACK_MIN // 2
                and lane.starts < sore.end
            ]
            if not lanes:
                continue
            lane = self.rng.choice(lanes)
            low = max(lane.starts, sore.start)
            high = max(low, min(lane.closes, sore.end))
            window = kind.make(self, sore, lane, self.rng.randint(low, high))
            free = tuple(i for i in window.lanes if i not in busy)
            return Window(free, window.surfaces, window.start, window.end, window.slot)
        return None

    def lanes_within(self, start: int, end: int) -> list[int]:
        """Lanes that are at work in a stretch."""
        return [
            lane.index
            for lane in self.problem.lanes
            if lane.starts < end and lane.closes > start
        ]

    def surfaces_served(self, lanes: list[int], start: int, end: int) -> list[int]:
        """Surfaces with a stop of some lanes in a stretch, in the order of stops."""
        jobs, seen = self.problem.jobs, dict[int, None]()
        stops = sorted(
            stop
            for lane in lanes
            for stop in self.plan.by_lane[lane]
            if start <= stop.start and self.plan.end(stop) <= end
        )
        for stop in stops:
            seen.setdefault(jobs[stop.job].surface)
        return list(seen)

    def sore_surfaces(self, start: int, end: int) -> list[tuple[float, int]]:
        """Surfaces by what they cost in a stretch, dearest first."""
        found = []
        for surface in self.problem.surfaces:
            index = surface.index
            cost = self.plan.surface_costs[index]
            if cost.total <= 0:
                continue
            own = cost.late + cost.missed
            for dry in dry_stretches(
                self.problem, surface, self.plan.by_surface[index]
            ):
                if dry.start < end and dry.end > start:
                    own += dry.cost
            if own > 0:
                found.append((-own, index))
        return sorted(found)


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


#: From the smallest to the largest.
KINDS = (
    Kind("one crew, hours", _crews(4, 1, 10, 3), 0.08),
    Kind("two crews, hours", _crews(4, 2, 10, 4), 0.15),
    Kind("zone", _zone(7, 4, 10), 0.15),
    Kind("crew, half a day", _crews(7, 1, 15, 4), 0.2),
    Kind("three crews", _crews(4, 3, 15, 5), 0.25),
    Kind("night", _night(9, 15), 0.25),
    Kind("day and night", _chain(28, 15), 0.2),
)
