"""In which minutes some water point could give what a piece of work takes."""

import numpy as np
from numpy.typing import NDArray

from models.records import SurfaceWork, WaterNeed
from scheduler.audit.replayed.around import Around, Reason
from scheduler.audit.replayed.water import SLACK_L, WaterSimulation

Flags = NDArray[np.bool_]
Minutes = NDArray[np.int64]


def water_reasons(
    need: WaterNeed, work: SurfaceWork, starts: Minutes, on: Around
) -> list[tuple[Reason, Flags]]:
    """Tell at which starts flow, then also allotment, then also the tank suffice."""
    flows, days, tanks = (np.zeros(len(starts), bool) for _ in range(3))
    for simulation in points_of(work, on):
        flow = _flow_left(simulation, need, starts)
        day = flow & _day_left(simulation, need, starts)
        flows |= flow
        days |= day
        tanks |= day & _tank_left(simulation, need, starts)
    return [("flow", flows), ("day", days), ("tank", tanks)]


def points_of(work: SurfaceWork, on: Around) -> list[WaterSimulation]:
    """Water points that a surface's zone reaches, nearest first."""
    reach = next(z.water_points for z in on.site.zones if z.id == work.zone_id)
    simulations = {simulation.point.id: simulation for simulation in on.water}
    return [simulations[point_id] for point_id in reach]


def _flow_left(simulation: WaterSimulation, need: WaterNeed, starts: Minutes) -> Flags:
    """Tell where every minute of the draw has the flow."""
    short = simulation.free_l_min - simulation.drawn_l < need.flow_l_min - SLACK_L
    before = np.concatenate(([0], np.cumsum(short)))
    from_min, until_min = (
        np.clip(starts + offset, 0, len(short))
        for offset in (need.from_min, need.until_min)
    )
    allowed: Flags = before[until_min] == before[from_min]
    return allowed


def _day_left(simulation: WaterSimulation, need: WaterNeed, starts: Minutes) -> Flags:
    allowed = np.ones(len(starts), bool)
    if simulation.point.daily_allotment_l is None:
        return allowed
    for first, last in simulation.days:
        curing_l = simulation.drawn_l[first:last] + simulation.automatic_l[first:last]
        left = simulation.point.daily_allotment_l - float(curing_l.sum())
        from_min = np.clip(starts + need.from_min, first, last)
        until_min = np.clip(starts + need.until_min, first, last)
        allowed &= (until_min - from_min) * need.flow_l_min <= left + SLACK_L
    return allowed


def _tank_left(simulation: WaterSimulation, need: WaterNeed, starts: Minutes) -> Flags:
    """Tell where the tank never falls below what is taken, until it is full again."""
    if simulation.level_l is None:
        return np.ones(len(starts), bool)
    at = np.clip(starts + need.until_min - 1, 0, len(simulation.spare_l) - 1)
    return simulation.spare_l[at] >= need.litres_l - SLACK_L
