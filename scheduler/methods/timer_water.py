"""Timers against their water points: what they draw must be there all week."""

from collections.abc import Iterator, Sequence
from math import ceil

from models.errors import Problem
from models.quantities import show
from models.records import AutomaticFlow, SiteInput, WaterSupply
from scheduler.methods.local_clock import LocalClock
from scheduler.methods.supplies import water_supplies

_HINT = "Nearest: sheet_over_burlap, or a smaller dose in [rates]"
_HOUR_MIN = 60


def timers_beyond_water(
    site_input: SiteInput, flows: Sequence[AutomaticFlow]
) -> Iterator[Problem]:
    """Refuse timers that a water point cannot feed, or that would empty its tank."""
    site, horizon = site_input.site, site_input.horizon
    clock = LocalClock(site.timezone, horizon)
    fed = {flow.water_point_id for flow in flows}
    for supply in water_supplies(site, horizon, flows):
        if supply.id not in fed:
            continue
        place = f"site.toml, water '{supply.id}'"
        most = max(supply.taken, key=lambda taken: taken.flow_l_min)
        if most.flow_l_min > supply.flow_l_min:
            found = show("flow", supply.flow_l_min, site.units)
            asked = show("flow", most.flow_l_min, site.units)
            when = clock.words(most.from_min)
            wanted = f"{asked} for timers and others from {when}"
            yield Problem(place, "flow", found, wanted, _HINT)
        empty_min = _empty_min(supply, horizon.length_min)
        if empty_min is not None:
            found = show("volume", supply.level_at_start_l, site.units)
            wanted = f"enough for timers beyond {clock.words(empty_min)}"
            yield Problem(place, "level", found, wanted, _HINT)


def _empty_min(supply: WaterSupply, length_min: int) -> int | None:
    """Give the hour in which timers and others alone have emptied a tank."""
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
