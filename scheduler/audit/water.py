"""Whether there is water: flow by the minute, the day's allotment, the tank's level.

Counted from the site's water points. What others and systems on a timer draw comes
first: it takes its share of the flow and empties the tank, but never below nothing. A
timer that finds too little is a finding of its own: its surface is not wet then.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from models.quantities import Units, show
from models.records import (
    AutomaticFlow,
    Finding,
    FindingKind,
    Floats,
    Site,
    SurfaceWork,
    WaterHour,
    WaterPoint,
    WaterTrace,
)
from scheduler.audit.found import found
from scheduler.audit.jobs import Job
from scheduler.audit.site_clock import MIDNIGHT, SiteClock

#: Litres; sums of even flows over a week stay far below.
SLACK_L = 1e-6
_SLACK_M = 1e-6


@dataclass(frozen=True)
class PointPlay:
    """A water point minute by minute.

    Attributes
    ----------
    drawn_l, automatic_l : array (minutes,)
        Drawn by visits, and by systems on a timer.
    free_l_min : array (minutes,)
        What its hoses have left for visits after others and timers took theirs.
    others_l : array (minutes,)
        Taken by others.
    level_l : array (minutes,) or None
        In the tank at the end of each minute; below zero where it is overdrawn.
    days : tuple of (int, int)
        Minutes of each local day.
    """

    point: WaterPoint
    drawn_l: Floats
    automatic_l: Floats
    free_l_min: Floats
    others_l: Floats
    level_l: Floats | None
    days: tuple[tuple[int, int], ...]

    @cached_property
    def spare_l(self) -> Floats:
        """What could be drawn more at the end of each minute of a tank.

        No more than the least it will hold from then on until it next is full.
        """
        levels = np.array([]) if self.level_l is None else self.level_l
        spare, least = np.empty(len(levels)), np.inf
        for minute in range(len(levels) - 1, -1, -1):
            level = levels[minute]
            full = level >= (self.point.capacity_l or 0.0) - SLACK_L
            least = level if full else min(least, level)
            spare[minute] = least
        return spare


def play_water(
    site: Site,
    jobs: Sequence[Job],
    clock: SiteClock,
    works: Sequence[SurfaceWork] = (),
) -> tuple[PointPlay, ...]:
    """Play every water point to the end of the horizon or of the last job."""
    length = max([clock.horizon.length_min, *(job.end_min for job in jobs)])
    timers = [flow for work in works for flow in work.automatic]
    return tuple(
        _play(point, jobs, timers, clock, length) for point in site.water_points
    )


def _play(
    point: WaterPoint,
    jobs: Sequence[Job],
    timers: Sequence[AutomaticFlow],
    clock: SiteClock,
    length: int,
) -> PointPlay:
    drawn, taken, arriving, automatic = (np.zeros(length) for _ in range(4))
    for timer in timers:
        if timer.water_point_id == point.id:
            span = slice(max(0, timer.from_min), max(0, timer.until_min))
            automatic[span] += timer.flow_l_min
    for job in jobs:
        water = job.task.water
        if water is not None and job.visit.water_point_id == point.id:
            first, last = (
                job.start_min + water.from_min,
                job.start_min + water.until_min,
            )
            drawn[max(0, first) : max(0, last)] += water.flow_l_min
    days = []
    for day in clock.days(length):
        days.append(clock.stretch(day, MIDNIGHT, MIDNIGHT))
        for use in point.competing:
            first, last = clock.stretch(day, use.starts, use.ends)
            taken[max(0, first) : max(0, last)] += use.flow_l_min
    for delivery in point.deliveries:
        minute = clock.horizon.minute(delivery.at) + round(60 * delivery.late_by_h)
        if delivery.at >= clock.horizon.starts_at and minute < length:
            arriving[minute] += delivery.litres_l
    level = None
    if point.capacity_l is not None:
        first_come = taken + automatic
        level = _level(point, arriving + point.refill_l_min, first_come, drawn)
    free = np.maximum(0.0, point.flow_l_min - taken - automatic)
    within = tuple((max(0, a), min(b, length)) for a, b in days if b > 0)
    return PointPlay(point, drawn, automatic, free, taken, level, within)


def _level(point: WaterPoint, arriving: Floats, taken: Floats, drawn: Floats) -> Floats:
    """Level after each minute: what arrives fits or overflows, then draws."""
    capacity = point.capacity_l or 0.0
    now = capacity if point.level_l is None else min(point.level_l, capacity)
    levels = np.empty(len(drawn))
    for minute in range(len(drawn)):
        now = min(capacity, now + arriving[minute])
        now = max(min(now, 0.0), now - taken[minute]) - drawn[minute]
        levels[minute] = now
    return levels


def check_water(
    site: Site,
    plays: Sequence[PointPlay],
    jobs: Sequence[Job],
    clock: SiteClock,
    works: Sequence[SurfaceWork] = (),
) -> list[Finding]:
    """Find where more is drawn than flows, than the day allows or than there is."""
    findings = [*_reach(site, jobs, clock), *_timers_reach(site, works, clock)]
    for play in plays:
        findings += _flow(site, play, clock)
        findings += _allotment(site, play, clock)
        findings += _tank(site, play, clock)
        findings += _timers(site, play, clock)
    return findings


def _reach(site: Site, jobs: Sequence[Job], clock: SiteClock) -> Iterator[Finding]:
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
    site: Site, works: Sequence[SurfaceWork], clock: SiteClock
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


def _flow(site: Site, play: PointPlay, clock: SiteClock) -> Iterator[Finding]:
    for first, last in stretches(play.drawn_l > play.free_l_min + SLACK_L):
        worst = first + int(np.argmax((play.drawn_l - play.free_l_min)[first:last]))
        words = (
            f"{play.point.name}: {show('flow', play.drawn_l[worst], site.units)} drawn "
            f"{clock.words(worst)}; {show('flow', play.free_l_min[worst], site.units)} "
            "flow"
        )
        yield _short(play, "water_flow", words, first, last, clock)


def _allotment(site: Site, play: PointPlay, clock: SiteClock) -> Iterator[Finding]:
    allotment = play.point.daily_allotment_l
    if allotment is None:
        return
    for first, last in play.days:
        by_timers = float(play.automatic_l[first:last].sum())
        by_visits = float(play.drawn_l[first:last].sum())
        drawn = by_visits + by_timers
        if by_visits > max(0.0, allotment - by_timers) + SLACK_L:
            words = (
                f"{play.point.name}: {_litres(drawn, site.units)} drawn on "
                f"{clock.day_words(first)}; {_litres(allotment, site.units)} a day "
                "are allowed"
            )
            yield _short(play, "water_allotment", words, first, last, clock)


def _tank(site: Site, play: PointPlay, clock: SiteClock) -> Iterator[Finding]:
    if play.level_l is None:
        return
    for first, last in stretches(play.level_l < -SLACK_L):
        lacking = -float(play.level_l[first:last].min())
        words = (
            f"{play.point.name} runs dry {clock.words(first)}; "
            f"{_litres(lacking, site.units)} are lacking"
        )
        yield _short(play, "tank_level", words, first, last, clock)


def _timers(site: Site, play: PointPlay, clock: SiteClock) -> Iterator[Finding]:
    """Say where a timer's draw finds too little flow, allotment or water in a tank.

    A tank is too low for it where it is empty at the end of a minute of the draw.
    """
    automatic = play.automatic_l
    reasons = {"flow": automatic > play.point.flow_l_min - play.others_l + SLACK_L}
    if play.level_l is not None:
        reasons["tank"] = (automatic > 0) & (play.level_l <= SLACK_L)
    if play.point.daily_allotment_l is not None:
        over = np.zeros(len(automatic), bool)
        for first, last in play.days:
            used = np.cumsum(automatic[first:last])
            over[first:last] = used > play.point.daily_allotment_l + SLACK_L
        reasons["day"] = over & (automatic > 0)
    for reason, short in reasons.items():
        if short.any():
            first = int(np.argmax(short))
            words = (
                f"{play.point.name}: a timer draws "
                f"{show('flow', automatic[first], site.units)} {clock.words(first)}; "
                f"{_lacking(reason, play, first, site.units)}"
            )
            last = len(short) - int(np.argmax(short[::-1]))
            yield found(
                clock, "automatic_short", words, first, last,
                water_point_id=play.point.id, minutes=int(short.sum()),
            )  # fmt: skip


def _lacking(reason: str, play: PointPlay, minute: int, units: Units) -> str:
    if reason == "tank":
        return "the tank is empty then"
    if reason == "day":
        allotment = _litres(play.point.daily_allotment_l or 0.0, units)
        return f"{allotment} a day are allowed"
    left = max(0.0, play.point.flow_l_min - float(play.others_l[minute]))
    return f"{show('flow', left, units)} flow"


def _short(
    play: PointPlay,
    kind: FindingKind,
    words: str,
    first: int,
    last: int,
    clock: SiteClock,
) -> Finding:
    return found(
        clock, kind, words, first, last,
        water_point_id=play.point.id, minutes=last - first,
    )  # fmt: skip


def _litres(litres_l: float, units: Units) -> str:
    return show("volume", litres_l, units)


def stretches(flags: "np.typing.NDArray[np.bool_]") -> Iterator[tuple[int, int]]:
    """Yield the runs of True as first minute and the minute after the last."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], flags.astype(np.int8), [0]))))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        yield int(first), int(last)


def water_traces(
    plays: Sequence[PointPlay], clock: SiteClock
) -> tuple[WaterTrace, ...]:
    """Hours of every point: drawn, peak flow, level and allotment left at their end."""
    return tuple(
        WaterTrace(water_point_id=play.point.id, hours=tuple(_hours(play, clock)))
        for play in plays
    )


def _hours(play: PointPlay, clock: SiteClock) -> Iterator[WaterHour]:
    curing = play.drawn_l + play.automatic_l
    for first in range(0, len(curing), 60):
        last = min(first + 60, len(curing))
        left = None
        if play.point.daily_allotment_l is not None:
            midnight = next(a for a, b in play.days if a <= last - 1 < b)
            used = float(curing[midnight:last].sum())
            left = max(0.0, play.point.daily_allotment_l - used)
        level = None
        if play.level_l is not None:
            level = max(0.0, float(play.level_l[last - 1]))
        yield WaterHour(
            at=clock.horizon.at(first),
            drawn_l=float(curing[first:last].sum()),
            peak_flow_l_min=float(curing[first:last].max()),
            level_l=level,
            allotment_left_l=left,
        )
