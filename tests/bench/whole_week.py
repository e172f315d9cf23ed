"""One CP-SAT model of the whole week: the covering idea without windows.

A peer of the solver that shares no code with it. Left out are water, whose visits are
struck out afterwards where it lacks, and the walk saved by staying on a surface; a
surface is wetted at most a few times a shift. What it builds grows fast with the site:
it says so when its seconds run out without a roster.
"""

from collections import defaultdict
from dataclasses import dataclass
from itertools import combinations
from math import ceil
from time import monotonic

from ortools.sat.python import cp_model

from models.records import CrewShift, SurfaceWork, Task, WorkList
from tests.bench.dispatcher import BenchDispatcher, Dispatched, Spot
from tests.bench.struck import with_water
from tests.bench.whole_week_dry import Dryness, Item

SLOT_MIN = 15
MOST_WETTINGS = 4  # of a surface in one shift
SCALE = 10  # the objective is whole


@dataclass(frozen=True)
class Attempt:
    """What a peer came to; no visits if the seconds ran out before a roster."""

    visits: list[Dispatched] | None
    words: str


def plan_week(work: WorkList, seconds: float, workers: int = 2) -> Attempt:
    """Build the model and solve it, all within the seconds."""
    started = monotonic()
    week = _Week(work)
    built = monotonic() - started
    size = len(week.model.proto.constraints)
    words = f"{size} constraints, built in {built:.0f} s"
    if built >= seconds:
        return Attempt(None, f"no roster: {words}")
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.max_time_in_seconds = seconds - built
    status = solver.solve(week.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Attempt(None, f"no roster: {words}")
    visits = [
        Dispatched(one.task, work.shifts[shift], solver.value(one.start), None)
        for one in week.items
        for shift, literal in one.shifts.items()
        if solver.boolean_value(literal)
    ]
    return Attempt(with_water(work, visits), words)


class _Week:
    """The model."""

    def __init__(self, work: WorkList) -> None:
        self.work, self.model = work, cp_model.CpModel()
        self.horizon = work.horizon.length_min
        self.zones = {zone: index for index, zone in enumerate(work.zone_ids)}
        self.items: list[Item] = []
        self.prices: list[tuple[cp_model.LinearExprT, int]] = []
        self._let_off: dict[str, cp_model.IntVar] = {}
        for spot in BenchDispatcher(work).spots:
            mine = self._place(spot)
            self._order(spot.work, mine)
            for dry, cost in Dryness(self.model, self.horizon, spot, mine).price():
                self.charge(dry, cost)
        for number, shift in enumerate(work.shifts):
            self._keep_shift(number, shift)
        self._keep_rest()
        self._hint(BenchDispatcher(work).run())
        self.model.minimize(sum(price * literal for literal, price in self.prices))

    def charge(self, what: cp_model.LinearExprT, cost: float) -> None:
        """Add to the objective."""
        if round(SCALE * cost):
            self.prices.append((what, round(SCALE * cost)))

    def _visit_cost(self, task: Task) -> float:
        litres = task.water.litres_l if task.water else 0.0
        prices = self.work.costs
        return task.worker_min * prices.worker_minute_cost + litres * prices.litre_cost

    def _place(self, spot: Spot) -> list[Item]:
        """Make the items of a surface: its tasks once, rewets by shift."""
        surface = spot.work
        found = []
        for task in surface.tasks:
            spans = self._spans(spot, task, task.latest_min)
            if spans:
                found.append(self._item(spot, task, spans))
                self.charge(
                    found[-1].present, self._visit_cost(task) - task.missed_cost
                )
        if surface.rewet is None or surface.curve is None:
            return found
        latest = min(surface.rewet.latest_min, surface.ends_min)
        for shift, (low, high) in self._spans(spot, surface.rewet, latest).items():
            lasts = max(60, spot.dries_at(min(low, self.horizon - 1)) - low)
            copies = min(MOST_WETTINGS, ceil((high - low + 1) / lasts))
            before: Item | None = None
            for _ in range(copies):
                one = self._item(spot, surface.rewet, {shift: (low, high)})
                if before is not None:
                    self.model.add_implication(one.present, before.present)
                before = one
                found.append(one)
        return found

    def _spans(self, spot: Spot, task: Task, latest: int) -> dict[int, tuple[int, int]]:
        spans = {}
        for number, shift in enumerate(self.work.shifts):
            if task.people > shift.people or not set(task.skills) <= set(shift.skills):
                continue
            walk = self.work.travel_min[self.zones[shift.home_zone]][spot.zone]
            low = max(0, task.earliest_min, shift.starts_min + walk)
            high = min(latest, shift.ends_min + shift.overtime_max_min)
            high = min(high - task.duration_min, self.horizon - 1)
            if low <= high:
                spans[number] = (low, high)
        return spans

    def _item(self, spot: Spot, task: Task, spans: dict[int, tuple[int, int]]) -> Item:
        model = self.model
        first = min(low for low, _ in spans.values())
        last = max(high for _, high in spans.values())
        start, present = model.new_int_var(first, last, ""), model.new_bool_var("")
        shifts = {shift: model.new_bool_var("") for shift in spans}
        if len(spans) == 1:
            shifts = dict.fromkeys(spans, present)
        else:
            model.add_exactly_one([*shifts.values(), ~present])
        for shift, (low, high) in spans.items():
            model.add_linear_constraint(start, low, high).only_enforce_if(shifts[shift])
        one = Item(task, spot.zone, spans, start, present, shifts)
        if task.effect != "none" or task.covers:
            self._cut(one)
        self.items.append(one)
        return one

    def _cut(self, one: Item) -> None:
        """Tell the starts apart by slots; the middle stands for the slot."""
        starts = sorted({m // SLOT_MIN for low, high in one.spans.values()
                         for m in (*range(low, high, SLOT_MIN), high)})  # fmt: skip
        for slot in starts:
            literal = self.model.new_bool_var("")
            low, high = slot * SLOT_MIN, slot * SLOT_MIN + SLOT_MIN - 1
            self.model.add_linear_constraint(one.start, low, high).only_enforce_if(
                literal
            )
            one.slots.append(((low + high) // 2, literal))
        self.model.add_exactly_one([*(lit for _, lit in one.slots), ~one.present])

    def _order(self, surface: SurfaceWork, mine: list[Item]) -> None:
        """One visit at a time, what follows what, what is late."""
        model = self.model
        model.add_no_overlap([self._interval(one, one.present, 0) for one in mine])
        once = {one.task.id: one for one in mine if one.task is not surface.rewet}
        cover = next((one for one in once.values() if one.task.covers), None)
        for one in mine:
            if one.task is surface.rewet:
                self._wait_for_cover(surface, one, cover)
            for link in one.task.after:
                before = once.get(link.task_id)
                if before is None:
                    model.add_bool_and(~one.present)
                    continue
                model.add_implication(one.present, before.present)
                ready = before.end + link.min_gap_min
                model.add(one.start >= ready).only_enforce_if(one.present)
                if link.max_gap_min is not None:
                    self._late(one, one.start - before.end - link.max_gap_min)
            self._late(one, one.end - one.task.due_min)
        for one, other in combinations(mine, 2):
            if one.task is other.task and one.spans.keys() == other.spans.keys():
                model.add(one.end <= other.start).only_enforce_if(other.present)

    def _wait_for_cover(
        self, surface: SurfaceWork, one: Item, cover: Item | None
    ) -> None:
        on = surface.covered_from_min
        if on is not None:
            self.model.add(one.start >= on).only_enforce_if(one.present)
        elif cover is None:
            self.model.add_bool_and(~one.present)
        else:
            self.model.add_implication(one.present, cover.present)
            self.model.add(one.start >= cover.end).only_enforce_if(one.present)

    def _late(self, one: Item, by: cp_model.LinearExprT) -> None:
        if one.task.late_cost_per_min:
            late = self.model.new_int_var(0, 2 * self.horizon, "")
            when: list[cp_model.BoolVarT] = [one.present]
            if self.work.lateness_capped and one.task.missed_cost > 0:
                when.append(~self._as_dear_as_missed(one))
            self.model.add(late >= by).only_enforce_if(when)
            self.charge(late, one.task.late_cost_per_min)

    def _as_dear_as_missed(self, one: Item) -> cp_model.IntVar:
        """Make a literal once for an item: its lateness is let off for that price."""
        if one.task.id not in self._let_off:
            literal = self.model.new_bool_var("")
            self.charge(literal, one.task.late_cost_most)
            self._let_off[one.task.id] = literal
        return self._let_off[one.task.id]

    def _interval(
        self, one: Item, literal: cp_model.IntVar, pad: int
    ) -> cp_model.IntervalVar:
        size = one.task.duration_min + pad
        return self.model.new_optional_fixed_size_interval_var(
            one.start, size, literal, ""
        )

    def _keep_shift(self, number: int, shift: CrewShift) -> None:
        """One job at a time with the walks between them; breaks; the shift's price."""
        model, walks = self.model, self.work.travel_min
        mine = [one for one in self.items if number in one.shifts]
        if not mine:
            return
        literals = {one: one.shifts[number] for one in mine}
        pads = {one: min(walks[one.zone]) for one in mine}
        model.add_no_overlap([self._interval(o, literals[o], pads[o]) for o in mine])
        for pause in shift.pauses:
            length = pause.until_min - pause.from_min
            fixed = model.new_fixed_size_interval_var(pause.from_min, length, "")
            for one in mine:
                model.add_no_overlap([self._interval(one, literals[one], 0), fixed])
        for one, other in combinations(mine, 2):
            there = walks[one.zone][other.zone]
            back = walks[other.zone][one.zone]
            if there <= pads[one] and back <= pads[other]:
                continue
            both, first = (literals[one], literals[other]), model.new_bool_var("")
            model.add(other.start >= one.end + there).only_enforce_if(*both, first)
            model.add(one.start >= other.end + back).only_enforce_if(*both, ~first)
        if shift.kind == "on_call":
            called = model.new_bool_var("")
            for literal in literals.values():
                model.add_implication(literal, called)
            self.charge(called, shift.call_out_cost)
        if shift.overtime_max_min:
            over = model.new_int_var(0, shift.overtime_max_min, "")
            for one, literal in literals.items():
                model.add(over >= one.end - shift.ends_min).only_enforce_if(literal)
            self.charge(over, self.work.costs.overtime_cost_per_min)
        for one, literal in literals.items():
            self.charge(literal, pads[one] * self.work.costs.travel_cost_per_min)

    def _keep_rest(self) -> None:
        """Leave the rest between two shifts of a crew that lie too close."""
        shifts, rest = self.work.shifts, self.work.rest_min
        held: dict[int, list[Item]] = defaultdict(list)
        for one in self.items:
            for shift in one.shifts:
                held[shift].append(one)
        for early, late in combinations(
            sorted(held, key=lambda n: shifts[n].starts_min), 2
        ):
            a, b = shifts[early], shifts[late]
            if a.crew_id != b.crew_id:
                continue
            if a.ends_min + a.overtime_max_min + rest <= b.starts_min:
                continue
            over = self.model.new_int_var(0, 2 * self.horizon, "")
            for one in held[early]:
                self.model.add(over >= one.end).only_enforce_if(one.shifts[early])
            for one in held[late]:
                self.model.add(one.start >= over + rest).only_enforce_if(
                    one.shifts[late]
                )

    def _hint(self, visits: list[Dispatched]) -> None:
        """Begin with the dispatcher's roster."""
        numbers = {shift: number for number, shift in enumerate(self.work.shifts)}
        given: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for visit in visits:
            given[visit.task.id].append((visit.start, numbers[visit.shift]))
        for one in self.items:
            left = given[one.task.id]
            start, shift = next(
                (v for v in left if v[1] in one.shifts), (-SLOT_MIN, -1)
            )
            if shift >= 0:
                left.remove((start, shift))
                self.model.add_hint(one.start, start)
            for number, literal in one.shifts.items():
                self.model.add_hint(literal, number == shift)
            for middle, literal in one.slots:
                self.model.add_hint(literal, start // SLOT_MIN == middle // SLOT_MIN)
