"""The parts of the objective, counted again: each in its own unit and in cost."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from typing import NamedTuple, get_args

import numpy as np

from models.local_clock import WeekClock
from models.records import Age, Changes, DryShare, PartName, Site, Surface
from scheduler.audit.checks.crews import effort
from scheduler.audit.checks.duties import (
    late_cost,
    late_min,
    missed_tasks,
    undone_tasks,
)
from scheduler.audit.replayed.covers import StockSimulation
from scheduler.audit.replayed.gaps import dry_cost, dry_price_by_minute
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.low_water import low_water, low_water_cost
from scheduler.audit.replayed.parties import Turn
from scheduler.audit.replayed.simulation import Simulation

_DAY_MIN = 24 * 60
_DIGITS = 6  # costs are sums of decimals; what lies behind is noise
_AGES: tuple[Age, ...] = get_args(Age)


class Counted(NamedTuple):
    """A part of the objective: in its own unit, and what that costs."""

    amount: float
    cost: float


def parts(
    site: Site,
    simulation: Simulation,
    jobs: Sequence[Job],
    turns: Sequence[Turn],
    covers: Sequence[StockSimulation],
    changes: Changes | None,
) -> dict[PartName, Counted]:
    """Count the week by the parts of the objective, each with its price."""
    prices, week, grouped = site.costs, effort(site, turns), by_surface(jobs)
    works = [(work, grouped.get(work.surface_id, [])) for work in simulation.works]
    low = low_water(simulation, site)
    worker_min = sum(job.task.people * (job.end_min - job.start_min) for job in jobs)
    # Of visits alone: timers draw the same in every roster.
    litres = sum(job.task.water.litres_l for job in jobs if job.task.water)
    counted: dict[PartName, Counted] = {
        "dry": Counted(
            int(simulation.dry.sum()),
            sum(dry_cost(simulation, column) for column in range(len(works))),
        ),
        "low_water": Counted(int(low.sum()), low_water_cost(low, simulation, site)),
        "late": Counted(
            sum(
                late_min(job, own)
                for _, own in works
                for job in own
                if job.task.late_cost_per_min > 0
            ),
            sum(sum(late_cost(job, own) for job in own) for _, own in works),
        ),
        "missed": Counted(
            sum(len(missed_tasks(work, own)) for work, own in works),
            sum(
                sum(task.missed_cost for task in undone_tasks(work, own))
                for work, own in works
            ),
        ),
        "call_out": Counted(week.call_outs, week.call_out_cost),
        "overtime": Counted(
            week.overtime_min, week.overtime_min * prices.overtime_cost_per_min
        ),
        "travel": Counted(
            week.travel_min, week.travel_min * prices.travel_cost_per_min
        ),
        "labour": Counted(worker_min, worker_min * prices.worker_minute_cost),
        "water": Counted(litres, litres * prices.litre_cost),
        "covers_short": Counted(sum(stock.short_m2() for stock in covers), 0.0),
    }
    if changes is not None:
        counted["changes"] = Counted(changes.total, changes.total * prices.change_cost)
    return counted


def dry_shares(
    surfaces: Sequence[Surface], simulation: Simulation, clock: WeekClock
) -> tuple[DryShare, ...]:
    """Dry minutes by state and age from the end of placing; the dearest first."""
    minutes: Counter[tuple[bool, Age]] = Counter()
    area_min: dict[tuple[bool, Age], float] = defaultdict(float)
    cost: dict[tuple[bool, Age], float] = defaultdict(float)
    for column, surface in enumerate(surfaces):
        dry = np.flatnonzero(simulation.dry[:, column])
        days = (dry - clock.horizon.minute(surface.placing_ends_at)) // _DAY_MIN
        ages = np.select([days < 1, days < 3], [0, 1], 2)
        bare = dry < simulation.covered_from[column]
        prices = dry_price_by_minute(simulation, column)[dry]
        shares = simulation.dry_share[dry, column]
        for age, name in enumerate(_AGES):
            for is_bare in (False, True):
                own = (ages == age) & (bare == is_bare)
                minutes[is_bare, name] += int(own.sum())
                area_min[is_bare, name] += float(shares[own].sum()) * surface.area_m2
                cost[is_bare, name] += float((prices * shares)[own].sum())
    found = (
        DryShare(
            bare=is_bare,
            age=age,
            minutes=count,
            area_time_m2_h=round(area_min[is_bare, age] / 60, _DIGITS),
            cost=round(cost[is_bare, age], _DIGITS),
        )
        for (is_bare, age), count in minutes.items()
        if count
    )
    return tuple(sorted(found, key=lambda one: (-one.cost, one.age, one.bare)))
