"""Tries every roster of a tiny site with one gang: the reference for its optimum.

All times of such a site are multiples of five minutes, and so are the middles of what
wets, as it takes a multiple of ten; its cost is then linear in the starts between two
multiples and some best roster keeps to them. The count of dry time,
of water and of prices is plain and shares nothing with the solver.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from models.records import CrewShift, Stretch, SurfaceWork, Task, WorkList

STEP = 5


@dataclass(frozen=True)
class Done:
    """A visit."""

    task: Task
    surface: SurfaceWork
    shift: CrewShift
    start: int

    @property
    def end(self) -> int:
        """Minute it is over."""
        return self.start + self.task.duration_min


def cheapest(work: WorkList) -> float:
    """Least cost over all rosters."""
    return min(cost(work, done) for done in rosters(work))


def rosters(work: WorkList) -> Iterator[tuple[Done, ...]]:
    """Every roster that keeps the rules of crews, surfaces and water."""
    shifts = sorted(work.shifts, key=lambda s: s.starts_min)
    assert len({shift.crew_id for shift in shifts}) == 1
    yield from _extended(work, shifts, ())


def _extended(
    work: WorkList, shifts: list[CrewShift], done: tuple[Done, ...]
) -> Iterator[tuple[Done, ...]]:
    yield done
    for number, shift in enumerate(shifts):
        for surface in work.surfaces:
            for task in _open(surface, done):
                for start in _starts(work, shift, surface, task, done):
                    more = (*done, Done(task, surface, shift, start))
                    if _has_water(work, more):
                        yield from _extended(work, shifts[number:], more)


def _open(surface: SurfaceWork, done: tuple[Done, ...]) -> list[Task]:
    mine = {one.task.id for one in done}
    covered = surface.covered_from_min is not None or any(
        one.task.covers for one in done if one.surface is surface
    )
    rewets = [surface.rewet] if surface.rewet is not None and covered else []
    duties = [
        task
        for task in surface.tasks
        if task.id not in mine and all(link.task_id in mine for link in task.after)
    ]
    return [*duties, *rewets]


def _starts(
    work: WorkList,
    shift: CrewShift,
    surface: SurfaceWork,
    task: Task,
    done: tuple[Done, ...],
) -> Iterator[int]:
    zones = work.zone_ids
    since, zone = shift.starts_min, shift.home_zone
    low = max(0, task.earliest_min)
    if done and done[-1].shift is shift:
        since, zone = done[-1].end, done[-1].surface.zone_id
    elif done:
        low = max(low, done[-1].end + work.rest_min)
    walk = work.travel_min[zones.index(zone)][zones.index(surface.zone_id)]
    stays = done and done[-1].shift is shift and done[-1].surface is surface
    low = max(low, since + (0 if stays else walk))
    ends = {one.task.id: one.end for one in done}
    low = max([low, *(ends[link.task_id] + link.min_gap_min for link in task.after)])
    high = min(shift.ends_min + shift.overtime_max_min, task.latest_min)
    for start in range(-(-low // STEP) * STEP, high - task.duration_min + 1, STEP):
        end = start + task.duration_min
        if all(end <= b.from_min or start >= b.until_min for b in shift.pauses):
            yield start


def _has_water(work: WorkList, done: tuple[Done, ...]) -> bool:
    """Whether the site's one supply has the flow, the allotment and the level."""
    (supply,) = work.supplies
    draws = [
        (one.start + need.from_min, one.start + need.until_min, need)
        for one in done
        if (need := one.task.water) is not None
    ]
    for first, last, need in draws:
        for minute in range(first, last, STEP):
            taken = sum(
                t.flow_l_min for t in supply.taken if t.from_min <= minute < t.until_min
            )
            if need.flow_l_min > supply.flow_l_min - taken:
                return False
    if supply.daily_allotment_l is not None:
        drawn = sum(need.litres_l for _, _, need in draws)
        if drawn > supply.daily_allotment_l:  # all of it lies in one day
            return False
    if supply.capacity_l is None:
        return True
    level = supply.level_at_start_l
    for minute in range(0, work.horizon.length_min, STEP):
        level = min(supply.capacity_l, level + STEP * supply.refill_l_min)
        level -= STEP * sum(
            need.flow_l_min for first, last, need in draws if first <= minute < last
        )
        if level < 0:
            return False
    return True


def cost(work: WorkList, done: tuple[Done, ...]) -> float:
    """Price of a roster."""
    total = sum(_of_surface(work, surface, done) for surface in work.surfaces)
    for shift in {one.shift for one in done}:
        mine = [one for one in done if one.shift is shift]
        over = max(0, mine[-1].end - shift.ends_min)
        total += shift.call_out_cost + over * work.costs.overtime_cost_per_min
        zone, last = shift.home_zone, None
        for one in mine:
            walk = work.travel_min[work.zone_ids.index(zone)][
                work.zone_ids.index(one.surface.zone_id)
            ]
            total += 0 if one.surface is last else walk * work.costs.travel_cost_per_min
            zone, last = one.surface.zone_id, one.surface
    drawn_l = sum(one.task.water.litres_l for one in done if one.task.water)
    total += drawn_l * work.costs.litre_cost
    worker_min = sum(one.task.people * (one.end - one.start) for one in done)
    total += worker_min * work.costs.worker_minute_cost
    return total + changes(work, done) * work.costs.change_cost


def changes(work: WorkList, done: tuple[Done, ...]) -> int:
    """Count what a roster changes of a published one of the same horizon."""
    if work.published is None:
        return 0
    told = [(v.task_id, v.crew_id, v.start_min) for v in work.published.visits]
    made = [(one.task.id, one.shift.crew_id, one.start) for one in done]
    repeats = {surface.rewet.id for surface in work.surfaces if surface.rewet}
    near = work.costs.change_beyond_min
    total = 0
    for task, crew, start in told:
        total += (task, crew) not in {m[:2] for m in made if abs(m[2] - start) <= near}
    for task, _, start in made:
        same = [s for name, _, s in told if name == task]
        if task in repeats:
            same = [s for s in same if abs(s - start) <= near]
        total += not same
    return total


def _of_surface(work: WorkList, surface: SurfaceWork, done: tuple[Done, ...]) -> float:
    mine = [one for one in done if one.surface is surface]
    total = sum(
        task.missed_cost
        for task in surface.tasks
        if task.id not in {one.task.id for one in mine}
        and not (
            task.met_by_wetting
            and any(
                one.task.effect == "wet"
                and task.earliest_min <= one.start < task.latest_min
                for one in mine
            )
        )
    )
    for one in mine:
        late = max(0, one.end - one.task.due_min)
        most = 0.95 * one.task.missed_cost or inf
        total += min(late * one.task.late_cost_per_min, most)
    assert surface.curve is not None
    held = surface.curve.held_l_m2
    lasts = round(60 * held / surface.curve.loss_l_m2_h[0])
    on = min([one.end for one in mine if one.task.covers], default=10**6)
    damp, shares = [], []
    for one in mine:
        if one.task.effect != "none":
            kept_from = one.start + one.task.half_done_min
            damp.append((kept_from, one.end))
            until = 10**6 if one.task.strip else one.end
            shares.append((kept_from, until, one.task.share_fraction))
    guarded = list(damp)
    full = surface.reserve_at_start_l_m2 / held
    if surface.covered_from_min is not None:
        on = surface.covered_from_min
        damp.append((0, round(lasts * full)))
    wettings = [one.end for one in mine if one.task.effect == "wet"]
    damp += [(end, end + lasts) for end in wettings if end >= on]
    share, price = work.rewet_at_reserve_fraction, work.costs.low_water_factor
    plenty = guarded + [(0, round(lasts * (full - share)))] * (on <= 0)
    plenty += [(end, end + round(lasts * (1 - share))) for end in wettings if end >= on]
    for minute in range(0, min(work.horizon.length_min, surface.ends_min), STEP):
        if minute >= on:
            dry, low = (not _any_holds(wet, minute) for wet in (damp, plenty))
            total += (dry + price * low) * STEP * surface.weights[0].per_min
        elif any(_holds(bare, minute) for bare in surface.fresh):
            left = 1 - sum(share for a, b, share in shares if a <= minute < b)
            total += max(0, left) * STEP * surface.fresh_weights[0].per_min
    return total


def _any_holds(spans: list[tuple[int, int]], minute: int) -> bool:
    return any(a <= minute < b for a, b in spans)


def _holds(stretch: Stretch, minute: int) -> bool:
    return stretch.from_min <= minute < stretch.until_min
