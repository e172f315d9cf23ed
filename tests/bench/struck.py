"""Strikes out visits for which there is no water: for peers that do not model it.

In order of start each visit draws from the first point that has the litres; one that
finds none falls out, and with it what may only follow it.
"""

from collections.abc import Iterable

from models.records import WorkList
from tests.bench.dispatcher import Dispatched, Tap


def with_water(work: WorkList, visits: Iterable[Dispatched]) -> list[Dispatched]:
    """Visits that find water, with their points."""
    closes = (shift.ends_min + shift.overtime_max_min for shift in work.shifts)
    length = max([work.horizon.length_min, *closes]) + 1
    taps = {supply.id: Tap(supply, length) for supply in work.supplies}
    by_id = {surface.surface_id: surface for surface in work.surfaces}
    covered = {s.surface_id for s in work.surfaces if s.covered_from_min is not None}
    done: set[str] = set()
    kept = []
    for visit in sorted(visits, key=lambda v: (v.start, v.task.id)):
        task, surface = visit.task, by_id[visit.task.surface_id]
        if task.kind == "rewet" and surface.surface_id not in covered:
            continue
        if any(link.task_id not in done for link in task.after):
            continue
        point = None
        if task.water is not None:
            first, last = (
                visit.start + task.water.from_min,
                visit.start + task.water.until_min,
            )
            reach = work.water_points[surface.zone_id]
            flow = task.water.flow_l_min
            point = next((p for p in reach if taps[p].draw(first, last, flow)), None)
            if point is None:
                continue
        done.add(task.id)
        if task.covers:
            covered.add(surface.surface_id)
        kept.append(Dispatched(task, visit.shift, visit.start, point))
    return kept
