"""Covers wanted against covers owned, if every surface is covered when it can be."""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise

from models.quantities import show
from models.records import CoverStock, Finding, SiteInput
from scheduler.methods.local_clock import LocalClock
from scheduler.methods.protocol import Case, Chain


def covers_short(
    site_input: SiteInput, asked: Sequence[tuple[Case, Chain]]
) -> Iterator[Finding]:
    """Say for each kind in stock when more are wanted than there are."""
    for stock in site_input.site.covers:
        uses = [
            (case, *span)
            for case, chain in asked
            if case.surface.cover.kind == stock.kind
            and (span := _in_use(case, chain, stock))
        ]
        yield from _short(site_input, stock, uses)


def _in_use(case: Case, chain: Chain, stock: CoverStock) -> tuple[int, int] | None:
    """From laying to being ready for the next surface, cut to the horizon."""
    start_min = case.ready_min if case.needs_cover else 0
    lifted = [t for t in chain.tasks if t.kind == "remove_cover"]
    end_min = case.horizon_min
    if lifted:
        off_min = lifted[-1].earliest_min + lifted[-1].duration_min
        end_min = min(end_min, off_min + round(60 * stock.turnaround_h))
    elif case.ends_min <= 0 or case.cured_unseen:
        return None
    elif case.ends_min in case.later_min:  # another cover follows
        end_min = min(end_min, case.ends_min + round(60 * stock.turnaround_h))
    start_min = max(0, start_min)
    return (start_min, end_min) if start_min < end_min else None


def _short(
    site_input: SiteInput, stock: CoverStock, uses: Sequence[tuple[Case, int, int]]
) -> Iterator[Finding]:
    horizon, units = site_input.horizon, site_input.site.units
    clock = LocalClock(site_input.site.timezone, horizon)
    cuts = sorted({minute for _, a, b in uses for minute in (a, b)})
    spans = []
    for from_min, until_min in pairwise(cuts):
        there = [case for case, a, b in uses if a <= from_min < b]
        area_m2 = sum(case.surface.area_m2 for case in there)
        spans.append((area_m2 > stock.stock_m2, from_min, until_min, area_m2, there))
    for short, group in groupby(spans, key=lambda span: span[0]):
        if not short:
            continue
        run = list(group)
        _, _, _, area_m2, there = max(run, key=lambda span: span[3])
        first, last = run[0][1], run[-1][2]
        labels = "; ".join(case.surface.label for case in there[:3])
        more = f" and {len(there) - 3} more" if len(there) > 3 else ""
        yield Finding(
            kind="covers_short",
            words=(
                f"{labels}{more} want {show('area', area_m2, units)} of "
                f"{there[0].surface.cover.title.lower()} from {clock.words(first)} to "
                f"{clock.words(last)}; the site owns "
                f"{show('area', stock.stock_m2, units)}{_order(stock, first, clock)}"
            ),
            starts_at=horizon.at(first),
            ends_at=horizon.at(last),
            limit="covers",
        )


def _order(stock: CoverStock, short_min: int, clock: LocalClock) -> str:
    """Say by when more must be ordered, where the site knows how long that takes."""
    if not stock.lead_time_h:
        return ""
    by_min = short_min - round(60 * stock.lead_time_h)
    if by_min < 0:
        return f"; too late to order, it takes {stock.lead_time_h:g} h"
    return f"; order more by {clock.words(by_min)}"
