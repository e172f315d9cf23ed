"""The ways to draw a neighbourhood at random around a cost driver.

A few crews for some hours; a handful of surfaces of a zone with every crew there is; a
whole night with the afternoon before it; a surface over a day and a night. How large
each is stands in the settings; plain ints of time are minutes from the start of the
horizon.
"""

from collections.abc import Callable

from scheduler.solver.plan.cost_drivers import CostDriver
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.search.picker import Picker
from scheduler.solver.settings.neighbourhoods import OperatorSettings
from scheduler.solver.subproblem.neighbourhood import Neighbourhood

Chosen = tuple[set[int], set[int], int, int]
"""Lanes, surfaces, start and end."""
Shape = Callable[[Picker, OperatorSettings, CostDriver, Lane, int, int], Chosen]


def draw(
    picker: Picker,
    operator: OperatorSettings,
    driver: CostDriver,
    lane: Lane,
    minute: int,
) -> Neighbourhood:
    """Draw a neighbourhood around a minute of a shift, to help with a cost driver."""
    half = int(operator.hours_h * 30 * picker.scale)
    start, end = picker.clipped(minute - half, minute + half)
    shape = _SHAPES[operator.shape]
    lanes, surfaces, start, end = shape(picker, operator, driver, lane, start, end)
    return Neighbourhood(
        lanes=tuple(sorted(lanes)),
        surfaces=tuple(sorted(surfaces)),
        start=start,
        end=end,
        slot_min=operator.slot_min,
    )


def _crews(
    picker: Picker,
    operator: OperatorSettings,
    driver: CostDriver,
    lane: Lane,
    start: int,
    end: int,
) -> Chosen:
    """Take a few crews with all the surfaces they serve then."""
    rng, settings = picker.rng, picker.settings.random
    others = [i for i in picker.lanes_within(start, end) if i != lane.index]
    lanes = [lane.index, *rng.sample(others, min(len(others), operator.size - 1))]
    surfaces = picker.surfaces_served(lanes, start, end)
    most = settings.most_surfaces * picker.scale
    while len(surfaces) > most and end - start > settings.least_min:
        end -= 30
        surfaces = picker.surfaces_served(lanes, start, end)
    costly = picker.costly_surfaces(start, end + settings.guests_until_min)
    costly = costly[: 2 * operator.guests]
    guests = rng.sample(costly, min(operator.guests, len(costly)))
    return set(lanes), {*surfaces, driver.job.surface, *guests}, start, end


def _zone(
    picker: Picker,
    operator: OperatorSettings,
    driver: CostDriver,
    lane: Lane,
    start: int,
    end: int,
) -> Chosen:
    """Take a handful of surfaces near one another with every crew there is."""
    problem, rng, settings = picker.problem, picker.rng, picker.settings.random
    walks = problem.travel[driver.job.zone]
    near = sorted(
        (walks[surface.zone] + rng.randint(0, settings.zone_jitter_min), surface.index)
        for surface in problem.surfaces
        if surface.minutes.counted_until > start
    )
    chosen = {driver.job.surface, *(i for _, i in near[: operator.size])}
    costly = picker.costly_surfaces(start, end)[: operator.size]
    chosen |= set(rng.sample(costly, min(operator.guests, len(costly))))
    lanes = picker.lanes_within(start, end)
    if len(lanes) > settings.zone_lanes:
        lanes = rng.sample(lanes, settings.zone_lanes)
    return {*lanes, lane.index}, chosen, start, end


def _night(
    picker: Picker,
    operator: OperatorSettings,
    driver: CostDriver,
    lane: Lane,
    start: int,
    end: int,
) -> Chosen:
    """Take a night and the afternoon before: top-ups at dusk against a call-out."""
    problem, rng, settings = picker.problem, picker.rng, picker.settings.random
    many = int(operator.size * picker.scale)
    costly = picker.costly_surfaces(start, end)
    costly = [i for i in costly if i != driver.job.surface]
    lanes = picker.lanes_within(start, end)
    calls = [i for i in lanes if problem.lanes[i].call_out_cost]
    called = picker.surfaces_served(calls, start, end)[: many // 2]
    chosen = [driver.job.surface, *called, *costly[: many // 2]]
    rest = costly[many // 2 :]
    chosen += rng.sample(rest, min(len(rest), many // 3))
    if len(chosen) < many:
        others = [s.index for s in problem.surfaces if s.index not in chosen]
        chosen += rng.sample(others, min(len(others), many - len(chosen)))
    shifts = [i for i in lanes if not problem.lanes[i].call_out_cost]
    lanes = rng.sample(shifts, min(settings.night_shifts, len(shifts)))
    lanes += calls[: settings.night_calls]
    return {*lanes, lane.index}, set(chosen), start, end


def _chain(
    picker: Picker,
    operator: OperatorSettings,
    driver: CostDriver,
    lane: Lane,
    start: int,
    end: int,
) -> Chosen:
    """Take one or two surfaces: work that hangs together."""
    rng, settings = picker.rng, picker.settings.random
    costly = picker.costly_surfaces(start, end)[: settings.chain_guests_of]
    guests = int(operator.guests * picker.scale)
    chosen = {driver.job.surface, *rng.sample(costly, min(guests, len(costly)))}
    lanes = picker.lanes_within(start, end)
    if len(lanes) > settings.chain_lanes:
        lanes = rng.sample(lanes, settings.chain_lanes)
    return {*lanes, lane.index}, chosen, start, end


_SHAPES: dict[str, Shape] = {
    "crews": _crews,
    "zone": _zone,
    "night": _night,
    "chain": _chain,
}
