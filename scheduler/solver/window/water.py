"""Water in a window: flow minute by minute, allotments and tanks by sums of litres.

A little coarser than the exact count, which has the last word on every window; limits
that a window cannot reach are left out of its model.
"""

from collections.abc import Callable
from itertools import pairwise

import numpy as np
from ortools.sat.python import cp_model

from scheduler.solver.plan.water import SupplyLedger
from scheduler.solver.problem.problem import Job
from scheduler.solver.window.builder import Draft
from scheduler.solver.window.crews import Placed
from scheduler.solver.window.window import Scene

_FLOW_UNITS = 10_000  # the cumulative counts hundredths of a litre a minute
_LITRE_UNITS = 1_000_000  # sums count whole litres
_TANK_STEP_MIN = 60


def keep_water(
    draft: Draft, scene: Scene, placed: list[Placed]
) -> dict[int, dict[int, cp_model.IntVar]]:
    """Choose points and keep their limits.

    Returns
    -------
    dict
        For each item that draws, by its place in the list, a literal per point.
    """
    chosen: dict[int, dict[int, cp_model.IntVar]] = {}
    for number, one in enumerate(placed):
        if one.item.job.draws is not None:
            chosen[number] = _points(draft, one)
    for index, point in enumerate(scene.water):
        mine = [
            (placed[number], points[index])
            for number, points in chosen.items()
            if index in points
        ]
        if mine:
            _Point(draft, scene, point, mine).keep()
    return chosen


def _points(draft: Draft, one: Placed) -> dict[int, cp_model.IntVar]:
    job, today = one.item.job, one.item.today
    if len(job.points) == 1:
        return {job.points[0]: one.present}
    literals = {
        point: draft.flag(today is not None and today.point == point)
        for point in job.points
    }
    draft.model.add_exactly_one([*literals.values(), ~one.present])
    return literals


class _Point:
    """One supply in the window's model."""

    def __init__(
        self,
        draft: Draft,
        scene: Scene,
        point: SupplyLedger,
        drawing: list[tuple[Placed, cp_model.IntVar]],
    ) -> None:
        self.draft, self.scene, self.point = draft, scene, point
        self.drawing = drawing

    def keep(self) -> None:
        """Keep flow, allotment and level."""
        self._flow()
        self._allotment()
        self._tank()

    def _flow(self) -> None:
        window, model = self.scene.window, self.draft.model
        span = slice(window.start, window.end)
        left = (self.point.free - self.point.drawn)[span]
        flows = sorted(
            (one.item.job.flow_units for one, _ in self.drawing), reverse=True
        )
        if sum(flows[: len(window.lanes)]) <= left.min():
            return
        capacity = int(left.max()) // _FLOW_UNITS
        intervals, demands = [], []
        for one, literal in self.drawing:
            job = one.item.job
            assert job.draws is not None
            first, last = job.draws
            intervals.append(
                model.new_optional_fixed_size_interval_var(
                    one.start + first, last - first, literal, ""
                )
            )
            demands.append(-(-job.flow_units // _FLOW_UNITS))
        blocked = capacity - left // _FLOW_UNITS
        edges = [0, *(np.flatnonzero(np.diff(blocked)) + 1).tolist(), len(blocked)]
        for a, b in pairwise(edges):
            if blocked[a]:
                intervals.append(
                    model.new_fixed_size_interval_var(window.start + a, b - a, "")
                )
                demands.append(int(blocked[a]))
        model.add_cumulative(intervals, demands, capacity)

    def _allotment(self) -> None:
        if self.point.allotment is None:
            return
        window = self.scene.window
        for first, last in self.point.days:
            if first >= window.end or last <= window.start:
                continue
            left = self.point.allotment - int(self.point.drawn[first:last].sum())
            self._at_most(left, range(first, last))

    def _tank(self) -> None:
        if not self.point.is_tank:
            return
        window = self.scene.window
        levels = self.point.levels()
        # From the back: what is drawn now is missing until the tank overflows again.
        low = np.minimum.accumulate(levels[window.start :][::-1])[::-1]
        last = min(window.end, len(levels))
        for at in range(window.start + _TANK_STEP_MIN, last, _TANK_STEP_MIN):
            self._at_most(
                int(levels[at - _TANK_STEP_MIN : at].min()), range(window.start, at)
            )
        self._at_most(int(low[0]), range(window.start, window.end))

    def _at_most(self, left: int, counts: range) -> None:
        """Bound the litres of all draws that begin in minutes that count."""
        litres = [_litres(one.item.job) for one, _ in self.drawing]
        most = max(left, 0) // _LITRE_UNITS
        if sum(litres) <= most:
            return
        literals: list[cp_model.IntVar] = []
        weights: list[int] = []
        for (one, literal), amount in zip(self.drawing, litres, strict=True):
            for part in self._drawn_when(one, literal, counts):
                literals.append(part)
                weights.append(amount)
        if sum(weights) > most:
            self.draft.weighted_at_most(literals, weights, most)

    def _drawn_when(
        self, one: Placed, literal: cp_model.IntVar, counts: range
    ) -> list[cp_model.IntVar]:
        """Literals of which one holds if the item draws here in minutes that count."""
        job = one.item.job
        assert job.draws is not None
        offset = job.draws[0]
        if not one.slots:
            inside = one.item.first + offset in counts or (
                one.item.last + offset in counts
            )
            return [literal] if inside else []
        hits = [slot for slot in one.slots if slot.middle + offset in counts]
        if len(hits) == len(one.slots):
            return [literal]
        if not hits or len(job.points) == 1:
            return [slot.literal for slot in hits]
        draft, today = self.draft, one.item.today
        both = draft.flag(
            draft.hinted(literal)
            and today is not None
            and any(slot.low <= today.start <= slot.high for slot in hits)
        )
        for slot in hits:
            draft.at_least_one([~slot.literal, ~literal, both])
        return [both]


def _litres(job: Job) -> int:
    assert job.draws is not None
    units = job.flow_units * (job.draws[1] - job.draws[0])
    return -(-units // _LITRE_UNITS)


def wished_point(
    points: dict[int, cp_model.IntVar], holds: Callable[[cp_model.IntVar], bool]
) -> int:
    """Point that the solver chose."""
    return next((point for point, literal in points.items() if holds(literal)), -1)
