"""Water points as supplies over the horizon: days, other users, deliveries."""

from collections.abc import Iterator, Sequence
from datetime import time, timedelta
from itertools import pairwise

from models.local_clock import WeekClock
from models.records import (
    AutomaticFlow,
    Horizon,
    Site,
    Stretch,
    TakenFlow,
    TankDelivery,
    WaterPoint,
    WaterSupply,
)
from scheduler.methods.resources.stretches import clip


def water_supplies(
    site: Site, horizon: Horizon, automatic: Sequence[AutomaticFlow] = ()
) -> tuple[WaterSupply, ...]:
    """Every water point of the site, in its order; timers draw from them too."""
    clock = WeekClock(site.timezone, horizon)
    return tuple(
        _supply(point, clock, [a for a in automatic if a.water_point_id == point.id])
        for point in site.water_points
    )


def _supply(
    point: WaterPoint, clock: WeekClock, automatic: Sequence[AutomaticFlow]
) -> WaterSupply:
    horizon, days = clock.horizon, local_days(clock)
    level_l = point.level_l if point.level_l is not None else point.capacity_l
    return WaterSupply(
        id=point.id,
        name=point.name,
        flow_l_min=point.flow_l_min,
        taken=_taken(point, clock, automatic),
        closed=tuple(_closed(point, horizon)),
        daily_allotment_l=_left_a_day_l(point, automatic, days),
        days=days,
        capacity_l=point.capacity_l,
        level_at_start_l=level_l or 0,
        refill_l_min=point.refill_l_min,
        deliveries=tuple(
            TankDelivery(at_min=at_min, litres_l=litres_l)
            for at_min, litres_l in sorted(_arrivals(point, horizon))
            if 0 <= at_min < horizon.length_min
        ),
    )


def _closed(point: WaterPoint, horizon: Horizon) -> Iterator[Stretch]:
    """Give the stretches of the horizon in which nothing flows."""
    for out in point.outages:
        until_min = (
            horizon.length_min if out.ends_at is None else horizon.minute(out.ends_at)
        )
        whole = Stretch(from_min=horizon.minute(out.starts_at), until_min=until_min)
        if part := clip(whole, 0, horizon.length_min):
            yield part


def _arrivals(point: WaterPoint, horizon: Horizon) -> Iterator[tuple[int, float]]:
    """Yield minutes from which the plan counts on each delivery, and its litres.

    What was due before the horizon is in the level at its start, or not to be had.
    """
    for load in point.deliveries:
        if load.at >= horizon.starts_at:
            late = timedelta(hours=load.late_by_h)
            yield horizon.minute(load.at + late), load.litres_l


def _left_a_day_l(
    point: WaterPoint, automatic: Sequence[AutomaticFlow], days: Sequence[Stretch]
) -> float | None:
    """Give what visits may draw a day: the allotment less what timers draw at most.

    One figure serves all days, so on the others it is on the safe side.
    """
    if point.daily_allotment_l is None:
        return None
    return max(0.0, point.daily_allotment_l - most_a_day_l(automatic, days))


def most_a_day_l(automatic: Sequence[AutomaticFlow], days: Sequence[Stretch]) -> float:
    """Litres that timers draw on the day on which they draw most."""
    by_day_l = (
        sum(
            flow.flow_l_min * (part.until_min - part.from_min)
            for flow in automatic
            if (part := clip(day, flow.from_min, flow.until_min))
        )
        for day in days
    )
    return max(by_day_l, default=0.0)


def local_days(clock: WeekClock) -> tuple[Stretch, ...]:
    """Midnight to midnight by the local clock, cut to the horizon."""
    length_min = clock.horizon.length_min
    days = (
        Stretch(
            from_min=clock.minute(on, time()),
            until_min=clock.minute(on + timedelta(days=1), time()),
        )
        for on in clock.days()
    )
    return tuple(part for day in days if (part := clip(day, 0, length_min)))


def _taken(
    point: WaterPoint, clock: WeekClock, automatic: Sequence[AutomaticFlow]
) -> tuple[TakenFlow, ...]:
    """Add up what others and timers draw, in stretches that do not overlap."""
    uses = [
        (Stretch(from_min=flow.from_min, until_min=flow.until_min), flow.flow_l_min)
        for flow in automatic
    ]
    uses += [
        (part, use.flow_l_min)
        for use in point.competing
        for on in clock.days()
        if (
            part := clip(
                clock.stretch(on, use.starts, use.ends), 0, clock.horizon.length_min
            )
        )
    ]
    cuts = sorted({m for part, _ in uses for m in (part.from_min, part.until_min)})
    taken = []
    for from_min, until_min in pairwise(cuts):
        flow_l_min = sum(
            flow for part, flow in uses if part.from_min <= from_min < part.until_min
        )
        if flow_l_min > 0:
            taken.append(
                TakenFlow(from_min=from_min, until_min=until_min, flow_l_min=flow_l_min)
            )
    return tuple(taken)
