"""Who does it, and in what order: the part of a window's model about people.

A literal per lane that could take an item, no overlap per lane over stops padded by
the shortest walk, order literals for pairs that lie further apart and can meet.
"""

from dataclasses import dataclass
from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.solver.cost import Stop
from scheduler.solver.draft import Draft
from scheduler.solver.prepare import Problem
from scheduler.solver.window import Item, Scene


@dataclass(eq=False)
class Slot:
    """A literal that holds if an item starts in a short stretch of minutes."""

    low: int
    high: int
    literal: cp_model.IntVar

    @property
    def middle(self) -> int:
        """The minute that stands for the slot."""
        return (self.low + self.high) // 2


@dataclass(eq=False)
class Placed:
    """An item with its variables."""

    item: Item
    start: cp_model.IntVar
    present: cp_model.IntVar
    lanes: dict[int, cp_model.IntVar]
    slots: list[Slot]


def place_item(draft: Draft, item: Item, slot_min: int) -> Placed:
    """Make the variables of an item: start, present, a literal a lane, slots."""
    today = item.today
    hint = today.start if today is not None else item.first
    start = draft.number(item.first, item.last, hint)
    present = draft.flag(today is not None)
    if item.must:
        draft.at_least_one([present])
    lanes: dict[int, cp_model.IntVar] = {}
    for lane, (low, high) in item.spans.items():
        here = today is not None and today.lane == lane
        literal = draft.flag(here) if len(item.spans) > 1 else present
        lanes[lane] = literal
        if low > item.first:
            draft.model.add(start >= low).only_enforce_if(literal)
        if high < item.last:
            draft.model.add(start <= high).only_enforce_if(literal)
    if len(lanes) > 1:
        draft.model.add_exactly_one([*lanes.values(), ~present])
    slots = _slots(draft, item, start, present, slot_min) if item.job.matters else []
    return Placed(item, start, present, lanes, slots)


def _slots(
    draft: Draft,
    item: Item,
    start: cp_model.IntVar,
    present: cp_model.IntVar,
    slot_min: int,
) -> list[Slot]:
    slots: list[Slot] = []
    spans = _merged(item)
    for first, last in spans:
        low = first
        while low <= last:
            high = min(last, (low // slot_min + 1) * slot_min - 1)
            today = item.today
            hint = today is not None and low <= today.start <= high
            literal = draft.flag(hint)
            draft.model.add_linear_constraint(start, low, high).only_enforce_if(literal)
            slots.append(Slot(low, high, literal))
            low = high + 1
    draft.model.add_exactly_one([*(slot.literal for slot in slots), ~present])
    return slots


def _merged(item: Item) -> list[tuple[int, int]]:
    merged: list[tuple[int, int]] = []
    for low, high in sorted(item.spans.values()):
        if merged and low <= merged[-1][1] + 1:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return merged


def keep_crews(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """One job at a time, walks, breaks and rest."""
    for lane in scene.window.lanes:
        mine = [one for one in placed if lane in one.lanes]
        if mine:
            _keep_lane(draft, scene, lane, mine)
    _keep_rest(draft, scene, placed)


def _keep_lane(
    draft: Draft, scene: Scene, lane_index: int, placed: list[Placed]
) -> None:
    problem, window, model = scene.problem, scene.window, draft.model
    lane = problem.lanes[lane_index]
    fixed = [
        stop
        for stop in scene.fixed_on_lane[lane_index]
        if stop.start >= window.start
        and stop.start + problem.jobs[stop.job].duration <= window.end
    ]
    intervals: list[cp_model.IntervalVar] = []
    pads: dict[int, int] = {}
    for one in placed:
        job = one.item.job
        pad = min(problem.travel[job.zone])
        together = _stay_on(draft, lane_index, one, placed, fixed, problem, pad)
        pads[id(one)] = pad
        size = job.duration + pad
        if together:
            walks = draft.flag(not any(draft.hinted(stays) for stays in together))
            model.add(walks + sum(together) == 1)
            today = one.item.today
            end = draft.number(
                one.item.first + job.duration,
                one.item.last + size,
                (today.start if today else one.item.first)
                + job.duration
                + pad * draft.hinted(walks),
            )
            length = job.duration + pad * walks
            intervals.append(
                model.new_optional_interval_var(
                    one.start, length, end, one.lanes[lane_index], ""
                )
            )
        else:
            intervals.append(
                model.new_optional_fixed_size_interval_var(
                    one.start, size, one.lanes[lane_index], ""
                )
            )
    for stop in fixed:
        job = problem.jobs[stop.job]
        # The walk away from a fixed stop is asked for pair by pair.
        intervals.append(
            model.new_fixed_size_interval_var(stop.start, job.duration, "")
        )
    for a, b in lane.breaks:
        # A walk may fall into a break: only the work itself keeps out of it.
        for one in placed:
            _keep_out(draft, one, lane_index, a, b)
    model.add_no_overlap(intervals)
    for one, other in combinations(placed, 2):
        _keep_walk(draft, scene, lane_index, one, other, pads)
    for one in placed:
        for stop in fixed:
            _keep_walk_fixed(draft, problem, lane_index, one, stop)


def _stay_on(
    draft: Draft,
    lane: int,
    one: Placed,
    placed: list[Placed],
    fixed: list[Stop],
    problem: Problem,
    pad: int,
) -> list[cp_model.IntVar]:
    """Literals for staying on the surface: the next job follows with no walk."""
    job, together = one.item.job, []
    end = one.start + job.duration
    if pad <= problem.walk(job, job):
        return []  # staying saves no walk
    for other in placed:
        theirs = other.item.job
        if other is one or theirs.surface != job.surface:
            continue
        if job.repeats and theirs.repeats:
            continue
        soonest, latest = one.item.first + job.duration, one.item.last + job.duration
        if other.item.last < soonest or other.item.first > latest + pad:
            continue
        a, b = one.item.today, other.item.today
        hint = (
            a is not None
            and b is not None
            and a.lane == b.lane == lane
            and 0 <= b.start - a.start - job.duration < pad
        )
        stays = draft.flag(hint)
        draft.model.add_implication(stays, one.lanes[lane])
        draft.model.add_implication(stays, other.lanes[lane])
        draft.model.add(other.start >= end).only_enforce_if(stays)
        draft.model.add(other.start < end + pad).only_enforce_if(stays)
        together.append(stays)
    for stop in fixed:
        if problem.jobs[stop.job].surface != job.surface:
            continue
        today = one.item.today
        hint = (
            today is not None
            and today.lane == lane
            and 0 <= stop.start - today.start - job.duration < pad
        )
        stays = draft.flag(hint)
        draft.model.add_implication(stays, one.lanes[lane])
        draft.model.add(end <= stop.start).only_enforce_if(stays)
        draft.model.add(end > stop.start - pad).only_enforce_if(stays)
        together.append(stays)
    return together


def _keep_out(draft: Draft, one: Placed, lane: int, a: int, b: int) -> None:
    """Keep the work itself out of a break, before it or after it."""
    job, item, model = one.item.job, one.item, draft.model
    low, high = item.spans[lane]
    if low >= b or high + job.duration <= a:
        return
    today = item.today
    before = draft.flag(today is not None and today.start < a)
    literal = one.lanes[lane]
    model.add(one.start + job.duration <= a).only_enforce_if(literal, before)
    model.add(one.start >= b).only_enforce_if(literal, ~before)


def _keep_walk(
    draft: Draft,
    scene: Scene,
    lane: int,
    one: Placed,
    other: Placed,
    pads: dict[int, int],
) -> None:
    """Leave the walk between two items, where the padding does not yet."""
    problem, model = scene.problem, draft.model
    a, b = one.item.job, other.item.job
    there, back = problem.walk(a, b), problem.walk(b, a)
    if there <= pads[id(one)] and back <= pads[id(other)]:
        return
    (a_low, a_high), (b_low, b_high) = one.item.spans[lane], other.item.spans[lane]
    if a_high + a.duration + there <= b_low or b_high + b.duration + back <= a_low:
        return
    both = (one.lanes[lane], other.lanes[lane])
    ahead = one.start + (a.duration + there) <= other.start
    behind = other.start + (b.duration + back) <= one.start
    if a_low + a.duration + there > b_high:
        model.add(behind).only_enforce_if(*both)
    elif b_low + b.duration + back > a_high:
        model.add(ahead).only_enforce_if(*both)
    else:
        x, y = one.item.today, other.item.today
        first = draft.flag(
            (x.start if x else one.item.first) < (y.start if y else other.item.first)
        )
        model.add(ahead).only_enforce_if(*both, first)
        model.add(behind).only_enforce_if(*both, ~first)


def _keep_walk_fixed(
    draft: Draft, problem: Problem, lane: int, one: Placed, stop: Stop
) -> None:
    """Leave the walks between an item and a stop that stands still."""
    job, other, model = one.item.job, problem.jobs[stop.job], draft.model
    latest = stop.start - problem.walk(job, other) - job.duration
    soonest = stop.start + other.duration + problem.walk(other, job)
    low, high = one.item.spans[lane]
    if high <= latest or low >= soonest:
        return
    literal = one.lanes[lane]
    today = one.item.today
    before = draft.flag(today is not None and today.start < stop.start)
    model.add(one.start <= latest).only_enforce_if(literal, before)
    model.add(one.start >= soonest).only_enforce_if(literal, ~before)


def _keep_rest(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """Leave a crew's rest between the shifts that a window lets it work in."""
    problem, model = scene.problem, draft.model
    lanes = sorted(scene.window.lanes)
    for index, early in enumerate(lanes):
        for late in lanes[index + 1 :]:
            a, b = problem.lanes[early], problem.lanes[late]
            if a.crew != b.crew or a.closes + problem.rest <= b.starts:
                continue
            for one in (p for p in placed if early in p.lanes):
                rested = one.start + (one.item.job.duration + problem.rest)
                for other in (p for p in placed if late in p.lanes):
                    if other is one:
                        continue
                    both = (one.lanes[early], other.lanes[late])
                    model.add(other.start >= rested).only_enforce_if(*both)
