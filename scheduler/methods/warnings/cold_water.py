"""Curing water much colder than the concrete it goes onto."""

from collections.abc import Iterator

import numpy as np

from models.local_clock import WeekClock
from models.quantities import show
from models.records import Finding, HydrationHistory, SiteInput
from scheduler.methods.case.grid_times import Times
from scheduler.methods.case.protocol import Case, Chain


def cold_water(
    site_input: SiteInput, case: Case, chain: Chain, hydration: HydrationHistory
) -> Iterator[Finding]:
    """Warn once a surface, of the water nearest to it, at the worst time.

    The limit is that of the profile, else the figure of the method table.
    """
    surface, site, horizon = case.surface, site_input.site, site_input.horizon
    zone = next(zone for zone in site.zones if zone.id == surface.zone_id)
    point = next(p for p in site.water_points if p.id == zone.water_points[0])
    if point.temperature_c is None or not surface.cover.rewettable:
        return
    allowed_k = case.profile.water_colder_max_k or case.common["cold_water"]
    times = Times(hydration.grid, horizon)
    concrete_c = hydration.surface_temperature_c[
        :, hydration.surface_ids.index(surface.id)
    ]
    steps = np.arange(hydration.grid.steps)
    minutes = steps * hydration.grid.step_min - times.offset_min
    from_min = max(0, min(case.ready_min, chain.covered_min))
    until_min = min(case.ends_min, case.horizon_min)
    counted = (minutes >= from_min) & (minutes < until_min)
    over_k = np.where(counted, concrete_c - point.temperature_c - allowed_k, 0.0)
    over_k = np.nan_to_num(over_k)
    if not (over_k > 0).any():
        return
    cold = np.flatnonzero(over_k > 0)
    worst = int(over_k.argmax())
    clock = WeekClock(site.timezone, horizon)
    water = show("temperature", point.temperature_c, site.units)
    concrete = show("temperature", float(concrete_c[worst]), site.units)
    allowed = case.kelvin(allowed_k)
    at = clock.words(int(minutes[worst]))
    yield Finding(
        kind="cold_water",
        words=(
            f"{surface.label}: water of {point.name} at {water}, concrete at "
            f"{concrete} {at}; at most {allowed} apart: temper the water in a tank"
        ),
        starts_at=horizon.at(int(minutes[cold[0]])),
        ends_at=horizon.at(int(minutes[cold[-1]]) + hydration.grid.step_min),
        surface_id=surface.id,
        water_point_id=point.id,
    )
