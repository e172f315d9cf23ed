"""Covers in the model: the area of each kind, from soaking to washed, within its stock.

A little coarser than the exact count, which has the last word on every neighbourhood;
kinds that the neighbourhood cannot bring short, and in which nothing is soaked, are
left out of its model.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.covers import Need, profile
from scheduler.solver.plan.wet_moves import NEVER
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem
from scheduler.solver.subproblem.subproblem import Subproblem
from scheduler.solver.subproblem.wet_covers import (
    Source,
    Wetting,
    keep_check,
    keep_wet_moves,
    wetting_of,
)

_PER_M2 = 100  # areas are counted in hundredths of a square metre
_NOISE = 1e-3  # of a hundredth


@dataclass(frozen=True)
class _Off:
    """When a need's covers come off, here or elsewhere.

    Attributes
    ----------
    lifted : IntVar or None
        None where it stands still.
    until : LinearExprT
        Minute from which they are free again, washed.
    """

    lifted: cp_model.IntVar | None
    until: cp_model.LinearExprT
    hint: int


def constrain_covers(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """Keep the stock of every kind that items of the neighbourhood lay or lift."""
    items = {one.item.job.index: one for one in placed if not one.item.job.repeats}
    book = subproblem.covers
    for kind, indexes in book.of_kind.items():
        moved = [i for i in indexes if any(job in items for job in book.needs[i].jobs)]
        if moved:
            _Kind(builder, subproblem, items, kind, moved).keep()


class _Kind:
    """One kind of cover in the neighbourhood's model."""

    def __init__(
        self,
        builder: ModelBuilder,
        subproblem: Subproblem,
        items: dict[int, PlacedItem],
        kind: str,
        moved: list[int],
    ) -> None:
        self.builder, self.subproblem, self.items = builder, subproblem, items
        self.book = book = subproblem.covers
        self.indexes, needs = book.of_kind[kind], book.needs
        supply = needs[self.indexes[0]].supply
        lying_m2 = sum(
            needs[i].area_m2
            for i in self.indexes
            if needs[i].record.lies_from_min is not None
        )
        self.all_moved = moved
        if lying_m2 > supply.stock_m2:
            # More lies there than is owned: when it is lifted is left to the exact
            # count, or the model would have no answer.
            moved = [i for i in moved if needs[i].laid_by in items]
        self.capacity = floor(supply.stock_m2 * _PER_M2 + _NOISE)
        problem = subproblem.problem
        self.end = problem.horizon + problem.settings.model.lifted_after_min
        self.moved = moved
        self.sources = book.wet_sources(kind)
        self.may_come_wet = any(
            ((use := book.uses[i]) is not None and use.off < NEVER)
            or any(job in items for job in needs[i].lifted_by)
            for i in self.indexes
        )
        self.wettings = {
            i: one for i in self.all_moved if (one := self._wetting(i)) is not None
        }
        self.offs: dict[int, _Off] = {}

    def keep(self) -> None:
        """Let areas in use at the same time add up to the stock at most.

        Nothing is laid dry, whether or not the stock could run short.
        """
        for i in self.all_moved:
            keep_check(self.builder, self.subproblem, self.book.needs[i], self.items)
        self._keep_stock()
        self._keep_wet()

    def _keep_stock(self) -> None:
        needs, spans = self.book.needs, self.book.spans
        still = [i for i in self.indexes if i not in self.moved]
        levels = profile(
            (span, needs[i].area_m2) for i in still if (span := spans[i]) is not None
        )
        taken = [(minute, min(self.capacity, _units(m2))) for minute, m2 in levels]
        wanted = sum(_units(needs[i].area_m2) for i in self.moved)
        if max(units for _, units in taken) + wanted <= self.capacity:
            return
        model = self.builder.model
        intervals, demands = [], []
        for i in self.moved:
            interval = self._interval(i)
            if interval is not None:
                intervals.append(interval)
                demands.append(_units(needs[i].area_m2))
        for (first, units), (last, _) in pairwise(taken):
            if units and first < self.end:
                size = min(last, self.end) - first
                intervals.append(model.new_fixed_size_interval_var(first, size, ""))
                demands.append(units)
        model.add_cumulative(intervals, demands, self.capacity)

    def _keep_wet(self) -> None:
        """Let what is laid wet find what has come off."""
        needs, uses, moved = self.book.needs, self.book.uses, set(self.all_moved)
        takers: dict[int, tuple[Wetting | int, int]] = {}
        for index in self.indexes:
            units = floor(needs[index].area_m2 * _PER_M2 + _NOISE)
            wetting, use = self.wettings.get(index), uses[index]
            if wetting is not None and wetting.wet is not None:
                takers[index] = wetting, units
            elif (
                index in self.sources
                and use is not None
                and not (wetting is not None and wetting.laid is not None)
            ):
                takers[index] = use.laid, units
        anew = any(index in self.wettings for index in takers)
        theirs = {other for own in self.sources.values() for other, _ in own}
        if not anew and not theirs & moved:
            return
        sources: dict[int, Source] = {}
        for index in self.indexes:
            off = self._off(index) if index in moved else self._still_off(index)
            if off is not None:
                units = _units(needs[index].area_m2)
                sources[index] = Source(off.lifted, off.until, off.hint, units)
        today = {
            index: {other: _units(m2) for other, m2 in own}
            for index, own in self.sources.items()
        }
        one = needs[self.indexes[0]]
        lasts = one.supply.stays_wet_min - one.turnaround
        keep_wet_moves(self.builder, takers, sources, today, lasts)

    def _wetting(self, index: int) -> Wetting | None:
        """Give the ways in which what a need lays is wet; None if it asks for none."""
        need, uses = self.book.needs[index], self.book.uses
        if need.soaked_by is None:
            return None
        return wetting_of(
            self.builder,
            self.subproblem,
            need,
            (uses[index], index in self.sources),
            self.items,
            self.may_come_wet,
        )

    def _interval(self, index: int) -> cp_model.IntervalVar | None:
        """From soaking to washed; None if nobody lays it, here or elsewhere."""
        need = self.book.needs[index]
        model, laid = self.builder.model, self._item(need.laid_by)
        begins = self._begins(index, laid)
        if begins is None:
            return None
        start, first, hint = begins
        off = self._off(index)
        size = self.builder.number(0, self.end - first, max(0, off.hint - hint))
        if laid is None:
            return model.new_interval_var(start, size, off.until, "")
        return model.new_optional_interval_var(start, size, off.until, laid.present, "")

    def _begins(
        self, index: int, laid: PlacedItem | None
    ) -> tuple[cp_model.LinearExprT, int, int] | None:
        """When it is taken from the stock, the first that can be, and today's."""
        need = self.book.needs[index]
        if index in self.wettings:
            wetting = self.wettings[index]
            return wetting.begins, wetting.first, wetting.hint
        if laid is None:
            span = self.book.spans[index]
            return None if span is None else (span[0], span[0], span[0])
        current = laid.item.current.start if laid.item.current else laid.item.first
        return laid.start - need.lead, laid.item.first - need.lead, current - need.lead

    def _still_off(self, index: int) -> _Off | None:
        """When covers that stand still come off; None if they do not."""
        use, need = self.book.uses[index], self.book.needs[index]
        if use is None or use.off >= NEVER:
            return None
        free = use.off + need.turnaround
        return _Off(None, free, free)

    def _off(self, index: int) -> _Off:
        """When covers of a need that moves are off and washed, if they are."""
        if index in self.offs:
            return self.offs[index]
        need = self.book.needs[index]
        laid = self._item(need.laid_by)
        model, jobs = self.builder.model, self.subproblem.problem.jobs
        current = self.book.uses[index]
        hint = self.end
        if current is not None and current.off < NEVER:
            hint = min(current.off + need.turnaround, self.end)
        until = self.builder.number(0, self.end, hint)
        standing = {stop.job: stop.start for stop in self._fixed(need)}
        lifted = self.builder.flag(hint < self.end)
        model.add(until >= self.end).only_enforce_if(~lifted)
        if not need.lifted_by:
            model.add(lifted == 0)
        for job in need.lifted_by:
            one, takes = self._item(job), jobs[job].duration
            if one is not None:
                model.add_implication(lifted, one.present)
                off: cp_model.LinearExprT = one.start + takes
            elif job in standing:
                off = standing[job] + takes
            else:
                model.add(lifted == 0)
                continue
            model.add(until >= off + need.turnaround).only_enforce_if(lifted)
            if laid is not None:  # what is lifted before it is laid is not lifted
                model.add(laid.start < off).only_enforce_if(lifted, laid.present)
            if self.may_come_wet and job == need.lifted_by[-1]:
                model.add(until <= off + need.turnaround).only_enforce_if(lifted)
        self.offs[index] = _Off(lifted, until, hint)
        return self.offs[index]

    def _item(self, job: int | None) -> PlacedItem | None:
        return None if job is None else self.items.get(job)

    def _fixed(self, need: Need) -> list[Stop]:
        return self.subproblem.fixed_on_surface.get(need.surface, [])


def _units(area_m2: float) -> int:
    return ceil(area_m2 * _PER_M2 - _NOISE)
