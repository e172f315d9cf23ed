"""What is said of covers: how many are free, and who takes them."""

import re

from models.records import CoverNeed
from tests.scheduler.solver.explain.told import AMOUNT, LABELS, TIME, Told, number, says


@says(rf"(Slab S\d) wants ({AMOUNT}) of burlap; the site has ({AMOUNT})")
def too_small_a_stock(told: Told, match: re.Match[str]) -> None:
    assert number(match[2]) > number(match[3]), told.words
    assert _need(told, match[1]).area_m2 == number(match[2]), told.words


@says(
    rf"(Slab S\d) wants ({AMOUNT}) of burlap ({TIME})(?:, in water from "
    rf"({TIME}))?; ({AMOUNT}) of ({AMOUNT}) are free(?:(, and never enough for "
    rf"it again in the plan)|, enough from ({TIME})(?:, when those of "
    rf"({LABELS}) are off and washed)?)"
)
def too_few_covers(told: Told, match: re.Match[str]) -> None:
    name = match[1].removeprefix("Slab ")
    need, stock_m2 = _need(told, match[1]), told.work.covers[0].stock_m2
    assert (number(match[2]), number(match[6])) == (need.area_m2, stock_m2)
    assert number(match[5]) < number(match[2]), told.words
    at = told.at(match[4] or match[3])
    free_m2 = max(0.0, stock_m2 - _taken(told, at, name))
    assert free_m2 == number(match[5]), told.words
    if match[8]:
        enough = told.at(match[8])
        assert stock_m2 - _taken(told, enough, name) >= need.area_m2, told.words
        assert stock_m2 - _taken(told, enough - 1, name) < need.area_m2, told.words


@says(
    rf"(Slab S\d) wants ({AMOUNT}) of burlap ({TIME})(?:, in water from "
    rf"({TIME}))?; they are free then, but needed for ({LABELS}) from ({TIME})"
)
def taken_later(told: Told, match: re.Match[str]) -> None:
    name = match[1].removeprefix("Slab ")
    need, stock_m2 = _need(told, match[1]), told.work.covers[0].stock_m2
    at, later = told.at(match[4] or match[3]), told.at(match[6])
    assert stock_m2 - _taken(told, at, name) >= need.area_m2, told.words
    assert stock_m2 - _taken(told, later, name) < need.area_m2, told.words
    for label in re.findall(r"Slab (S\d)", match[5]):
        span = _span(told, label, _need(told, label))
        assert span is not None, told.words
        assert at < span[0] <= later < span[1], told.words


@says(
    rf"(Slab S\d) wants ({AMOUNT}) of burlap ({TIME})(?:, in water from "
    rf"({TIME}))?; (?:nobody puts it into water, and so much does not come off wet|"
    rf"it goes into water ({TIME}))"
)
def not_soaked(told: Told, match: re.Match[str]) -> None:
    name = match[1].removeprefix("Slab ")
    need, stock_m2 = _need(told, match[1]), told.work.covers[0].stock_m2
    at = told.at(match[4] or match[3])
    assert stock_m2 - _taken(told, at, name) >= need.area_m2, told.words
    soaks = _soaks(told, name, need)
    assert bool(soaks) == bool(match[5]), told.words
    if match[5]:
        assert soaks[0][0] == told.at(match[5]), told.words
        assert soaks[0][1] + need.soak_lead_min > told.at(match[3]), told.words


def _soaks(told: Told, name: str, need: CoverNeed) -> list[tuple[int, int]]:
    mine = [v for v in told.by.visits if v.surface_id == name]
    return [(v.start, v.end) for v in mine if v.task.id == need.soaked_by]


def _need(told: Told, label: str) -> CoverNeed:
    surface = told.by.surfaces[label.removeprefix("Slab ")]
    return surface.cover_needs[0]


def _taken(told: Told, minute: int, but: str) -> float:
    """Area that other surfaces have from the stock in a minute."""
    total = 0.0
    for name, surface in told.by.surfaces.items():
        for need in surface.cover_needs:
            span = _span(told, name, need)
            if name != but and span is not None and span[0] <= minute < span[1]:
                total += need.area_m2
    return total


def _span(told: Told, name: str, need: CoverNeed) -> tuple[int, float] | None:
    mine = [v for v in told.by.visits if v.surface_id == name]
    laid = [v.start for v in mine if v.task.id == need.laid_by]
    if not laid:
        return None
    off = [v.end for v in mine if v.task.id in need.lifted_by]
    ends = max(off) + need.turnaround_min if off else float("inf")
    if need.soaked_by is not None:
        for start, over in _soaks(told, name, need):
            if over + need.soak_lead_min <= laid[0]:
                return start, ends
        if laid[0] >= need.in_water_until_min:
            return laid[0], ends
    return max(0, laid[0] - need.soak_lead_min), ends
