"""Plays a roster through minute by minute and shares no code with the solver.

Covers, crews and water by their plain definitions, one minute after the other; what it
counts must be what the roster claims, and it must find no rule broken.
"""

from collections import defaultdict
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from math import inf

from models.records import CrewShift, Roster, SurfaceWork, Task, Visit, WorkList

UNITS = 60_000_000  # per L/m², as the rates come in millionths per hour
SLACK_L = 1e-6


@dataclass
class Played:
    """What the simulator counted."""

    dry_min: int = 0
    cost: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    amount: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    violations: list[str] = field(default_factory=list)

    @property
    def total(self) -> float:
        """Cost of the roster."""
        return sum(self.cost.values())


@dataclass(frozen=True)
class Done:
    """A visit with its task, in minutes."""

    visit: Visit
    task: Task
    work: SurfaceWork
    start: int
    end: int


def simulate(work: WorkList, roster: Roster) -> Played:
    """Count costs and broken rules of a roster."""
    played = Played()
    by_id = {surface.surface_id: surface for surface in work.surfaces}
    done = []
    for visit in roster.visits:
        surface = by_id[visit.surface_id]
        known = [*surface.tasks, *([surface.rewet] if surface.rewet else [])]
        task = next(task for task in known if task.id == visit.task_id)
        start = work.horizon.minute(visit.starts_at)
        done.append(
            Done(visit, task, surface, start, work.horizon.minute(visit.ends_at))
        )
    done.sort(key=lambda one: (one.start, one.visit.id))
    for surface in work.surfaces:
        mine = [one for one in done if one.work is surface]
        _play_surface(work, surface, mine, played)
        _check_surface(work, surface, mine, played)
    _play_crews(work, done, played)
    _play_water(work, done, played)
    return played


def _weight(steps: tuple[tuple[int, float], ...], minute: int) -> float:
    weight = steps[0][1]
    for from_min, per_min in steps:
        if minute >= from_min:
            weight = per_min
    return weight


def _play_surface(
    work: WorkList, surface: SurfaceWork, mine: list[Done], played: Played
) -> None:
    length = work.horizon.length_min
    weights = tuple((w.from_min, w.per_min) for w in surface.weights)
    fresh_weights = tuple((w.from_min, w.per_min) for w in surface.fresh_weights)
    covered = sealed = False
    reserve = held = 0
    if surface.curve is not None:
        held = round(surface.curve.held_l_m2 * UNITS)
    if surface.covered_from_min is not None and surface.covered_from_min <= 0:
        covered = True
        reserve = min(held, round(surface.reserve_at_start_l_m2 * UNITS))
    # The water above the share that is little, as a cover of its own.
    little = 60 * round(work.rewet_at_reserve_fraction * held / 60)
    above = max(0, reserve - little)
    low_factor = work.costs.low_water_factor if little else 0
    for minute in range(min(length, surface.ends_min)):
        ended = [one for one in mine if one.end == minute]
        if surface.covered_from_min == minute or any(o.task.covers for o in ended):
            covered = True
        if covered and any(one.task.effect == "wet" for one in ended):
            reserve, above = held, held - little
        sealed = sealed or any(one.task.effect == "seal" for one in ended)
        keeping = [
            one
            for one in mine
            if one.task.effect != "none"
            and one.start + one.task.half_done_min <= minute
            and (minute < one.end or (one.task.strip and not covered))
        ]
        left = 1.0 - sum(one.task.share_fraction for one in keeping)
        if covered:
            left = float(not keeping)
        bare = any(s.from_min <= minute < s.until_min for s in surface.fresh)
        dry = surface.curve is not None and reserve <= 60 if covered else bare
        if dry and not sealed and left > 1e-9:
            played.dry_min += 1
            weight = _weight(weights if covered else fresh_weights, minute)
            played.cost["dry"] += left * weight
        low = covered and surface.curve is not None and above <= 60
        if low and low_factor and not sealed and not keeping:
            played.amount["low_water"] += 1
            played.cost["low_water"] += low_factor * _weight(weights, minute)
        if covered and surface.curve is not None:
            steps = surface.curve.loss_l_m2_h
            loss = steps[min(minute // surface.curve.step_min, len(steps) - 1)]
            reserve = min(held, max(0, reserve - round(loss * 1e6)))
            above = min(held - little, max(0, above - round(loss * 1e6)))


def _check_surface(
    work: WorkList, surface: SurfaceWork, mine: list[Done], played: Played
) -> None:
    broken = played.violations
    for one, other in combinations(mine, 2):
        beside = one.task.job and one.task.job == other.task.job
        if other.start < one.end and not beside:
            broken.append(f"two visits at once on {surface.surface_id}")
    first: dict[str, Done] = {}
    for one in mine:
        first.setdefault(one.task.id, one)
    for one in mine:
        name = one.visit.id
        if one.end - one.start != one.task.duration_min:
            broken.append(f"{name} has the wrong length")
        if one.start < max(0, one.task.earliest_min) or one.end > one.task.latest_min:
            broken.append(f"{name} is outside its window")
        if one.task is not surface.rewet and first[one.task.id] is not one:
            broken.append(f"{name} is done twice")
        if one.task is surface.rewet:
            on = [o.end for o in mine if o.task.covers]
            if surface.covered_from_min is not None:
                on.append(surface.covered_from_min)
            if not on or one.start < min(on):
                broken.append(f"{name} comes before the cover")
        late = max(0, one.end - one.task.due_min)
        for link in one.task.after:
            before = first.get(link.task_id)
            if before is None:
                broken.append(f"{name} comes before {link.task_id}")
                continue
            begun = before.start if link.from_start else before.end
            if one.start < begun + link.min_gap_min:
                broken.append(f"{name} comes before {link.task_id}")
            elif link.max_gap_min is not None:
                late += max(0, one.start - before.end - link.max_gap_min)
        if one.task.water is not None:
            played.cost["water"] += one.task.water.litres_l * work.costs.litre_cost
        worker_min = one.task.people * (one.end - one.start)
        played.amount["labour"] += worker_min
        played.cost["labour"] += worker_min * work.costs.worker_minute_cost
        if late * one.task.late_cost_per_min > 0:
            played.amount["late"] += late
            cost = late * one.task.late_cost_per_min
            most = one.task.late_cost_most if work.lateness_capped else inf
            played.cost["late"] += min(cost, most)
    for task in surface.tasks:
        met = task.met_by_wetting and any(
            o.task.effect == "wet" and task.earliest_min <= o.start < task.latest_min
            for o in mine
        )
        if task.missed_cost > 0 and task.id not in first and not met:
            played.amount["missed"] += 1
            played.cost["missed"] += task.missed_cost


def _play_crews(work: WorkList, done: list[Done], played: Played) -> None:
    broken = played.violations
    shifts = {(shift.crew_id, shift.id): shift for shift in work.shifts}
    zones = {zone: index for index, zone in enumerate(work.zone_ids)}
    groups: dict[tuple[str, str], list[Done]] = defaultdict(list)
    for one in done:
        groups[one.visit.crew_id, one.visit.shift_id].append(one)
    worked: dict[str, list[list[Done]]] = defaultdict(list)
    for key, mine in groups.items():
        shift = shifts[key]
        worked[shift.crew_id].append(mine)
        at, since, last = zones[shift.home_zone], shift.starts_min, ""
        for one in mine:
            to = zones[one.work.zone_id]
            stays = one.work.surface_id == last and not work.walks_on_surface
            walk = 0 if stays else work.travel_min[at][to]
            if one.start < since + walk:
                broken.append(f"no time to walk to {one.visit.id}")
            played.amount["travel"] += walk
            played.cost["travel"] += walk * work.costs.travel_cost_per_min
            _check_shift(shift, one, broken)
            at, since, last = to, one.end, one.work.surface_id
        over = max(0, max(one.end for one in mine) - shift.ends_min)
        played.amount["overtime"] += over
        played.cost["overtime"] += over * work.costs.overtime_cost_per_min
        if shift.kind == "on_call":
            played.amount["call_out"] += 1
            played.cost["call_out"] += shift.call_out_cost
    for crew_id, turns in worked.items():
        turns.sort(key=lambda mine: mine[0].start)
        for before, after in pairwise(turns):
            ended = max(one.end for one in before)
            if after[0].start < ended + work.rest_min:
                broken.append(f"{crew_id} has too little rest")


def _check_shift(shift: CrewShift, one: Done, broken: list[str]) -> None:
    name = one.visit.id
    closes = shift.ends_min + shift.overtime_max_min
    if one.start < shift.starts_min or one.end > closes:
        broken.append(f"{name} is outside the shift")
    if any(one.start < b.until_min and b.from_min < one.end for b in shift.pauses):
        broken.append(f"{name} is in a break")
    if one.task.people > shift.people:
        broken.append(f"{name} needs more people")
    if not set(one.task.skills) <= set(shift.skills):
        broken.append(f"{name} needs another skill")


def _play_water(work: WorkList, done: list[Done], played: Played) -> None:
    broken = played.violations
    length = max([work.horizon.length_min, *(one.end for one in done)])
    draws: dict[str, list[float]] = {s.id: [0.0] * length for s in work.supplies}
    for one in done:
        need, point = one.task.water, one.visit.water_point_id
        if need is None:
            continue
        if point is None or point not in work.water_points[one.work.zone_id]:
            broken.append(f"{one.visit.id} has no water point in reach")
            continue
        for minute in range(one.start + need.from_min, one.start + need.until_min):
            draws[point][minute] += need.flow_l_min
    for supply in work.supplies:
        drawn = draws[supply.id]
        level = min(supply.level_at_start_l, supply.capacity_l or 0.0)
        for minute in range(length):
            taken = sum(
                t.flow_l_min for t in supply.taken if t.from_min <= minute < t.until_min
            )
            if drawn[minute] > max(0.0, supply.flow_l_min - taken) + SLACK_L:
                broken.append(f"{supply.id} flows too little at {minute}")
            if supply.capacity_l is not None:
                arriving = supply.refill_l_min + sum(
                    d.litres_l for d in supply.deliveries if d.at_min == minute
                )
                level = min(supply.capacity_l, level + arriving)
                level = max(min(level, 0.0), level - taken) - drawn[minute]
                if level < -SLACK_L:
                    broken.append(f"{supply.id} is empty at {minute}")
        for day in supply.days:
            used = sum(drawn[max(0, day.from_min) : max(0, day.until_min)])
            if supply.daily_allotment_l is not None and (
                used > supply.daily_allotment_l + SLACK_L
            ):
                broken.append(f"{supply.id} is over its allotment on {day.from_min}")
