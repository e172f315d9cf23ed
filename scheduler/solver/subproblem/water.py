"""Water in the model: flow minute by minute, allotments and tanks by sums of litres.

A little coarser than the exact count, which has the last word on every neighbourhood;
limits that a neighbourhood cannot reach are left out of its model.
"""

from collections.abc import Callable
from itertools import pairwise

import numpy as np
from ortools.sat.python import cp_model

from scheduler.solver.plan.water import SupplyLedger
from scheduler.solver.problem.problem import Job
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem

_FLOW_UNITS = 10_000  # the cumulative counts hundredths of a litre a minute
_LITRE_UNITS = 1_000_000  # sums count whole litres


def constrain_water(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
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
            chosen[number] = _points(builder, one)
    for index, point in enumerate(subproblem.water):
        mine = [
            (placed[number], points[index])
            for number, points in chosen.items()
            if index in points
        ]
        if mine:
            _Point(builder, subproblem, point, mine).keep()
    return chosen


def _points(builder: ModelBuilder, one: PlacedItem) -> dict[int, cp_model.IntVar]:
    job, current = one.item.job, one.item.current
    if len(job.points) == 1:
        return {job.points[0]: one.present}
    literals = {
        point: builder.flag(current is not None and current.point == point)
        for point in job.points
    }
    builder.model.add_exactly_one([*literals.values(), ~one.present])
    return literals


class _Point:
    """One supply in the neighbourhood's model."""

    def __init__(
        self,
        builder: ModelBuilder,
        subproblem: Subproblem,
        point: SupplyLedger,
        drawing: list[tuple[PlacedItem, cp_model.IntVar]],
    ) -> None:
        self.builder, self.subproblem, self.point = builder, subproblem, point
        self.drawing = drawing

    def keep(self) -> None:
        """Keep flow, allotment and level."""
        self._flow()
        self._allotment()
        self._tank()

    def _flow(self) -> None:
        neighbourhood, model = self.subproblem.neighbourhood, self.builder.model
        span = slice(neighbourhood.start, neighbourhood.end)
        left = (self.point.free - self.point.drawn)[span]
        flows = sorted(
            (one.item.job.flow_units for one, _ in self.drawing), reverse=True
        )
        if sum(flows[: len(neighbourhood.lanes)]) <= left.min():
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
                    model.new_fixed_size_interval_var(
                        neighbourhood.start + a, b - a, ""
                    )
                )
                demands.append(int(blocked[a]))
        model.add_cumulative(intervals, demands, capacity)

    def _allotment(self) -> None:
        if self.point.allotment is None:
            return
        neighbourhood = self.subproblem.neighbourhood
        for first, last in self.point.days:
            if first >= neighbourhood.end or last <= neighbourhood.start:
                continue
            left = self.point.allotment - int(self.point.drawn[first:last].sum())
            self._at_most(left, range(first, last))

    def _tank(self) -> None:
        if not self.point.is_tank:
            return
        neighbourhood = self.subproblem.neighbourhood
        levels = self.point.levels()
        # From the back: what is drawn now is missing until the tank overflows again.
        low = np.minimum.accumulate(levels[neighbourhood.start :][::-1])[::-1]
        last = min(neighbourhood.end, len(levels))
        step = self.subproblem.problem.settings.model.tank_step_min
        for at in range(neighbourhood.start + step, last, step):
            self._at_most(
                int(levels[at - step : at].min()),
                range(neighbourhood.start, at),
            )
        self._at_most(int(low[0]), range(neighbourhood.start, neighbourhood.end))

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
            self.builder.weighted_at_most(literals, weights, most)

    def _drawn_when(
        self, one: PlacedItem, literal: cp_model.IntVar, counts: range
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
        builder, current = self.builder, one.item.current
        both = builder.flag(
            builder.hinted(literal)
            and current is not None
            and any(slot.low <= current.start <= slot.high for slot in hits)
        )
        for slot in hits:
            builder.at_least_one([~slot.literal, ~literal, both])
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
