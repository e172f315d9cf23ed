"""Each kind of cover over the week: what is taken from the stock, and until when.

Covers are taken from the stock when their fabric goes into water, or when their laying
begins if none of it is soaked or it comes wet from other surfaces (``wet_cloth.py``),
or from the start of the week where they lie already; they are free again when they are
lifted or changed for others, washed and moved. Kinds that the site lists no stock of
are not counted.
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
from scheduler.audit.replayed.wet_cloth import SLACK_M2, Fabric, wetness
from scheduler.audit.replayed.windows import crew_windows


@dataclass(frozen=True)
class Laid:
    """Covers of one surface, from the stock and back to it.

    ``laid_min`` is when laying begins; ``planned`` is False where they lie already;
    ``wet`` is False where fabric was laid that nobody had put into water.
    """

    surface: Surface
    planned: bool
    laid_min: int
    from_min: int
    until_min: int
    wet: bool


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
    placed: dict[str, list[tuple[Surface, Fabric]]] = {}
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
                fabric = _fabric(surface, work, stocks[one.cover.kind], one, own)
                placed.setdefault(one.cover.kind, []).append((surface, fabric))
    first_min = _first_work_min(site, clock)
    laid = {
        kind: _laid(stock, placed.get(kind, []), first_min, clock)
        for kind, stock in stocks.items()
    }
    return tuple(
        StockSimulation(
            stock,
            titles.get(stock.kind, stock.kind),
            tuple(laid[stock.kind]),
            tuple(wanted.get(stock.kind, ())),
        )
        for stock in site.covers
    )


def _fabric(
    surface: Surface,
    work: SurfaceWork,
    stock: CoverStock,
    place: CoverInPlace,
    own: Sequence[Job],
) -> Fabric:
    """Join a cover with the work that soaks it: of several, that of its own time."""
    soak, soaked = None, None
    if place.laid_by:
        wanted_min = place.laid_by[0].earliest_min - soak_lead_min(stock)
        soaks = [task for task in work.tasks if task.kind == "soak_ahead"]
        soak = min(soaks, key=lambda t: abs(t.due_min - wanted_min), default=None)
    if soak is not None:
        soaked = next((job for job in own if job.task.id == soak.id), None)
    return Fabric(
        surface.id,
        surface.area_m2,
        place.planned,
        place.laid_min,
        place.off_min,
        soak,
        soaked,
    )


def _laid(
    stock: CoverStock,
    placed: Sequence[tuple[Surface, Fabric]],
    first_work_min: int,
    clock: WeekClock,
) -> list[Laid]:
    how = wetness(stock, [fabric for _, fabric in placed], first_work_min)
    found = []
    for (surface, fabric), one in zip(placed, how, strict=True):
        until_min = clock.horizon.length_min
        if fabric.off_min is not None:
            until_min = fabric.off_min + stock.turnaround_min
        found.append(
            Laid(
                surface,
                fabric.planned,
                fabric.laid_min,
                one.taken_min,
                until_min,
                one.wet,
            )
        )
    return found


def _first_work_min(site: Site, clock: WeekClock) -> int:
    """First minute of the week in which anybody is on shift."""
    windows = crew_windows(site, clock)
    starts = (w.starts_min for w in windows if not w.pattern.on_call)
    return max(0, min(starts, default=0))


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
