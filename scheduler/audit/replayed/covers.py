"""Each kind of cover over the week: what is taken from the stock, and until when.

Covers are taken from the stock when their fabric goes into water, or when their laying
begins if none of it is soaked, or from the start of the week where they lie already;
they are free again when they are lifted or changed for others, washed and moved. Kinds
that the site lists no stock of are not counted.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from models.drying.covers import soak_lead_min
from models.local_clock import WeekClock
from models.records import (
    CoverStock,
    CoverTrace,
    CoverUse,
    Site,
    Surface,
    SurfaceWork,
    Task,
)
from scheduler.audit.replayed.covers_in_place import (
    CoverInPlace,
    covers_in_place,
    laying,
)
from scheduler.audit.replayed.jobs import Job, by_surface

SLACK_M2 = 1e-6


@dataclass(frozen=True)
class Laid:
    """Covers of one surface, from the stock and back to it.

    ``laid_min`` is when laying begins; ``planned`` is False where they lie already.
    """

    surface: Surface
    planned: bool
    laid_min: int
    from_min: int
    until_min: int


@dataclass(frozen=True)
class StockSimulation:
    """One kind of cover over the week.

    ``asked`` holds each surface that is to get such covers, with the tasks that lay
    them.
    """

    stock: CoverStock
    title: str
    laid: tuple[Laid, ...]
    asked: tuple[tuple[Surface, tuple[Task, ...]], ...]

    def free_m2(self, surface: Surface, minute: int) -> float:
        """Area that other surfaces leave free in a minute."""
        others = (use for use in self.at(minute) if use.surface.id != surface.id)
        return self.stock.stock_m2 - sum(use.surface.area_m2 for use in others)

    def short_m2(self) -> float:
        """Area whose covers were with others when it could first have been laid."""
        short_m2 = 0.0
        for surface, tasks in self.asked:
            first_min = min(task.earliest_min for task in tasks)
            from_min = max(0, first_min - soak_lead_min(self.stock))
            if self.free_m2(surface, from_min) < surface.area_m2 - SLACK_M2:
                short_m2 += surface.area_m2
        return short_m2

    def in_use_m2(self, minute: int) -> float:
        """Area in use in a minute."""
        return sum(use.surface.area_m2 for use in self.at(minute))

    def at(self, minute: int) -> list[Laid]:
        """Give what is in use in a minute."""
        return [use for use in self.laid if use.from_min <= minute < use.until_min]

    @property
    def minutes(self) -> list[int]:
        """Minutes at which something is taken or free again, in order."""
        return sorted({t for use in self.laid for t in (use.from_min, use.until_min)})


def simulate_covers(
    site: Site,
    surfaces: Sequence[Surface],
    works: Sequence[SurfaceWork],
    jobs: Sequence[Job],
    clock: WeekClock,
) -> tuple[StockSimulation, ...]:
    """Follow the covers of each kind in stock."""
    grouped = by_surface(jobs)
    laid: dict[str, list[Laid]] = {stock.kind: [] for stock in site.covers}
    stocks = {stock.kind: stock for stock in site.covers}
    titles: dict[str, str] = {}
    wanted: dict[str, list[tuple[Surface, tuple[Task, ...]]]] = {}
    for surface, work in zip(surfaces, works, strict=True):
        titles |= {cover.kind: cover.title for cover in surface.covers}
        own = grouped.get(work.surface_id, [])
        asked = laying(surface, work, clock.horizon)
        for cover, tasks in zip(surface.covers, asked, strict=True):
            if tasks:
                wanted.setdefault(cover.kind, []).append((surface, tuple(tasks)))
        for one in covers_in_place(surface, work, own, clock.horizon):
            if one.cover.kind in stocks:
                stock = stocks[one.cover.kind]
                laid[stock.kind].append(_taken(surface, stock, one, clock))
    return tuple(
        StockSimulation(
            stock,
            titles.get(stock.kind, stock.kind),
            tuple(laid[stock.kind]),
            tuple(wanted.get(stock.kind, ())),
        )
        for stock in site.covers
    )


def _taken(
    surface: Surface, stock: CoverStock, place: CoverInPlace, clock: WeekClock
) -> Laid:
    lead_min = soak_lead_min(stock) if place.planned else 0
    until_min = clock.horizon.length_min
    if place.off_min is not None:
        until_min = place.off_min + stock.turnaround_min
    from_min = max(0, place.laid_min - lead_min)
    return Laid(surface, place.planned, place.laid_min, from_min, until_min)


def cover_traces(
    simulations: Sequence[StockSimulation], clock: WeekClock
) -> tuple[CoverTrace, ...]:
    """Area in use of each kind, a step at each change."""
    return tuple(
        CoverTrace(
            kind=simulation.stock.kind,
            stock_m2=simulation.stock.stock_m2,
            in_use=tuple(
                CoverUse(
                    at=clock.horizon.at(minute), area_m2=simulation.in_use_m2(minute)
                )
                for minute in sorted({0, *simulation.minutes})
            ),
        )
        for simulation in simulations
    )
