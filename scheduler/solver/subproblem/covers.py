"""Covers in the model: the area of each kind, from soaking to washed, within its stock.

A little coarser than the exact count, which has the last word on every neighbourhood;
kinds that the neighbourhood cannot bring short are left out of its model.
"""

from itertools import pairwise
from math import ceil, floor

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.covers import Need, profile
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem

_PER_M2 = 100  # areas are counted in hundredths of a square metre
_NOISE = 1e-3  # of a hundredth


def constrain_covers(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """Keep the stock of every kind that items of the neighbourhood lay or lift."""
    items = {one.item.job.index: one for one in placed if not one.item.job.repeats}
    for indexes in subproblem.covers.of_kind.values():
        moved = [
            i
            for i in indexes
            if any(job in items for job in subproblem.covers.needs[i].jobs)
        ]
        if moved:
            _Kind(builder, subproblem, items, indexes, moved).keep()


class _Kind:
    """One kind of cover in the neighbourhood's model."""

    def __init__(
        self,
        builder: ModelBuilder,
        subproblem: Subproblem,
        items: dict[int, PlacedItem],
        indexes: list[int],
        moved: list[int],
    ) -> None:
        self.builder, self.subproblem, self.items = builder, subproblem, items
        needs, spans = subproblem.covers.needs, subproblem.covers.spans
        stock_m2 = needs[indexes[0]].supply.stock_m2
        lying_m2 = sum(
            needs[i].area_m2
            for i in indexes
            if needs[i].record.lies_from_min is not None
        )
        if lying_m2 > stock_m2:
            # More lies there than is owned: when it is lifted is left to the exact
            # count, or the model would have no answer.
            moved = [i for i in moved if needs[i].laid_by in items]
        self.capacity = floor(stock_m2 * _PER_M2 + _NOISE)
        problem = subproblem.problem
        self.end = problem.horizon + problem.settings.model.lifted_after_min
        self.moved = [needs[i] for i in moved]
        self.taken = profile(
            (span, needs[i].area_m2)
            for i in indexes
            if i not in moved and (span := spans[i]) is not None
        )

    def keep(self) -> None:
        """Let areas in use at the same time add up to the stock at most."""
        taken = [(minute, min(self.capacity, _units(m2))) for minute, m2 in self.taken]
        wanted = sum(_units(need.area_m2) for need in self.moved)
        if max(units for _, units in taken) + wanted <= self.capacity:
            return
        model = self.builder.model
        intervals, demands = [], []
        for need in self.moved:
            interval = self._interval(need)
            if interval is not None:
                intervals.append(interval)
                demands.append(_units(need.area_m2))
        for (first, units), (last, _) in pairwise(taken):
            if units and first < self.end:
                size = min(last, self.end) - first
                intervals.append(model.new_fixed_size_interval_var(first, size, ""))
                demands.append(units)
        model.add_cumulative(intervals, demands, self.capacity)

    def _interval(self, need: Need) -> cp_model.IntervalVar | None:
        """From soaking to washed; None if nobody lays it, here or elsewhere."""
        model, laid = self.builder.model, self._item(need.laid_by)
        begins = self._begins(need, laid)
        if begins is None:
            return None
        start, first, hint = begins
        until, until_hint = self._washed(need, laid)
        size = self.builder.number(0, self.end - first, max(0, until_hint - hint))
        if laid is None:
            return model.new_interval_var(start, size, until, "")
        return model.new_optional_interval_var(start, size, until, laid.present, "")

    def _begins(
        self, need: Need, laid: PlacedItem | None
    ) -> tuple[cp_model.LinearExprT, int, int] | None:
        """Start of the soaking, the first it can be, and today's."""
        if laid is None:
            span = self.subproblem.covers.span(need, self._fixed(need))
            return None if span is None else (span[0], span[0], span[0])
        current = laid.item.current.start if laid.item.current else laid.item.first
        return laid.start - need.lead, laid.item.first - need.lead, current - need.lead

    def _washed(
        self, need: Need, laid: PlacedItem | None
    ) -> tuple[cp_model.IntVar, int]:
        """Minute from which it is free again, and today's."""
        model, jobs = self.builder.model, self.subproblem.problem.jobs
        current = self.subproblem.covers.span(need, self._today(need))
        hint = self.end if current is None else min(current[1], self.end)
        until = self.builder.number(0, self.end, hint)
        place_published_visit = {stop.job: stop.start for stop in self._fixed(need)}
        lifted = self.builder.flag(hint < self.end)
        model.add(until >= self.end).only_enforce_if(~lifted)
        if not need.lifted_by:
            model.add(lifted == 0)
        for job in need.lifted_by:
            one, takes = self._item(job), jobs[job].duration
            if one is not None:
                model.add_implication(lifted, one.present)
                off: cp_model.LinearExprT = one.start + takes
            elif job in place_published_visit:
                off = place_published_visit[job] + takes
            else:
                model.add(lifted == 0)
                continue
            model.add(until >= off + need.turnaround).only_enforce_if(lifted)
            if laid is not None:  # what is lifted before it is laid is not lifted
                model.add(laid.start < off).only_enforce_if(lifted, laid.present)
        return until, hint

    def _today(self, need: Need) -> list[Stop]:
        """Give the stops of a need's surface as they stand."""
        own = [one.item for one in self.items.values()]
        moved = [
            item.current
            for item in own
            if item.current is not None and item.job.surface == need.surface
        ]
        return sorted([*self._fixed(need), *moved])

    def _item(self, job: int | None) -> PlacedItem | None:
        return None if job is None else self.items.get(job)

    def _fixed(self, need: Need) -> list[Stop]:
        return self.subproblem.fixed_on_surface.get(need.surface, [])


def _units(area_m2: float) -> int:
    return ceil(area_m2 * _PER_M2 - _NOISE)
