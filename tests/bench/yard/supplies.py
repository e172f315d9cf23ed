"""Whether there are water and covers for a plan, at every minute."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from math import ceil

import numpy as np

from models.records import CoverNeed, SurfaceWork, WaterSupply
from tests.bench.dispatcher import Tap
from tests.bench.yard.facts import FOG_M2, NOZZLE_L_MIN, SiteFacts, action_of
from tests.bench.yard.rows import Row

_SLACK_L, _SLACK_M2 = 1.0, 0.5
_ROUNDED = 1.03  # rows are written in whole minutes and tenths of litres
_OFF_IN = 4  # a cover comes back strip by strip, in so many
#: Cloth that has come off wet needs no soaking for so long (assumption). [min]
_STAYS_WET_MIN = 1440
_LEAST_M2 = 1.0


def without_water(facts: SiteFacts, rows: Sequence[Row]) -> Iterator[str]:
    """Find too little water in rows, flows, allotments and tanks."""
    for row in rows:
        if row.litres_l * _ROUNDED + _SLACK_L < (wants := _wants_l(facts, row)):
            yield f"too little water: {row.words}: {row.litres_l:.0f} of {wants:.0f} L"
        zone = facts.surfaces[row.surface_id].work.zone_id if row.litres_l else ""
        if zone and row.point not in facts.work.water_points[zone]:
            yield f"water out of reach: {row.words}: {row.point or 'no point'}"
    for supply in facts.work.supplies:
        yield from _of_point(facts, supply, rows)


def _wants_l(facts: SiteFacts, row: Row) -> float:
    if row.action == "break" or row.people == 0:
        return 0.0
    of = facts.surfaces[row.surface_id]
    area_m2 = row.share * of.work.area_m2
    if row.action == "fog":
        nozzles = min(row.people, ceil(area_m2 / FOG_M2))
        return NOZZLE_L_MIN * (row.end_min - row.start_min) * nozzles
    job = next((job for name, job in of.jobs.items() if name == row.action), None)
    return job.litres_l_m2 * area_m2 if job else 0.0


def _of_point(
    facts: SiteFacts, supply: WaterSupply, rows: Sequence[Row]
) -> Iterator[str]:
    length = max([facts.length_min, *(row.end_min for row in rows)]) + 1
    tap, drawn = Tap(supply, length), np.zeros(length)
    for row in rows:
        first = max(0, row.start_min + row.set_up_min)
        if row.point == supply.id and row.litres_l and first < row.end_min:
            drawn[first : row.end_min] += row.litres_l / (row.end_min - first)
    over = np.flatnonzero(drawn > np.array(tap.flow) + 0.5)
    if len(over):
        at = facts.work.horizon.at(int(over[0]))
        yield f"over the flow: {supply.id} {at:%a %d %H:%M} UTC, {len(over)} min"
    for day in supply.days:
        used = float(drawn[max(0, day.from_min) : max(0, day.until_min)].sum())
        allowed = supply.daily_allotment_l
        if allowed is not None and used > allowed + _SLACK_L:
            yield f"over the allotment: {supply.id}, {used:.0f} of {allowed:.0f} L"
    if supply.capacity_l is None:
        return
    level = min(supply.level_at_start_l, supply.capacity_l)
    for minute in range(length):
        level = min(supply.capacity_l, level + tap.arriving[minute])
        level = max(min(level, 0.0), level - tap.taken[minute]) - float(drawn[minute])
        if level < -_SLACK_L:
            at = facts.work.horizon.at(minute)
            yield f"tank empty: {supply.id} {at:%a %d %H:%M} UTC"
            return


def without_covers(facts: SiteFacts, rows: Sequence[Row]) -> Iterator[str]:
    """Find covers over the stock, and dry ones laid that nobody soaked."""
    by_surface: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        by_surface[row.surface_id].append(row)
    asked_min = {  # when cloth has to go into water
        need.laid_by: task.earliest_min - need.soak_lead_min
        for of in facts.surfaces.values()
        for need in of.work.cover_needs
        for task in of.work.tasks
        if task.id == need.laid_by
    }
    begins_min = max(0, min(s.starts_min for s in facts.work.shifts))
    for supply in facts.work.covers:
        used: list[tuple[int, float, str]] = []
        wet: dict[str, list[list[float]]] = defaultdict(list)
        laid: list[tuple[Row, CoverNeed]] = []
        for sid, of in facts.surfaces.items():
            needs = [n for n in of.work.cover_needs if n.kind == supply.kind]
            for need in needs:
                _use(need, of.work, by_surface[sid], used, wet, laid)
        in_use = 0.0
        for at, area_m2, sid in sorted(used, key=lambda one: one[:2]):
            in_use += area_m2
            if area_m2 > 0 and in_use > supply.stock_m2 + _SLACK_M2:
                when = facts.work.horizon.at(max(0, at))
                yield (
                    f"covers over the stock: {supply.kind} {when:%a %d %H:%M} UTC, "
                    f"{in_use:.0f} of {supply.stock_m2:.0f} m² with {sid}"
                )
                break
        yield from _unsoaked(laid, wet, asked_min, begins_min)


def _named(work: SurfaceWork, task_ids: Sequence[str]) -> set[tuple[str, str]]:
    """Give tasks as rows name them: by action, and by name where that is no other."""
    found = set[tuple[str, str]]()
    for task in work.tasks:
        if task.id in task_ids:
            action = action_of(task)
            name = task.id.split("/", 1)[1] if action == "other" else ""
            found.add((action, name))
    return found


def _use(
    need: CoverNeed,
    work: SurfaceWork,
    rows: Sequence[Row],
    used: list[tuple[int, float, str]],
    wet: dict[str, list[list[float]]],
    laid: list[tuple[Row, CoverNeed]],
) -> None:
    """Follow one cover of a surface from the stock and back to it."""
    surface_id = work.surface_id
    lays = _named(work, (need.laid_by,) if need.laid_by else ())
    lifts = _named(work, need.lifted_by)
    if need.laid_by is None:
        used.append((-1, need.area_m2, surface_id))
    waiting = 0.0
    for row in rows:
        area_m2 = need.area_m2 * row.share
        if row.action == "soak_ahead" and row.task in {"", need.kind}:
            used.append((row.start_min, area_m2, surface_id))
            ready = row.end_min + need.soak_lead_min if row.people else row.start_min
            wet[surface_id].append([ready, area_m2, 1 << 40])
            waiting += area_m2
        if (row.action, row.task) in lays:
            used.append((row.start_min, max(0.0, area_m2 - waiting), surface_id))
            waiting = max(0.0, waiting - area_m2)
            if need.soak_lead_min:
                laid.append((row, need))
        if (row.action, row.task) in lifts:
            for i in range(_OFF_IN):
                back = row.passes_min(i, _OFF_IN) + need.turnaround_min
                used.append((back, -area_m2 / _OFF_IN, surface_id))
                wet[""].append([back, area_m2 / _OFF_IN, back + _STAYS_WET_MIN])


def _unsoaked(
    laid: Sequence[tuple[Row, CoverNeed]],
    wet: dict[str, list[list[float]]],
    asked_min: dict[str, int],
    begins_min: int,
) -> Iterator[str]:
    """Find cloth laid dry; what had to go in before the first shift was in already."""
    for row, need in sorted(laid, key=lambda one: one[0].start_min):
        wanted = need.area_m2 * row.share
        for batch in (*wet[row.surface_id], *wet[""]):
            ready, left, until = batch
            if ready <= row.start_min + 1 <= until + 1:
                taken = min(left, wanted)
                batch[1] -= taken
                wanted -= taken
        if wanted > _LEAST_M2 and asked_min[need.laid_by or ""] > begins_min:
            yield f"laid without soaking: {row.words}: {wanted:.0f} m² {need.kind}"
