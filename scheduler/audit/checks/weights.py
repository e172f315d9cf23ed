"""Whether the work counts dryness for as long and at as much as site and clock say.

The solver weighs dry minutes by the figures of the work list. A week that ends its
curing too soon, or takes a young slab for an old one, would look better than it is.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from models.local_clock import WeekClock
from models.records import (
    Costs,
    Finding,
    Floats,
    HydrationHistory,
    Surface,
    SurfaceEvents,
    SurfaceWork,
)
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.gaps import weight_by_minute

_DAY_MIN = 24 * 60
_SLACK = 1e-9


def check_weights(
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    hydration: HydrationHistory,
    costs: Costs,
    clock: WeekClock,
) -> list[Finding]:
    """Find work whose end of curing or price of a dry minute is not the site's."""
    events = {event.surface_id: event for event in hydration.events}
    findings = []
    for surface, work in zip(surfaces, works, strict=True):
        statements = [
            *_end(work, events[surface.id], hydration, clock),
            *_price(surface, work, costs, clock),
        ]
        for minute, words in statements:
            findings.append(
                found(
                    clock, "drying_clock", f"{work.label}: {words}", minute,
                    clock.horizon.length_min, surface_id=work.surface_id,
                )
            )  # fmt: skip
    return findings


def _end(
    work: SurfaceWork,
    events: SurfaceEvents,
    hydration: HydrationHistory,
    clock: WeekClock,
) -> Iterator[tuple[int, str]]:
    """Compare the end of curing; where the clock saw none, it is not in this week.

    It may be later, for dry time that does not count, but never sooner.
    """
    horizon, grid = clock.horizon, hydration.grid
    given = clock.words(work.ends_min)
    if events.curing_ends is not None:
        ends = horizon.minute(events.curing_ends.expected_at)
        if work.ends_min < ends:
            words = f"its curing ends {clock.words(ends)}; the work says {given}"
            yield 0, words
        return
    seen_until = min(horizon.length_min, horizon.minute(grid.at(grid.steps)))
    if work.ends_min < seen_until:
        last = clock.words(seen_until)
        yield 0, f"its curing goes on beyond {last}; the work ends it {given}"


def _price(
    surface: Surface, work: SurfaceWork, costs: Costs, clock: WeekClock
) -> Iterator[tuple[int, str]]:
    """Compare what a dry minute costs, covered and bare, where it counts."""
    length = clock.horizon.length_min
    first = max(0, clock.horizon.minute(surface.exposed_at))
    last = min(length, work.ends_min)
    own = _weights(surface, costs, clock)
    for state, factor, steps in (
        ("covered", 1.0, work.weights),
        ("bare", costs.uncovered_factor, work.fresh_weights),
    ):
        given = weight_by_minute(steps, length)
        differs = np.abs(given - factor * own)[first:last] > _SLACK
        if differs.any():
            at = first + int(np.argmax(differs))
            words = (
                f"a dry minute, {state}, costs {factor * own[at]:g} "
                f"{clock.words(at)}; the work says {given[at]:g}"
            )
            yield at, words


def _weights(surface: Surface, costs: Costs, clock: WeekClock) -> Floats:
    """Price of each minute by area and risk, and by age from the end of placing."""
    placed = clock.horizon.minute(surface.placing_ends_at)
    age_min = np.arange(clock.horizon.length_min) - placed
    young = [age_min < _DAY_MIN, age_min < 3 * _DAY_MIN]
    factors = [costs.young_24h_factor, costs.young_72h_factor]
    hundreds = surface.area_m2 / 100
    by_area = max(costs.area_floor_factor, hundreds**costs.area_power)
    base = costs.dry_cost_per_min * surface.risk * by_area
    return np.asarray(base * np.select(young, factors, 1.0))
