"""A neighbourhood: what of the roster may change while the rest stands still.

It names lanes, a stretch of time and surfaces, and frees the stops that lie in all
three. Plain ints of time are minutes from the start of the horizon.
"""

from dataclasses import dataclass

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan


@dataclass(frozen=True)
class Neighbourhood:
    """What may change.

    Attributes
    ----------
    lanes, surfaces : tuple of int
        Indexes, in order.
    start, end : int
        Stops are freed that start no sooner and end no later.
    slot_min : int
        Starts are told apart in slots of this many minutes where dryness depends on
        them; the start itself is free to the minute.
    """

    lanes: tuple[int, ...]
    surfaces: tuple[int, ...]
    start: int
    end: int
    slot_min: int


def freed_by(plan: Plan, neighbourhood: Neighbourhood) -> list[Stop]:
    """Find the stops of a roster that a neighbourhood frees."""
    surfaces = set(neighbourhood.surfaces)
    first = max(neighbourhood.start, plan.problem.begun_until)
    return [
        stop
        for lane in neighbourhood.lanes
        for stop in plan.by_lane[lane]
        if stop.start >= first
        and plan.end(stop) <= neighbourhood.end
        and plan.problem.jobs[stop.job].surface in surfaces
    ]
