"""Timers and their water points: what they draw must be there all week."""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil

from models.errors import Problem
from models.local_clock import WeekClock
from models.quantities import show
from models.records import AutomaticFlow, SiteInput, SurfaceWork, Task, WaterSupply
from scheduler.methods.resources.water import local_days, most_a_day_l, water_supplies

_HINT = "Use sheet_over_burlap, fewer timers, or a smaller dose in [rates]"
_HOUR_MIN = 60


def connected(
    site_input: SiteInput, works: Iterable[SurfaceWork]
) -> tuple[SurfaceWork, ...]:
    """Connect each timer to the nearest point with enough for it and those before it.

    A system has one feed. Where no point has enough it stays at the nearest.
    """
    site = site_input.site
    reach = {zone.id: zone.water_points for zone in site.zones}
    names = {point.id: point.name for point in site.water_points}
    flows: list[AutomaticFlow] = []
    found = []
    for work in works:
        points = reach[work.zone_id]
        if work.automatic and len(points) > 1:
            fed = (_fed_from(point_id, work.automatic) for point_id in points)
            enough = (own for own in fed if _suffices(site_input, [*flows, *own], own))
            own = next(enough, work.automatic)
            name = names[own[0].water_point_id]
            tasks = tuple(_told(task, f"Water from {name}.") for task in work.tasks)
            work = work.model_copy(update={"automatic": own, "tasks": tasks})
        flows += work.automatic
        found.append(work)
    return tuple(found)


def _told(task: Task, step: str) -> Task:
    """Add a step to the task that sets a system out; leave others as they are."""
    if task.kind != "commission":
        return task
    return task.model_copy(update={"steps": (*task.steps, step)})


def _fed_from(
    point_id: str, flows: Iterable[AutomaticFlow]
) -> tuple[AutomaticFlow, ...]:
    """Give the same flows from another water point."""
    return tuple(f.model_copy(update={"water_point_id": point_id}) for f in flows)


def _suffices(
    site_input: SiteInput,
    flows: Sequence[AutomaticFlow],
    own: Sequence[AutomaticFlow],
) -> bool:
    """Whether the point of a timer has the flow, the water and the days for it."""
    site = site_input.site
    point = next(p for p in site.water_points if p.id == own[0].water_point_id)
    there = [flow for flow in flows if flow.water_point_id == point.id]
    if any(timers_beyond_water(site_input, there)):
        return False
    days = local_days(WeekClock(site.timezone, site_input.horizon))
    allotment_l = point.daily_allotment_l
    return allotment_l is None or most_a_day_l(there, days) <= allotment_l


def timers_beyond_water(
    site_input: SiteInput, flows: Sequence[AutomaticFlow]
) -> Iterator[Problem]:
    """Refuse timers that a water point cannot feed, or that would empty its tank."""
    site, horizon = site_input.site, site_input.horizon
    clock = WeekClock(site.timezone, horizon)
    fed = {flow.water_point_id for flow in flows}
    for supply in water_supplies(site, horizon, flows):
        if supply.id not in fed:
            continue
        most = max(supply.taken, key=lambda taken: taken.flow_l_min)
        if most.flow_l_min > supply.flow_l_min:
            found = show("flow", supply.flow_l_min, site.units)
            asked = show("flow", most.flow_l_min, site.units)
            when = clock.words(most.from_min)
            wanted = f"{asked}, which timers and others draw from {when}"
            place = site_input.places.of("water", supply.id, "flow")
            yield Problem(place, "[[water]] flow", found, wanted, _HINT)
        empty_min = _empty_min(supply, horizon.length_min)
        if empty_min is not None:
            found = show("volume", supply.level_at_start_l, site.units)
            when = clock.words(empty_min)
            wanted = f"enough for the week: timers and others empty it on {when}"
            place = site_input.places.of("water", supply.id, "level")
            yield Problem(place, "[[water]] level", found, wanted, _HINT)


def _empty_min(supply: WaterSupply, length_min: int) -> int | None:
    """Give the hour, in minutes, in which timers and others empty a tank, or None."""
    if supply.capacity_l is None:
        return None
    level_l = supply.level_at_start_l
    for hour in range(ceil(length_min / _HOUR_MIN)):
        from_min, until_min = hour * _HOUR_MIN, (hour + 1) * _HOUR_MIN
        level_l += supply.refill_l_min * _HOUR_MIN
        level_l += sum(
            load.litres_l
            for load in supply.deliveries
            if from_min <= load.at_min < until_min
        )
        level_l = min(level_l, supply.capacity_l)
        level_l -= sum(
            taken.flow_l_min
            * max(0, min(until_min, taken.until_min) - max(from_min, taken.from_min))
            for taken in supply.taken
        )
        if level_l < 0:
            return from_min
    return None
