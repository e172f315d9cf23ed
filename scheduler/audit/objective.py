"""The layers of the objective, counted again: each in its own unit and in cost."""

from collections import Counter
from collections.abc import Sequence
from typing import get_args

import numpy as np

from models.local_clock import WeekClock
from models.records import Age, Changes, Costs, DryShare, Site, Surface
from scheduler.audit.checks.crews import effort
from scheduler.audit.checks.duties import late_min, missed_tasks
from scheduler.audit.replayed.covers import StockPlay
from scheduler.audit.replayed.gaps import dry_cost
from scheduler.audit.replayed.jobs import Job, by_surface
from scheduler.audit.replayed.parties import Turn
from scheduler.audit.replayed.play import Play

_DAY_MIN = 24 * 60
_AGES: tuple[Age, ...] = get_args(Age)


def costs(
    site: Site,
    played: Play,
    jobs: Sequence[Job],
    turns: Sequence[Turn],
    changes: Changes | None,
) -> dict[str, float]:
    """Price of the week, by the parts of the objective."""
    prices, week = site.costs, effort(site, turns)
    grouped = by_surface(jobs)
    late = missed = 0.0
    for work in played.works:
        own = grouped.get(work.surface_id, [])
        late += sum(late_min(job, own) * job.task.late_cost_per_min for job in own)
        missed += sum(task.missed_cost for task in missed_tasks(work, own))
    return {
        "dry": sum(dry_cost(played, column) for column in range(len(played.works))),
        "late": late,
        "missed": missed,
        "call_out": week.call_out_cost,
        "overtime": week.overtime_min * prices.overtime_cost_per_min,
        "travel": week.travel_min * prices.travel_cost_per_min,
        "water": _litres_l(jobs) * prices.litre_cost,
        "covers_short": 0.0,
        **({} if changes is None else {"changes": changes.total * prices.change_cost}),
    }


def amounts(
    site: Site,
    played: Play,
    jobs: Sequence[Job],
    turns: Sequence[Turn],
    covers: Sequence[StockPlay],
    changes: Changes | None,
) -> dict[str, float]:
    """Minutes, duties, call-outs, litres, areas and visits of the same parts."""
    week, grouped = effort(site, turns), by_surface(jobs)
    late = missed = 0
    for work in played.works:
        own = grouped.get(work.surface_id, [])
        priced = [job for job in own if job.task.late_cost_per_min > 0]
        late += sum(late_min(job, own) for job in priced)
        missed += len(tuple(missed_tasks(work, own)))
    return {
        "dry": int(played.dry.sum()),
        "late": late,
        "missed": missed,
        "call_out": week.call_outs,
        "overtime": week.overtime_min,
        "travel": week.travel_min,
        "water": _litres_l(jobs),
        "covers_short": sum(stock.short_m2() for stock in covers),
        **({} if changes is None else {"changes": changes.total}),
    }


def _litres_l(jobs: Sequence[Job]) -> float:
    """Add up what visits draw; timers draw the same in every roster."""
    return sum(job.task.water.litres_l for job in jobs if job.task.water)


def dry_shares(
    surfaces: Sequence[Surface], played: Play, prices: Costs, clock: WeekClock
) -> tuple[DryShare, ...]:
    """Dry minutes by state, age from the end of placing, and price; dearest first."""
    factors = (prices.young_24h_factor, prices.young_72h_factor, 1.0)
    minutes: Counter[tuple[bool, Age, float]] = Counter()
    for column, surface in enumerate(surfaces):
        dry = np.flatnonzero(played.dry[:, column])
        days = (dry - clock.horizon.minute(surface.placing_ends_at)) // _DAY_MIN
        ages = np.select([days < 1, days < 3], [0, 1], 2)
        bare = dry < played.covered_from[column]
        for age, is_bare in zip(ages.tolist(), bare.tolist(), strict=True):
            per_min = prices.dry_cost_per_min * surface.risk * factors[age]
            per_min *= prices.uncovered_factor if is_bare else 1.0
            minutes[is_bare, _AGES[age], round(per_min, 6)] += 1
    return tuple(
        DryShare(bare=is_bare, age=age, per_min=per_min, minutes=count)
        for (is_bare, age, per_min), count in sorted(
            minutes.items(), key=lambda one: (-one[0][2], one[0])
        )
    )
