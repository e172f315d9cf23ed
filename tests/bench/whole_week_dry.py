"""Dryness in the model of a whole week: pieces of time, covered by a choice or paid."""

from dataclasses import dataclass, field
from itertools import accumulate, pairwise

from ortools.sat.python import cp_model

from models.records import Task, WeightStep
from tests.bench.dispatcher import Spot


@dataclass(eq=False)
class Item:
    """A task with its variables; by shift the first and last start and a literal."""

    task: Task
    zone: int
    spans: dict[int, tuple[int, int]]
    start: cp_model.IntVar
    present: cp_model.IntVar
    shifts: dict[int, cp_model.IntVar]
    slots: list[tuple[int, cp_model.IntVar]] = field(default_factory=list)

    @property
    def end(self) -> cp_model.LinearExpr:
        """Minute it is over."""
        return self.start + self.task.duration_min


class Dryness:
    """Pieces of a surface's time: covered by a choice, or paid for."""

    def __init__(
        self, model: cp_model.CpModel, horizon: int, spot: Spot, mine: list[Item]
    ) -> None:
        self.model, self.horizon = model, horizon
        self.spot, self.surface = spot, spot.work
        self.until = max(0, min(horizon, self.surface.ends_min))
        self.dry: list[tuple[cp_model.IntVar, float]] = []
        self.cover = next((one for one in mine if one.task.covers), None)
        self.guards = [one for one in mine if one.task.effect != "none"]
        self.on = self.surface.covered_from_min

    def price(self) -> list[tuple[cp_model.IntVar, float]]:
        """Literals of dry pieces, bare until the cover is on, with their costs."""
        bare = [0] * self.until
        for stretch in self.surface.fresh:
            first, last = max(0, stretch.from_min), min(self.until, stretch.until_min)
            bare[first:last] = [1] * max(0, last - first)
        if self.on is None or self.on > 0:
            until = self.until if self.on is None else min(self.until, self.on)
            self._pieces(0, until, self.surface.fresh_weights, bare, covered=False)
        if self.surface.curve is not None and (self.on is not None or self.cover):
            wet = self.spot.dry_at if self.on is not None and self.on <= 0 else None
            first = max(0, self.on or 0, wet or 0)
            thirsty = [1] * self.until
            self._pieces(first, self.until, self.surface.weights, thirsty, covered=True)
        return self.dry

    def _reach(self, one: Item, middle: int, *, covered: bool) -> tuple[int, int]:
        """Stretch that a start keeps damp."""
        end = middle + one.task.duration_min
        kept_from = middle + one.task.half_done_min
        if one.task.effect == "seal":
            return kept_from, self.until
        if covered and one.task.effect == "wet":
            return kept_from, self.spot.dries_at(min(end, self.horizon))
        return kept_from, end

    def _pieces(
        self,
        first: int,
        last: int,
        steps: tuple[WeightStep, ...],
        counts: list[int],
        *,
        covered: bool,
    ) -> None:
        if first >= last:
            return
        reach = [
            (*self._reach(one, middle, covered=covered), literal)
            for one in self.guards
            for middle, literal in one.slots
        ]
        laid: list[tuple[int, cp_model.IntVar]] = []
        if self.cover is not None and self.on is None:
            takes = self.cover.task.duration_min
            laid = [(middle + takes, literal) for middle, literal in self.cover.slots]
        cuts = {m for a, b, _ in reach for m in (a, b)} | {m for m, _ in laid}
        edges = sorted({first, last, *(m for m in cuts if first < m < last)})
        price = _by_minute(steps, self.until)
        total = [0.0, *accumulate(p * c for p, c in zip(price, counts, strict=True))]
        for a, b in pairwise(edges):
            if total[b] <= total[a]:
                continue
            saves: list[cp_model.LiteralT] = [
                literal for x, y, literal in reach if x <= a and b <= y
            ]
            if covered:
                saves += [literal for at, literal in laid if at > a]
                saves += [~self.cover.present] if laid and self.cover else []
            else:
                saves += [literal for at, literal in laid if at <= a]
            dry = self.model.new_bool_var("")
            self.model.add_bool_or([*saves, dry])
            self.dry.append((dry, total[b] - total[a]))


def _by_minute(steps: tuple[WeightStep, ...], length: int) -> list[float]:
    price = [steps[0].per_min] * length
    for step in steps:
        first = max(0, step.from_min)
        price[first:] = [step.per_min] * max(0, length - first)
    return price
