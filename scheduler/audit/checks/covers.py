"""Whether the site owns the covers that a roster lays, and whether they are wet."""

from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise

from models.drying.covers import soak_lead_min
from models.local_clock import WeekClock
from models.quantities import show
from models.records import Finding, Site
from scheduler.audit.replayed.covers import Laid, StockSimulation
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.wet_cloth import SLACK_M2


def check_covers(
    site: Site,
    simulations: Sequence[StockSimulation],
    clock: WeekClock,
    begun_until: datetime | None = None,
) -> list[Finding]:
    """Say where more covers are in use than the site owns, by whom and when.

    What lies there from the start, or was begun before ``begun_until``, may be more,
    for no roster laid it: that is worth knowing. Laying more on top of it is a broken
    promise, and so is laying fabric dry.
    """
    since_min = 0 if begun_until is None else clock.horizon.minute(begun_until)
    findings = []
    for simulation in simulations:
        findings += [
            _short(site, simulation, *span, clock)
            for span in _over(simulation, since_min)
        ]
        findings += [
            _dry(site, simulation, use, clock) for use in simulation.laid if not use.wet
        ]
    return findings


def _dry(
    site: Site, simulation: StockSimulation, use: Laid, clock: WeekClock
) -> Finding:
    """Name the surface on which fabric is laid that nobody has put into water."""
    lead_min = soak_lead_min(simulation.stock)
    words = (
        f"{use.surface.label}: {show('area', use.surface.area_m2, site.units)} of "
        f"{simulation.title} laid {clock.words(use.laid_min)} dry; nobody put it into "
        f"water {lead_min / 60:g} h before, and so much did not come off wet"
    )
    return found(
        clock, "laid_dry", words, use.laid_min, use.laid_min + 1,
        surface_id=use.surface.id,
    )  # fmt: skip


def _over(simulation: StockSimulation, since_min: int) -> list[tuple[int, int, bool]]:
    """Stretches in which more is in use than in stock, and whether the roster laid it.

    Parted where that changes.
    """
    spans: list[tuple[int, int, bool]] = []
    for first, last in pairwise(simulation.minutes):
        if simulation.in_use_m2(first) <= simulation.stock.stock_m2 + SLACK_M2:
            continue
        planned = any(
            use.planned and use.laid_min >= since_min for use in simulation.at(first)
        )
        if spans and spans[-1][1:] == (first, planned):
            first = spans.pop()[0]
        spans.append((first, last, planned))
    return spans


def _short(
    site: Site,
    simulation: StockSimulation,
    first: int,
    last: int,
    planned: bool,
    clock: WeekClock,
) -> Finding:
    """Name the surfaces that take covers from the first shortage to the worst of it."""
    times = [minute for minute in simulation.minutes if first <= minute < last]
    worst = max(times, key=lambda minute: (simulation.in_use_m2(minute), -minute))
    there = simulation.at(worst)
    late = [use for use in there if first <= use.from_min] or there
    wanted = sum(use.surface.area_m2 for use in late)
    free = simulation.stock.stock_m2 - simulation.in_use_m2(worst) + wanted
    labels = ", ".join(use.surface.label for use in late)
    verb = "needs" if len(late) == 1 else "need"
    laid_min = max(0, min(use.laid_min for use in late))
    soaked = f", in water from {clock.words(first)}" if first < laid_min else ""
    words = (
        f"{labels} {verb} {show('area', wanted, site.units)} of {simulation.title} "
        f"{clock.words(laid_min)}{soaked}; "
        f"{show('area', max(0.0, free), site.units)} free"
    )
    return found(
        clock, "cover_stock" if planned else "covers_short", words, first, last,
        limit="covers", minutes=last - first,
    )  # fmt: skip
