"""The ways to draw a neighbourhood around a cost driver, from small to large.

A few crews for some hours; a handful of surfaces of a zone with every crew there is;
a whole night with the afternoon before it; a surface over a day and a night.
"""

from collections.abc import Callable
from dataclasses import dataclass

from scheduler.solver.plan.cost_drivers import CostDriver
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.search.picker import Picker
from scheduler.solver.subproblem.neighbourhood import Neighbourhood

_MAX_STOPS = 36

Maker = Callable[[Picker, CostDriver, Lane, int], Neighbourhood]


@dataclass(frozen=True)
class Operator:
    """One way to draw a neighbourhood, and the work that it is known to take."""

    name: str
    make: Maker
    work: float


def _crews(hours: float, crews: int, slot: int, guests: int) -> Maker:
    """Take a few crews for some hours, with all the surfaces they serve then."""

    def make(
        picker: Picker, driver: CostDriver, lane: Lane, minute: int
    ) -> Neighbourhood:
        rng = picker.rng
        half = int(hours * 30 * picker.scale)
        start, end = picker.clipped(minute - half, minute + half)
        others = [i for i in picker.lanes_within(start, end) if i != lane.index]
        lanes = [lane.index, *rng.sample(others, min(len(others), crews - 1))]
        surfaces = picker.surfaces_served(lanes, start, end)
        while len(surfaces) > _MAX_STOPS * picker.scale and end - start > 120:
            end -= 30
            surfaces = picker.surfaces_served(lanes, start, end)
        costly = [i for _, i in picker.costly_surfaces(start, end + 480)][: 2 * guests]
        coming = [
            driver.job.surface,
            *rng.sample(costly, min(guests, len(costly))),
        ]
        chosen = dict.fromkeys([*surfaces, *coming])
        return Neighbourhood(
            tuple(sorted(lanes)), tuple(sorted(chosen)), start, end, slot
        )

    return make


def _zone(hours: float, count: int, slot: int) -> Maker:
    """Take a handful of surfaces with every crew there is."""

    def make(
        picker: Picker, driver: CostDriver, lane: Lane, minute: int
    ) -> Neighbourhood:
        problem, rng = picker.problem, picker.rng
        half = int(hours * 30 * picker.scale)
        start, end = picker.clipped(minute - half, minute + half)
        own = driver.job.zone
        near = sorted(
            (problem.travel[own][surface.zone] + rng.randint(0, 4), surface.index)
            for surface in problem.surfaces
            if surface.minutes.counted_until > start
        )
        chosen = {driver.job.surface, *(i for _, i in near[:count])}
        dear = [i for _, i in picker.costly_surfaces(start, end)[:count]]
        chosen |= set(rng.sample(dear, min(2, len(dear))))
        lanes = picker.lanes_within(start, end)
        if len(lanes) > 8:
            lanes = rng.sample(lanes, 8)
        lanes = sorted({*lanes, lane.index})
        return Neighbourhood(tuple(lanes), tuple(sorted(chosen)), start, end, slot)

    return make


def _night(count: int, slot: int) -> Maker:
    """Take a night and the afternoon before: top-ups at dusk against a call-out."""

    def make(
        picker: Picker, driver: CostDriver, lane: Lane, minute: int
    ) -> Neighbourhood:
        rng = picker.rng
        half = int(480 * picker.scale)
        start, end = picker.clipped(minute - half, minute + half)
        many = int(count * picker.scale)
        dear = [i for _, i in picker.costly_surfaces(start, end)]
        dear = [i for i in dear if i != driver.job.surface]
        lanes = picker.lanes_within(start, end)
        calls = [i for i in lanes if picker.problem.lanes[i].call_out_cost]
        called = picker.surfaces_served(calls, start, end)[: many // 2]
        chosen = [driver.job.surface, *called, *dear[: many // 2]]
        rest = dear[many // 2 :]
        chosen += rng.sample(rest, min(len(rest), many // 3))
        if len(chosen) < many:
            others = [s.index for s in picker.problem.surfaces if s.index not in chosen]
            chosen += rng.sample(others, min(len(others), many - len(chosen)))
        shifts = [i for i in lanes if not picker.problem.lanes[i].call_out_cost]
        lanes = rng.sample(shifts, min(4, len(shifts))) + calls[:2] + [lane.index]
        return Neighbourhood(
            tuple(sorted(set(lanes))), tuple(sorted(set(chosen))), start, end, slot
        )

    return make


def _chain(hours: float, slot: int) -> Maker:
    """One or two surfaces over a day and a night: work that hangs together."""

    def make(
        picker: Picker, driver: CostDriver, lane: Lane, minute: int
    ) -> Neighbourhood:
        rng = picker.rng
        half = int(hours * 30 * picker.scale)
        start, end = picker.clipped(minute - half, minute + half)
        dear = [i for _, i in picker.costly_surfaces(start, end)[:6]]
        chosen = {
            driver.job.surface,
            *rng.sample(dear, min(int(picker.scale), len(dear))),
        }
        lanes = picker.lanes_within(start, end)
        if len(lanes) > 14:
            lanes = rng.sample(lanes, 14)
        lanes = sorted({*lanes, lane.index})
        return Neighbourhood(tuple(lanes), tuple(sorted(chosen)), start, end, slot)

    return make


#: From the smallest to the largest.
OPERATORS = (
    Operator("one crew, hours", _crews(4, 1, 10, 3), 0.08),
    Operator("two crews, hours", _crews(4, 2, 10, 4), 0.15),
    Operator("zone", _zone(7, 4, 10), 0.15),
    Operator("crew, half a day", _crews(7, 1, 15, 4), 0.2),
    Operator("three crews", _crews(4, 3, 15, 5), 0.25),
    Operator("night", _night(9, 15), 0.25),
    Operator("day and night", _chain(28, 15), 0.2),
)
