"""Which water points the hoses of a zone reach, in a straight line; stairs not counted.

A point without ``reach`` serves the zones that name it, wherever they are.
"""

from collections.abc import Iterable
from math import hypot
from typing import Any

from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.records import WaterPoint, Zone


def with_reached(zone: Zone, points: Iterable[WaterPoint]) -> Zone:
    """Give a zone that names no water points those that reach it, nearest first."""
    if zone.water_points:
        return zone
    found = sorted((_away_m(zone, p), p.id) for p in points if _reaches(zone, p))
    return zone.model_copy(update={"water_points": tuple(name for _, name in found)})


def check_reach(
    zones: Iterable[RawEntry[Any]],
    waters: Iterable[RawEntry[Any]],
    problems: ProblemCollector,
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
                wanted = "where it stands, x and y in m, as its reach is given"
                entry.refuse(problems, key, "", wanted)
    for entry in zones:
        if entry.record is not None:
            _check_zone(entry, entry.record, points, problems, all_read=all_read)


def _check_zone(
    entry: RawEntry[Any],
    zone: Zone,
    points: dict[str, WaterPoint],
    problems: ProblemCollector,
    *,
    all_read: bool,
) -> None:
    if not zone.water_points and all_read:
        if not with_reached(zone, points.values()).water_points:
            wanted = "ids of water points, or a [[water]] whose reach covers the zone"
            entry.refuse(problems, "water_points", "", wanted)
        return
    for name in zone.water_points:
        point = points.get(name)
        if point is None or point.x_m is None or point.y_m is None:
            continue
        if point.reach_m is not None and not _reaches(zone, point):
            entry.refuse(
                problems, "water_points",
                f"'{name}', {_away_m(zone, point):.0f} m away",
                f"a water point within reach; its hose reaches {point.reach_m:g} m",
            )  # fmt: skip


def _reaches(zone: Zone, point: WaterPoint) -> bool:
    if point.reach_m is None or point.x_m is None or point.y_m is None:
        return False
    return _away_m(zone, point) <= point.reach_m


def _away_m(zone: Zone, point: WaterPoint) -> float:
    return hypot(zone.x_m - (point.x_m or 0.0), zone.y_m - (point.y_m or 0.0))
