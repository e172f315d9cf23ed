"""Each water point minute by minute: what is drawn, what flows, the tank's level.

Counted from the site's water points. What others and systems on a timer draw comes
first: it takes its share of the flow and empties the tank, but never below nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from models.local_clock import MIDNIGHT, WeekClock
from models.records import (
    AutomaticFlow,
    Floats,
    Site,
    Stretch,
    SurfaceWork,
    WaterHour,
    WaterPoint,
    WaterTrace,
)
from scheduler.audit.replayed.jobs import Job

#: Litres; sums of even flows over a week stay far below.
SLACK_L = 1e-6


@dataclass(frozen=True)
class WaterSimulation:
    """A water point minute by minute.

    Attributes
    ----------
    drawn_l, automatic_l : array (minutes,)
        Drawn by visits, and by systems on a timer.
    free_l_min : array (minutes,)
        What its hoses have left for visits after others and timers took theirs.
    others_l : array (minutes,)
        Taken by others.
    level_l : array (minutes,) or None
        In the tank at the end of each minute; below zero where it is overdrawn.
    days : tuple of (int, int)
        Minutes of each local day.
    """

    point: WaterPoint
    drawn_l: Floats
    automatic_l: Floats
    free_l_min: Floats
    others_l: Floats
    level_l: Floats | None
    days: tuple[tuple[int, int], ...]


def simulate_water(
    site: Site,
    jobs: Sequence[Job],
    clock: WeekClock,
    works: Sequence[SurfaceWork] = (),
    begun_until: datetime | None = None,
) -> tuple[WaterSimulation, ...]:
    """Simulate every water point to the end of the horizon or of the last job.

    A tank that the book has below nothing at ``begun_until`` had water that nobody
    wrote down, and is empty then.
    """
    length = max([clock.horizon.length_min, *(job.end_min for job in jobs)])
    since = 0 if begun_until is None else clock.horizon.minute(begun_until)
    timers = [flow for work in works for flow in work.automatic]
    return tuple(
        _simulate(point, jobs, timers, clock, length, since)
        for point in site.water_points
    )


def _simulate(
    point: WaterPoint,
    jobs: Sequence[Job],
    timers: Sequence[AutomaticFlow],
    clock: WeekClock,
    length: int,
    since: int,
) -> WaterSimulation:
    drawn, taken, arriving, automatic = (np.zeros(length) for _ in range(4))
    for timer in timers:
        if timer.water_point_id == point.id:
            runs = slice(max(0, timer.from_min), max(0, timer.until_min))
            automatic[runs] += timer.flow_l_min
    for job in jobs:
        water = job.task.water
        if water is not None and job.visit.water_point_id == point.id:
            first, last = (
                job.start_min + water.from_min,
                job.start_min + water.until_min,
            )
            drawn[max(0, first) : max(0, last)] += water.flow_l_min
    days: list[Stretch] = []
    for day in clock.days(length):
        days.append(clock.stretch(day, MIDNIGHT, MIDNIGHT))
        for use in point.competing:
            span = clock.stretch(day, use.starts, use.ends)
            taken[max(0, span.from_min) : max(0, span.until_min)] += use.flow_l_min
    for delivery in point.deliveries:
        minute = clock.horizon.minute(delivery.at) + round(60 * delivery.late_by_h)
        if delivery.at >= clock.horizon.starts_at and minute < length:
            arriving[minute] += delivery.litres_l
    level = None
    if point.capacity_l is not None:
        first_come = taken + automatic
        level = _level(point, arriving + point.refill_l_min, first_come, drawn, since)
    free = np.maximum(0.0, point.flow_l_min - taken - automatic)
    for out in point.outages:
        first = max(0, clock.horizon.minute(out.starts_at))
        last = length if out.ends_at is None else clock.horizon.minute(out.ends_at)
        free[first : max(0, last)] = 0.0
    within = tuple(
        (max(0, day.from_min), min(day.until_min, length))
        for day in days
        if day.until_min > 0
    )
    return WaterSimulation(point, drawn, automatic, free, taken, level, within)


def _level(
    point: WaterPoint, arriving: Floats, taken: Floats, drawn: Floats, since: int
) -> Floats:
    """Level after each minute: what arrives fits or overflows, then draws."""
    capacity = point.capacity_l or 0.0
    now = capacity if point.level_l is None else min(point.level_l, capacity)
    levels = np.empty(len(drawn))
    for minute in range(len(drawn)):
        now = max(now, 0.0) if minute == since else now
        now = min(capacity, now + arriving[minute])
        now = max(min(now, 0.0), now - taken[minute]) - drawn[minute]
        levels[minute] = now
    return levels


def water_traces(
    simulations: Sequence[WaterSimulation], clock: WeekClock
) -> tuple[WaterTrace, ...]:
    """Hours of every point: drawn, peak flow, level and allotment left at their end."""
    return tuple(
        WaterTrace(
            water_point_id=simulation.point.id, hours=tuple(_hours(simulation, clock))
        )
        for simulation in simulations
    )


def _hours(simulation: WaterSimulation, clock: WeekClock) -> Iterator[WaterHour]:
    curing = simulation.drawn_l + simulation.automatic_l
    for first in range(0, len(curing), 60):
        last = min(first + 60, len(curing))
        left = None
        if simulation.point.daily_allotment_l is not None:
            midnight = next(a for a, b in simulation.days if a <= last - 1 < b)
            used = float(curing[midnight:last].sum())
            left = max(0.0, simulation.point.daily_allotment_l - used)
        level = None
        if simulation.level_l is not None:
            level = max(0.0, float(simulation.level_l[last - 1]))
        yield WaterHour(
            at=clock.horizon.at(first),
            drawn_l=float(curing[first:last].sum()),
            peak_flow_l_min=float(curing[first:last].max()),
            level_l=level,
            allotment_left_l=left,
        )
