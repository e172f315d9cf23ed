"""Who does it, and in what order: the part of a window's model about people.

A literal per lane that could take an item, no overlap per work unit over stops padded
by the shortest walk, order literals for pairs that lie further apart and can meet.
"""

from dataclasses import dataclass
from itertools import combinations

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.problem.problem import Job, Problem
from scheduler.solver.window.builder import Draft
from scheduler.solver.window.window import Item, Scene


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
    slots = (
        _slots(draft, item, start, present, slot_min)
        if item.job.affects_dryness
        else []
    )
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
    joined: list[tuple[int, int]] = []
    for low, high in sorted(item.spans.values()):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined


def keep_crews(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """One job at a time, walks, breaks and rest."""
    lanes = [scene.problem.lanes[index] for index in scene.window.lanes]
    for own in dict.fromkeys(own for lane in lanes for own in lane.lanes_by_unit):
        held = held_in(draft, own, placed)
        if held:
            _keep_unit(draft, scene, own, held)
    _keep_rest(draft, scene, placed)


@dataclass(eq=False)
class Held:
    """An item that a work unit may do in one of some lanes, or a gang shift in any.

    ``literal`` holds if it does; ``low`` and ``high`` are its first and last start.
    """

    placed: Placed
    lanes: tuple[int, ...]
    literal: cp_model.IntVar
    low: int
    high: int

    @property
    def job(self) -> Job:
        """What is to be done."""
        return self.placed.item.job

    @property
    def today(self) -> Stop | None:
        """Where it stands now, if it is in these lanes."""
        today = self.placed.item.today
        return today if today is not None and today.lane in self.lanes else None


def held_in(draft: Draft, lanes: tuple[int, ...], placed: list[Placed]) -> list[Held]:
    """Find the items that may go into some lanes that exclude one another."""
    found = []
    for one in placed:
        literals = [one.lanes[lane] for lane in lanes if lane in one.lanes]
        if not literals:
            continue
        literal = literals[0]
        if len(literals) > 1:
            literal = draft.flag(any(draft.hinted(each) for each in literals))
            draft.model.add(sum(literals) == literal)
        spans = [one.item.spans[lane] for lane in lanes if lane in one.lanes]
        low, high = min(a for a, _ in spans), max(b for _, b in spans)
        found.append(Held(one, lanes, literal, low, high))
    return found


def _keep_unit(
    draft: Draft, scene: Scene, lanes: tuple[int, ...], held: list[Held]
) -> None:
    """Keep a work unit to one job at a time in the lanes that it works in."""
    problem, window, model = scene.problem, scene.window, draft.model
    fixed = [
        stop
        for stop in merged_stops(scene.fixed_on_lane, lanes)
        if stop.start >= window.start
        and stop.start + problem.jobs[stop.job].duration <= window.end
    ]
    intervals: list[cp_model.IntervalVar] = []
    pads: dict[int, int] = {}
    for one in held:
        job, start = one.job, one.placed.start
        pad = min(problem.travel[job.zone])
        together = _stay_on(draft, scene, one, held, fixed, pad)
        pads[id(one)] = pad
        size = job.duration + pad
        if together:
            walks = draft.flag(not any(draft.hinted(stays) for stays in together))
            model.add(walks + sum(together) == 1)
            item = one.placed.item
            end = draft.number(
                item.first + job.duration,
                item.last + size,
                (item.today.start if item.today else item.first)
                + job.duration
                + pad * draft.hinted(walks),
            )
            length = job.duration + pad * walks
            intervals.append(
                model.new_optional_interval_var(start, length, end, one.literal, "")
            )
        else:
            intervals.append(
                model.new_optional_fixed_size_interval_var(start, size, one.literal, "")
            )
    for stop in fixed:
        job = problem.jobs[stop.job]
        # The walk away from a fixed stop is asked for pair by pair.
        intervals.append(
            model.new_fixed_size_interval_var(stop.start, job.duration, "")
        )
    for a, b in problem.lanes[lanes[0]].breaks:
        # A walk may fall into a break: only the work itself keeps out of it.
        for one in held:
            _keep_out(draft, one, a, b)
    model.add_no_overlap(intervals)
    for one, other in combinations(held, 2):
        _keep_walk(draft, problem, one, other, pads)
    for one in held:
        for stop in fixed:
            _keep_walk_fixed(draft, problem, one, stop)


def _stay_on(
    draft: Draft,
    scene: Scene,
    one: Held,
    held: list[Held],
    fixed: list[Stop],
    pad: int,
) -> list[cp_model.IntVar]:
    """Literals for staying on the surface: the next job follows with no walk."""
    problem, job, together = scene.problem, one.job, []
    start, item = one.placed.start, one.placed.item
    end = start + job.duration
    if pad <= problem.walk(job, job):
        return []  # staying saves no walk
    # A walk within a slot is no reason to let rewets touch; it would cost a literal.
    again = _next_rewet(one, held) if scene.window.slot <= pad else None
    for other in held:
        theirs, there = other.job, other.placed
        if other is one or theirs.surface != job.surface:
            continue
        if job.repeats and theirs.repeats and other is not again:
            continue
        soonest, latest = item.first + job.duration, item.last + job.duration
        if there.item.last < soonest or there.item.first > latest + pad:
            continue
        a, b = one.today, other.today
        hint = (
            a is not None
            and b is not None
            and 0 <= b.start - a.start - job.duration < pad
        )
        stays = draft.flag(hint)
        draft.model.add_implication(stays, one.literal)
        draft.model.add_implication(stays, other.literal)
        draft.model.add(there.start >= end).only_enforce_if(stays)
        draft.model.add(there.start < end + pad).only_enforce_if(stays)
        together.append(stays)
    for stop in fixed:
        if problem.jobs[stop.job].surface != job.surface:
            continue
        today = one.today
        hint = today is not None and 0 <= stop.start - today.start - job.duration < pad
        stays = draft.flag(hint)
        draft.model.add_implication(stays, one.literal)
        draft.model.add(end <= stop.start).only_enforce_if(stays)
        draft.model.add(end > stop.start - pad).only_enforce_if(stays)
        together.append(stays)
    return together


def _next_rewet(one: Held, held: list[Held]) -> Held | None:
    """Find the copy of a rewet that comes next; copies stand in their order."""
    if not one.job.repeats:
        return None
    copies = [other for other in held if other.job is one.job]
    return next(iter(copies[copies.index(one) + 1 :]), None)


def _keep_out(draft: Draft, one: Held, a: int, b: int) -> None:
    """Keep the work itself out of a break, before it or after it."""
    job, start, model = one.job, one.placed.start, draft.model
    if one.low >= b or one.high + job.duration <= a:
        return
    today = one.placed.item.today
    before = draft.flag(today is not None and today.start < a)
    model.add(start + job.duration <= a).only_enforce_if(one.literal, before)
    model.add(start >= b).only_enforce_if(one.literal, ~before)


def _keep_walk(
    draft: Draft, problem: Problem, one: Held, other: Held, pads: dict[int, int]
) -> None:
    """Leave the walk between two items, where the padding does not yet."""
    model = draft.model
    a, b = one.job, other.job
    there, back = problem.walk(a, b), problem.walk(b, a)
    if there <= pads[id(one)] and back <= pads[id(other)]:
        return
    (a_low, a_high), (b_low, b_high) = (one.low, one.high), (other.low, other.high)
    if a_high + a.duration + there <= b_low or b_high + b.duration + back <= a_low:
        return
    both = (one.literal, other.literal)
    ahead = one.placed.start + (a.duration + there) <= other.placed.start
    behind = other.placed.start + (b.duration + back) <= one.placed.start
    if a_low + a.duration + there > b_high:
        model.add(behind).only_enforce_if(*both)
    elif b_low + b.duration + back > a_high:
        model.add(ahead).only_enforce_if(*both)
    else:
        here, elsewhere = one.placed.item, other.placed.item
        x, y = here.today, elsewhere.today
        first = draft.flag(
            (x.start if x else here.first) < (y.start if y else elsewhere.first)
        )
        model.add(ahead).only_enforce_if(*both, first)
        model.add(behind).only_enforce_if(*both, ~first)


def _keep_walk_fixed(draft: Draft, problem: Problem, one: Held, stop: Stop) -> None:
    """Leave the walks between an item and a stop that stands still."""
    job, other, model = one.job, problem.jobs[stop.job], draft.model
    latest = stop.start - problem.walk(job, other) - job.duration
    soonest = stop.start + other.duration + problem.walk(other, job)
    if one.high <= latest or one.low >= soonest:
        return
    today, start = one.placed.item.today, one.placed.start
    before = draft.flag(today is not None and today.start < stop.start)
    model.add(start <= latest).only_enforce_if(one.literal, before)
    model.add(start >= soonest).only_enforce_if(one.literal, ~before)


def _keep_rest(draft: Draft, scene: Scene, placed: list[Placed]) -> None:
    """Leave a work unit its rest between the shifts that a window lets it work in."""
    problem, model = scene.problem, draft.model
    lanes = sorted(scene.window.lanes)
    for index, early in enumerate(lanes):
        for late in lanes[index + 1 :]:
            a, b = problem.lanes[early], problem.lanes[late]
            if a.gang_shift == b.gang_shift or not set(a.work_units) & set(
                b.work_units
            ):
                continue
            if a.closes + problem.rest_min <= b.starts:
                continue
            for one in (p for p in placed if early in p.lanes):
                rested = one.start + (one.item.job.duration + problem.rest_min)
                for other in (p for p in placed if late in p.lanes):
                    if other is one:
                        continue
                    both = (one.lanes[early], other.lanes[late])
                    model.add(other.start >= rested).only_enforce_if(*both)
