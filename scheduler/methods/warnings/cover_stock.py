"""Covers wanted against covers owned, if every surface is covered when it can be."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from models.drying.covers import cover_properties
from models.local_clock import WeekClock
from models.quantities import show
from models.records import CoverNeed, CoverStock, Finding, SiteInput, Task
from models.wording import three_of
from scheduler.methods.case.cover_needs import cover_needs
from scheduler.methods.case.protocol import Case, Chain, end_min


def covers_short(
    site_input: SiteInput, asked: Sequence[tuple[Case, Chain]]
) -> Iterator[tuple[str, Finding]]:
    """Say for each kind in stock who wants more than there is, and when.

    Parameters
    ----------
    asked : sequence of (Case, Chain)
        The stages of each surface, one surface after the other.
    """
    wanted: dict[str, list[_Use]] = {stock.kind: [] for stock in site_input.site.covers}
    for _, group in groupby(asked, key=lambda one: one[0].surface.id):
        stages = list(group)
        tasks = {task.id: task for _, chain in stages for task in chain.tasks}
        for need in cover_needs(stages, site_input.site, tasks):
            from_min, until_min = _taken(need, tasks, site_input.horizon.length_min)
            if from_min < until_min:
                label = stages[0][0].surface.label
                use = _Use(label, need.area_m2, from_min, until_min)
                wanted[need.kind].append(use)
    for stock in site_input.site.covers:
        yield from _short(site_input, stock, wanted[stock.kind])


class _Use(NamedTuple):
    """A surface that wants covers, from soaking to being ready for the next."""

    label: str
    area_m2: float
    from_min: int
    until_min: int


def _taken(
    need: CoverNeed, tasks: Mapping[str, Task], horizon_min: int
) -> tuple[int, int]:
    """When covers are taken from the stock and free again, at the soonest."""
    from_min, until_min = need.lies_from_min or 0, horizon_min
    if need.laid_by is not None:
        from_min = tasks[need.laid_by].earliest_min - need.soak_lead_min
    if need.lifted_by:
        off_min = max(end_min(tasks[task_id]) for task_id in need.lifted_by)
        until_min = min(until_min, off_min + need.turnaround_min)
    return max(0, from_min), until_min


def _short(
    site_input: SiteInput, stock: CoverStock, uses: Sequence[_Use]
) -> Iterator[tuple[str, Finding]]:
    """Say once for each stretch in which more of a kind is wanted than there is."""
    horizon, units = site_input.horizon, site_input.site.units
    clock = WeekClock(site_input.site.timezone, horizon)
    cuts = sorted({minute for use in uses for minute in use[2:]})
    spans = []
    for from_min, until_min in pairwise(cuts):
        there = [use for use in uses if use.from_min <= from_min < use.until_min]
        area_m2 = sum(use.area_m2 for use in there)
        spans.append((area_m2 > stock.stock_m2, from_min, until_min, area_m2, there))
    for short, group in groupby(spans, key=lambda span: span[0]):
        if not short:
            continue
        run = list(group)
        _, _, _, area_m2, there = max(run, key=lambda span: span[3])
        first, last = run[0][1], run[-1][2]
        title = cover_properties(stock.kind).title.lower()
        verb = "needs" if len(there) == 1 else "need"
        short = Finding(
            kind="covers_short",
            words=(
                f"{verb} {show('area', area_m2, units)} of {title}, "
                f"{clock.span(first, last)}; "
                f"the site owns {show('area', stock.stock_m2, units)}"
                f"{_order(stock, first, clock)}"
            ),
            starts_at=horizon.at(first),
            ends_at=horizon.at(last),
            limit="covers",
        )
        yield three_of([use.label for use in there]), short


def _order(stock: CoverStock, short_min: int, clock: WeekClock) -> str:
    """Say by when more must be ordered, where the site knows how long that takes."""
    if not stock.lead_time_h:
        return ""
    by_min = short_min - round(60 * stock.lead_time_h)
    if by_min < 0:
        return f"; too late to order: delivery takes {stock.lead_time_h:g} h"
    return f"; order more by {clock.words(by_min)}"
