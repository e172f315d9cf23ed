"""The ways to draw a neighbourhood at random around a cost driver.

A few crews for some hours; a handful of surfaces of a zone with every crew there is; a
whole night with the afternoon before it; a surface over a day and a night. How large
each is stands in the settings; plain ints of time are minutes from the start of the
horizon.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

from scheduler.solver.plan.cost_drivers import CostDriver
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job
from scheduler.solver.search.picker import Picker
from scheduler.solver.settings.neighbourhoods import OperatorSettings
from scheduler.solver.subproblem.neighbourhood import Neighbourhood


class Chosen(NamedTuple):
    """What a neighbourhood is made of."""

    lanes: set[int]
    surfaces: set[int]
    start: int
    end: int


@dataclass(frozen=True)
class Spot:
    """Where one is drawn: about a job that costs and a lane that could help it."""

    picker: Picker
    operator: OperatorSettings
    job: Job
    lane: int
    start: int
    end: int

    def some(self, of: list[int], most: int) -> list[int]:
        """Draw a few, or all there are."""
        return self.picker.rng.sample(of, min(most, len(of)))


def draw(
    picker: Picker,
    operator: OperatorSettings,
    driver: CostDriver,
    lane: Lane,
    minute: int,
) -> Neighbourhood:
    """Draw a neighbourhood around a minute of a shift, to help with a cost driver."""
    half = int(operator.hours_h * 30 * picker.scale)
    stretch = picker.clipped(minute - half, minute + half)
    spot = Spot(picker, operator, driver.job, lane.index, *stretch)
    chosen = _SHAPES[operator.shape](spot)
    return Neighbourhood(
        lanes=tuple(sorted(chosen.lanes)),
        surfaces=tuple(sorted(chosen.surfaces)),
        start=chosen.start,
        end=chosen.end,
        slot_min=operator.slot_min,
    )


def _crews(spot: Spot) -> Chosen:
    """Take a few crews with all the surfaces they serve then."""
    picker, operator, start, end = spot.picker, spot.operator, spot.start, spot.end
    settings = picker.settings.random
    others = [i for i in picker.lanes_within(start, end) if i != spot.lane]
    lanes = [spot.lane, *spot.some(others, operator.size - 1)]
    surfaces = picker.surfaces_served(lanes, start, end)
    most = settings.most_surfaces * picker.scale
    while len(surfaces) > most and end - start > settings.least_min:
        end -= 30
        surfaces = picker.surfaces_served(lanes, start, end)
    costly = picker.costly_surfaces(start, end + settings.guests_until_min)
    guests = spot.some(costly[: 2 * operator.guests], operator.guests)
    return Chosen(set(lanes), {*surfaces, spot.job.surface, *guests}, start, end)


def _zone(spot: Spot) -> Chosen:
    """Take a handful of surfaces near one another with every crew there is."""
    picker, operator, start, end = spot.picker, spot.operator, spot.start, spot.end
    problem, settings = picker.problem, picker.settings.random
    walks, jitter_min = problem.travel[spot.job.zone], settings.zone_jitter_min
    near = sorted(
        (walks[surface.zone] + picker.rng.randint(0, jitter_min), surface.index)
        for surface in problem.surfaces
        if surface.minutes.counted_until > start
    )
    chosen = {spot.job.surface, *(i for _, i in near[: operator.size])}
    costly = picker.costly_surfaces(start, end)[: operator.size]
    chosen |= set(spot.some(costly, operator.guests))
    return Chosen(_lanes(spot, settings.zone_lanes), chosen, start, end)


def _night(spot: Spot) -> Chosen:
    """Take a night and the afternoon before: top-ups at dusk against a call-out."""
    picker, start, end = spot.picker, spot.start, spot.end
    problem, settings = picker.problem, picker.settings.random
    many = int(spot.operator.size * picker.scale)
    costly = picker.costly_surfaces(start, end)
    costly = [i for i in costly if i != spot.job.surface]
    lanes = picker.lanes_within(start, end)
    calls = [i for i in lanes if problem.lanes[i].call_out_cost]
    called = picker.surfaces_served(calls, start, end)[: many // 2]
    chosen = [spot.job.surface, *called, *costly[: many // 2]]
    chosen += spot.some(costly[many // 2 :], many // 3)
    if len(chosen) < many:
        others = [s.index for s in problem.surfaces if s.index not in chosen]
        chosen += spot.some(others, many - len(chosen))
    shifts = [i for i in lanes if not problem.lanes[i].call_out_cost]
    at_work = spot.some(shifts, settings.night_shifts)
    at_work += calls[: settings.night_calls]
    return Chosen({*at_work, spot.lane}, set(chosen), start, end)


def _chain(spot: Spot) -> Chosen:
    """Take one or two surfaces: work that hangs together."""
    picker, start, end = spot.picker, spot.start, spot.end
    settings = picker.settings.random
    costly = picker.costly_surfaces(start, end)[: settings.chain_guests_of]
    guests = spot.some(costly, int(spot.operator.guests * picker.scale))
    lanes = _lanes(spot, settings.chain_lanes)
    return Chosen(lanes, {spot.job.surface, *guests}, start, end)


def _lanes(spot: Spot, most: int) -> set[int]:
    """Take the lanes at work then, at random where there are more; its own always."""
    lanes = spot.picker.lanes_within(spot.start, spot.end)
    if len(lanes) > most:
        lanes = spot.some(lanes, most)
    return {*lanes, spot.lane}


_SHAPES: dict[str, Callable[[Spot], Chosen]] = {
    "crews": _crews,
    "zone": _zone,
    "night": _night,
    "chain": _chain,
}
