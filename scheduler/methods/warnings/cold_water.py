"""Much curing water that is much colder than the concrete it goes onto."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from models.local_clock import WeekClock
from models.quantities import show
from models.records import (
    Finding,
    HydrationHistory,
    SiteInput,
    Task,
    WaterPoint,
)
from scheduler.methods.case.grid_times import Times
from scheduler.methods.case.protocol import Case, Chain


@dataclass(frozen=True)
class _Cold:
    """One surface that much cold water goes onto, at its worst."""

    point: WaterPoint
    label: str
    surface_id: str
    concrete_c: float
    at_min: int
    from_min: int
    until_min: int
    allowed: str

    @property
    def alike(self) -> tuple[str, str]:
        """What surfaces share that are told of together."""
        return self.point.id, self.allowed


def cold_water(
    site_input: SiteInput,
    chains: Iterable[tuple[Case, Chain]],
    hydration: HydrationHistory,
) -> Iterator[tuple[str, Finding]]:
    """Warn once for each water point of all surfaces that its water is too cold for.

    A litre on burlap takes nothing from the concrete, nor does what a timer spreads
    over the day; a pond, a flood or a charge of sand does. The limit is that of the
    profile, else the figure of the method table.
    """
    found = [
        cold
        for case, chain in chains
        if (cold := _cold(site_input, case, chain, hydration)) is not None
    ]
    found.sort(key=lambda cold: cold.alike)
    clock = WeekClock(site_input.site.timezone, site_input.horizon)
    for _, group in groupby(found, key=lambda cold: cold.alike):
        yield _finding(site_input, list(group), clock)


def _cold(
    site_input: SiteInput, case: Case, chain: Chain, hydration: HydrationHistory
) -> _Cold | None:
    """Where the water nearest to a surface is too cold when much of it is put there."""
    surface, site, horizon = case.surface, site_input.site, site_input.horizon
    zone = next(zone for zone in site.zones if zone.id == surface.zone_id)
    point = next(p for p in site.water_points if p.id == zone.water_points[0])
    large = [
        task
        for task in chain.tasks
        if _l_m2(task, chain, case) >= case.common["cold_water_from"]
    ]
    if point.temperature_c is None or not large:
        return None
    allowed_k = case.profile.water_colder_max_k or case.common["cold_water"]
    grid, times = hydration.grid, Times(hydration.grid, horizon)
    concrete_c = hydration.surface_temperature_c[
        :, hydration.surface_ids.index(surface.id)
    ]
    minutes = np.arange(grid.steps) * grid.step_min - times.offset_min
    counted = np.zeros(grid.steps, np.bool_)
    for task in large:
        counted |= (minutes > task.earliest_min - grid.step_min) & (
            minutes < task.due_min
        )
    counted &= minutes < case.horizon_min
    over_k = np.where(counted, concrete_c - point.temperature_c - allowed_k, 0.0)
    over_k = np.nan_to_num(over_k)
    cold = np.flatnonzero(over_k > 0)
    if not cold.size:
        return None
    worst = int(over_k.argmax())
    return _Cold(
        point=point,
        label=surface.label,
        surface_id=surface.id,
        concrete_c=float(concrete_c[worst]),
        at_min=int(minutes[worst]),
        from_min=int(minutes[cold[0]]),
        until_min=int(minutes[cold[-1]]) + grid.step_min,
        allowed=case.kelvin(allowed_k),
    )


def _l_m2(task: Task, chain: Chain, case: Case) -> float:
    """Water that a task, with the other parts of a job cut up, puts on a m². [L/m²]."""
    same = chain.tasks if task.parts > 1 else [task]
    litres_l = sum(
        part.water.litres_l for part in same if part.kind == task.kind and part.water
    )
    return litres_l / case.surface.area_m2


def _finding(
    site_input: SiteInput, colds: list[_Cold], clock: WeekClock
) -> tuple[str, Finding]:
    """Say who has the cold water, and what speaks against it."""
    horizon, units = site_input.horizon, site_input.site.units
    worst = max(colds, key=lambda cold: cold.concrete_c)
    point = worst.point
    water = show("temperature", point.temperature_c or 0.0, units)
    concrete = show("temperature", worst.concrete_c, units)
    who, at = worst.label, clock.words(worst.at_min)
    if len(colds) > 1:
        who, at = f"{len(colds)} surfaces", f"{worst.label}, {at}"
    return who, Finding(
        kind="cold_water",
        words=(
            f"water from {point.name} {water}, concrete {concrete} "
            f"({at}): limit is {worst.allowed} apart; warm the water first"
        ),
        starts_at=horizon.at(max(0, min(cold.from_min for cold in colds))),
        ends_at=horizon.at(max(cold.until_min for cold in colds)),
        surface_id=worst.surface_id if len(colds) == 1 else None,
        water_point_id=point.id,
    )
