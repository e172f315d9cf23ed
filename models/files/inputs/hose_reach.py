"""Which water points the hoses of a zone reach, in a straight line; stairs not counted.

A point without ``reach`` serves the zones that name it, wherever they are.
"""

from collections.abc import Iterable
from math import hypot
from typing import Any

from models.files.reading.gather import Gatherer
from models.files.reading.record_reader import Entry
from models.records import WaterPoint, Zone


def with_reached(zone: Zone, points: Iterable[WaterPoint]) -> Zone:
    """Give a zone that names no water points those that reach it, nearest first."""
    if zone.water_points:
        return zone
    found = sorted((_away_m(zone, p), p.id) for p in points if _reaches(zone, p))
    return zone.model_copy(update={"water_points": tuple(name for _, name in found)})


def check_reach(
    zones: Iterable[Entry[Any]], waters: Iterable[Entry[Any]], gather: Gatherer
) -> None:
    """Ask that each zone has water within reach, and names none beyond it."""
    points: dict[str, WaterPoint] = {}
    all_read = True
    for entry in waters:
        point = entry.record
        if point is None:
            all_read = False
            continue
        points[point.id] = point
        for key, at_m in (("x", point.x_m), ("y", point.y_m)):
            if point.reach_m is not None and at_m is None:
                gather.add(
                    entry.place(key), f"{entry.label}{key}", "nothing",
                    "where it stands, x and y in m, as its reach is given",
                )  # fmt: skip
    for entry in zones:
        if entry.record is not None:
            _check_zone(entry, entry.record, points, gather, all_read=all_read)


def _check_zone(
    entry: Entry[Any],
    zone: Zone,
    points: dict[str, WaterPoint],
    gather: Gatherer,
    *,
    all_read: bool,
) -> None:
    place, label = entry.place("water_points"), f"{entry.label}water_points"
    if not zone.water_points and all_read:
        if not with_reached(zone, points.values()).water_points:
            wanted = "ids of water points, or a [[water]] whose reach takes the zone in"
            gather.add(place, label, "nothing", wanted)
        return
    for name in zone.water_points:
        point = points.get(name)
        if point is None or point.x_m is None or point.y_m is None:
            continue
        if point.reach_m is not None and not _reaches(zone, point):
            gather.add(
                place, label, f"'{name}', {_away_m(zone, point):.0f} m away",
                f"a water point within reach; the hose of {name} reaches "
                f"{point.reach_m:g} m",
            )  # fmt: skip


def _reaches(zone: Zone, point: WaterPoint) -> bool:
    if point.reach_m is None or point.x_m is None or point.y_m is None:
        return False
    return _away_m(zone, point) <= point.reach_m


def _away_m(zone: Zone, point: WaterPoint) -> float:
    return hypot(zone.x_m - (point.x_m or 0.0), zone.y_m - (point.y_m or 0.0))
