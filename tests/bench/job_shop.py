"""PyJobShop on the part of a week that it can express.

Gangs are machines that rest while they are off shift, surfaces machines that take one
gang at a time, walks are setup times; tasks have a window, what they follow and a due
date with a weight. It cannot express drying, a free number of rewets, call-outs,
overtime or shared water: rewets are asked for beforehand at the minutes at which covers
would run dry if all went well, gangs on call and overtime are left alone, and visits
that find no water are struck out.

Needs the extra ``bench``; it is loaded when asked for.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

from models.records import CrewShift, Task, WeightStep, WorkList
from tests.bench.dispatcher import BenchDispatcher, Dispatched, Spot
from tests.bench.struck import with_water
from tests.bench.whole_week import Attempt

MOST_PAIRS = 400_000  # setup times; each is an arc of a circuit: more do not fit


@dataclass(frozen=True)
class Wanted:
    """A task as a job shop knows it, and whose gangs can do it."""

    task: Task
    spot: Spot
    earliest: int
    due: int
    weight: int


def plan_jobs(work: WorkList, seconds: float, workers: int = 2) -> Attempt:
    """Build the model and solve it; the seconds are the solver's."""
    try:
        from pyjobshop import Model
    except ImportError:
        return Attempt(None, "not installed: pip install -e '.[bench]'")
    shifts = _regular(work)
    wanted = [
        (one, crews)
        for spot in BenchDispatcher(work).spots
        for one in _of_surface(work, spot)
        if (crews := _able(one.task, shifts))
    ]
    pairs = sum(len(a & b) for (_, a), (_, b) in permutations(wanted, 2))
    if pairs > MOST_PAIRS:
        return Attempt(None, f"no roster: {len(wanted)} tasks, {pairs} setup times")
    shop = Model()
    after = 2 * work.horizon.length_min  # what finds no place in the week goes there
    gangs = {
        crew: shop.add_machine(_off_shift(work, own, after))
        for crew, own in shifts.items()
    }
    places = {surface.surface_id: shop.add_machine() for surface in work.surfaces}
    made = []
    for one, crews in wanted:
        job = shop.add_job(weight=one.weight, due_date=max(0, one.due))
        made.append(shop.add_task(job, earliest_start=max(0, one.earliest)))
        for crew in sorted(crews):
            resources = [gangs[crew], places[one.task.surface_id]]
            shop.add_mode(made[-1], resources, one.task.duration_min)
    for before, behind, gap in _links([one for one, _ in wanted]):
        shop.add_end_before_start(made[before], made[behind], gap)
    for a, b in permutations(range(len(made)), 2):
        walk = _walk(work, wanted[a][0], wanted[b][0])
        for crew in sorted(wanted[a][1] & wanted[b][1]):
            shop.add_setup_time(gangs[crew], made[a], made[b], walk)
    shop.set_objective(weight_total_tardiness=1)
    result = shop.solve(time_limit=seconds, display=False, num_workers=workers)
    words = f"{len(made)} tasks, {result.status.value.lower()}"
    if not result.best.tasks:
        return Attempt(None, f"no roster: {words}")
    names = list(gangs)
    visits = []
    for (one, _), given in zip(wanted, result.best.tasks, strict=True):
        shift = _shift_at(shifts[names[given.resources[0]]], given.start, given.end)
        latest = one.task.latest_min
        if one.task.kind == "rewet":
            latest = min(latest, one.spot.work.ends_min)
        in_time = given.start < work.horizon.length_min and given.end <= latest
        if shift is not None and in_time:
            visits.append(Dispatched(one.task, shift, given.start, None))
    return Attempt(with_water(work, visits), words)


def _regular(work: WorkList) -> dict[str, list[CrewShift]]:
    """Shifts by gang, in order; call-outs are not among them."""
    found: dict[str, list[CrewShift]] = defaultdict(list)
    for shift in sorted(work.shifts, key=lambda s: (s.crew_id, s.starts_min)):
        if shift.kind == "shift" and shift.ends_min > 0:
            found[shift.crew_id].append(shift)
    return found


def _able(task: Task, shifts: dict[str, list[CrewShift]]) -> frozenset[str]:
    return frozenset(
        crew
        for crew, own in shifts.items()
        if own[0].people >= task.people and set(task.skills) <= set(own[0].skills)
    )


def _off_shift(
    work: WorkList, shifts: list[CrewShift], after: int
) -> list[tuple[int, int]]:
    """Stretches without work; the longest walk from home lies in them."""
    walk = max(work.travel_min[work.zone_ids.index(shifts[0].home_zone)])
    rests, since = [], 0
    for shift in shifts:
        rests.append((since, shift.starts_min + walk))
        rests += [(pause.from_min, pause.until_min) for pause in shift.pauses]
        since = shift.ends_min
    rests.append((since, after))
    return [(max(0, a), b) for a, b in rests if b > max(0, a)]


def _shift_at(shifts: list[CrewShift], start: int, end: int) -> CrewShift | None:
    return next(
        (s for s in shifts if s.starts_min <= start and end <= s.ends_min), None
    )


def _walk(work: WorkList, one: Wanted, other: Wanted) -> int:
    if one.spot is other.spot and not work.walks_on_surface:
        return 0
    return work.travel_min[one.spot.zone][other.spot.zone]


def _links(wanted: list[Wanted]) -> Iterator[tuple[int, int, int]]:
    """What follows what after which gap, by place; rewets wait for the cover."""
    places = {one.task.id: place for place, one in enumerate(wanted)}
    for place, one in enumerate(wanted):
        for link in one.task.after:
            if link.task_id in places:
                yield places[link.task_id], place, link.min_gap_min
        if one.task.kind == "rewet":
            for cover in (t for t in one.spot.work.tasks if t.covers):
                if cover.id in places:
                    yield places[cover.id], place, 0


def _of_surface(work: WorkList, spot: Spot) -> Iterator[Wanted]:
    """Tasks of a surface, then its rewets."""
    surface = spot.work
    dry = spot.dry_at
    for task in surface.tasks:
        due, weight = min(task.due_min, task.latest_min), task.late_cost_per_min
        if task.effect != "none" or task.covers:
            bare = [
                s.from_min for s in surface.fresh if s.until_min > task.earliest_min
            ]
            first = max(0, task.earliest_min, min(bare, default=0))
            due, weight = first + task.duration_min, surface.fresh_weights[0].per_min
        yield Wanted(task, spot, task.earliest_min, due, max(1, round(weight)))
        if surface.curve is not None and task.effect == "wet":
            dry = spot.dries_at(min(max(0, due), work.horizon.length_min))
    rewet, end = surface.rewet, min(work.horizon.length_min, surface.ends_min)
    wetted = 0
    while rewet is not None and dry is not None and dry < end:
        by = _served(work, wetted, dry)
        if by is None or by + rewet.duration_min >= end:
            return
        earliest = max(rewet.earliest_min, wetted, (wetted + by) // 2)
        weight = max(1, round(_price(surface.weights, by)))
        yield Wanted(rewet, spot, earliest, by + rewet.duration_min, weight)
        wetted = by + rewet.duration_min
        dry = max(wetted + 1, spot.dries_at(wetted))


def _served(work: WorkList, since: int, dry: int) -> int | None:
    """Last minute of a shift up to the dry one, or else the first after it."""
    regular = [s for s in work.shifts if s.kind == "shift"]
    by = max(
        (min(s.ends_min - 30, dry) for s in regular if s.starts_min < dry), default=0
    )
    if by > since + 60:
        return by
    return min(
        (max(s.starts_min, dry) for s in regular if s.ends_min > dry), default=None
    )


def _price(steps: tuple[WeightStep, ...], minute: int) -> float:
    return [s.per_min for s in steps if s is steps[0] or s.from_min <= minute][-1]
