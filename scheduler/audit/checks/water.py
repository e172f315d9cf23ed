"""Whether there is water: flow by the minute, the day's allotment, the tank's level.

A timer that finds too little is a finding of its own: its surface is not wet then.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from models.local_clock import WeekClock
from models.quantities import Units, show
from models.records import Finding, FindingKind, Site, SurfaceWork
from scheduler.audit.replayed.found import found
from scheduler.audit.replayed.jobs import Job
from scheduler.audit.replayed.runs import stretches
from scheduler.audit.replayed.water import SLACK_L, WaterSimulation

_SLACK_M = 1e-6


def check_water(
    site: Site,
    simulations: Sequence[WaterSimulation],
    jobs: Sequence[Job],
    clock: WeekClock,
    works: Sequence[SurfaceWork] = (),
) -> list[Finding]:
    """Find where more is drawn than flows, than the day allows or than there is."""
    findings = [*_reach(site, jobs, clock), *_timers_reach(site, works, clock)]
    for simulation in simulations:
        findings += _flow(site, simulation, clock)
        findings += _allotment(site, simulation, clock)
        findings += _tank(site, simulation, clock)
        findings += _timers(site, simulation, clock)
    return findings


def _reach(site: Site, jobs: Sequence[Job], clock: WeekClock) -> Iterator[Finding]:
    reach = {zone.id: zone.water_points for zone in site.zones}
    for job in jobs:
        point_id = job.visit.water_point_id
        if job.task.water is None:
            continue
        if point_id is None:
            words = f"{job.words} needs water and is given no water point"
        elif point_id not in reach.get(job.work.zone_id, ()):
            words = f"{job.words} cannot reach {point_id} from zone {job.work.zone_id}"
        elif lacking := _hose_lacking_m(site, job.work.zone_id, point_id):
            words = f"{job.words} lacks {lacking:.0f} m of hose from {point_id}"
        else:
            continue
        yield found(
            clock, "water_flow", words, job.start_min, job.end_min, job=job,
            water_point_id=point_id,
        )  # fmt: skip


def _timers_reach(
    site: Site, works: Sequence[SurfaceWork], clock: WeekClock
) -> Iterator[Finding]:
    reach = {zone.id: zone.water_points for zone in site.zones}
    for work in works:
        for timer in work.automatic:
            point_id = timer.water_point_id
            if point_id not in reach[work.zone_id]:
                words = (
                    f"{work.label}: its timer cannot reach {point_id} from zone "
                    f"{work.zone_id}"
                )
                yield found(
                    clock, "water_flow", words, timer.from_min, timer.until_min,
                    surface_id=work.surface_id, water_point_id=point_id,
                )  # fmt: skip


def _hose_lacking_m(site: Site, zone_id: str, point_id: str) -> float:
    """Metres by which a point's hose falls short of a zone; 0 where it reaches."""
    zone = next(zone for zone in site.zones if zone.id == zone_id)
    point = next(point for point in site.water_points if point.id == point_id)
    if point.reach_m is None or point.x_m is None or point.y_m is None:
        return 0.0
    away_m = float(np.hypot(zone.x_m - point.x_m, zone.y_m - point.y_m))
    return away_m - point.reach_m if away_m > point.reach_m + _SLACK_M else 0.0


def _flow(
    site: Site, simulation: WaterSimulation, clock: WeekClock
) -> Iterator[Finding]:
    for first, last in stretches(simulation.drawn_l > simulation.free_l_min + SLACK_L):
        worst = first + int(
            np.argmax((simulation.drawn_l - simulation.free_l_min)[first:last])
        )
        words = (
            f"{simulation.point.name}: "
            f"{show('flow', simulation.drawn_l[worst], site.units)} drawn "
            f"{clock.words(worst)}; "
            f"{show('flow', simulation.free_l_min[worst], site.units)} flow"
        )
        yield _short(simulation, "water_flow", words, first, last, clock)


def _allotment(
    site: Site, simulation: WaterSimulation, clock: WeekClock
) -> Iterator[Finding]:
    allotment = simulation.point.daily_allotment_l
    if allotment is None:
        return
    for first, last in simulation.days:
        by_timers = float(simulation.automatic_l[first:last].sum())
        by_visits = float(simulation.drawn_l[first:last].sum())
        drawn = by_visits + by_timers
        if by_visits > max(0.0, allotment - by_timers) + SLACK_L:
            words = (
                f"{simulation.point.name}: {_litres(drawn, site.units)} drawn on "
                f"{clock.day_words(first)}; {_litres(allotment, site.units)} a day "
                "are allowed"
            )
            yield _short(simulation, "water_allotment", words, first, last, clock)


def _tank(
    site: Site, simulation: WaterSimulation, clock: WeekClock
) -> Iterator[Finding]:
    if simulation.level_l is None:
        return
    for first, last in stretches(simulation.level_l < -SLACK_L):
        lacking = -float(simulation.level_l[first:last].min())
        words = (
            f"{simulation.point.name} runs empty {clock.words(first)}, "
            f"{_litres(lacking, site.units)} short"
        )
        yield _short(simulation, "tank_level", words, first, last, clock)


def _timers(
    site: Site, simulation: WaterSimulation, clock: WeekClock
) -> Iterator[Finding]:
    """Say where a timer's draw finds too little flow, allotment or water in a tank.

    A tank is too low for it where it is empty at the end of a minute of the draw.
    """
    automatic = simulation.automatic_l
    reasons = {
        "flow": automatic > simulation.point.flow_l_min - simulation.others_l + SLACK_L
    }
    if simulation.level_l is not None:
        reasons["tank"] = (automatic > 0) & (simulation.level_l <= SLACK_L)
    if simulation.point.daily_allotment_l is not None:
        over = np.zeros(len(automatic), bool)
        for first, last in simulation.days:
            used = np.cumsum(automatic[first:last])
            over[first:last] = used > simulation.point.daily_allotment_l + SLACK_L
        reasons["day"] = over & (automatic > 0)
    for reason, short in reasons.items():
        if short.any():
            first = int(np.argmax(short))
            words = (
                f"{simulation.point.name}: a timer draws "
                f"{show('flow', automatic[first], site.units)} {clock.words(first)}; "
                f"{_lacking(reason, simulation, first, site.units)}"
            )
            last = len(short) - int(np.argmax(short[::-1]))
            yield found(
                clock, "automatic_short", words, first, last,
                water_point_id=simulation.point.id, minutes=int(short.sum()),
            )  # fmt: skip


def _lacking(
    reason: str, simulation: WaterSimulation, minute: int, units: Units
) -> str:
    if reason == "tank":
        return "the tank is empty then"
    if reason == "day":
        allotment = _litres(simulation.point.daily_allotment_l or 0.0, units)
        return f"{allotment} a day are allowed"
    left = max(0.0, simulation.point.flow_l_min - float(simulation.others_l[minute]))
    return f"{show('flow', left, units)} flow"


def _short(
    simulation: WaterSimulation,
    kind: FindingKind,
    words: str,
    first: int,
    last: int,
    clock: WeekClock,
) -> Finding:
    return found(
        clock, kind, words, first, last,
        water_point_id=simulation.point.id, minutes=last - first,
    )  # fmt: skip


def _litres(litres_l: float, units: Units) -> str:
    return show("volume", litres_l, units)
