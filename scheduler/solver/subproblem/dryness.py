"""Dryness as covering: a stretch is covered by some chosen stop, or it is paid for.

Weather and cover are known, so a wetting in a given slot keeps a given stretch wet. A
surface's time is cut wherever any choice begins or stops to count; for each piece one
clause says that a choice which covers it is made, or that the piece is dry.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.solver.problem.problem import Surface
from scheduler.solver.subproblem.model_builder import Literal, ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem, Slot
from scheduler.solver.subproblem.subproblem import Span, Subproblem


@dataclass(frozen=True)
class _Choice:
    """Slots of one item with the stretch each covers; both ends rise with the slot."""

    starts: list[int]
    ends: list[int]
    literals: list[cp_model.IntVar]

    def covering(self, start: int, end: int) -> list[cp_model.IntVar]:
        """Literals whose stretch holds all of a piece."""
        return self.literals[
            bisect_left(self.ends, end) : bisect_right(self.starts, start)
        ]


def price_dryness(
    builder: ModelBuilder, subproblem: Subproblem, placed: list[PlacedItem]
) -> None:
    """Charge every dry piece of the surfaces that a neighbourhood touches."""
    by_surface: dict[int, list[PlacedItem]] = defaultdict(list)
    for one in placed:
        if one.item.job.affects_dryness:
            by_surface[one.item.job.surface].append(one)
    for index, mine in by_surface.items():
        _Surface(builder, subproblem, subproblem.problem.surfaces[index], mine).price()


class _Surface:
    """One surface's pieces."""

    def __init__(
        self,
        builder: ModelBuilder,
        subproblem: Subproblem,
        surface: Surface,
        placed: list[PlacedItem],
    ) -> None:
        self.builder, self.subproblem, self.surface = builder, subproblem, surface
        self.clock = surface.minutes
        self.horizon = subproblem.problem.horizon
        self.cover = next((one for one in placed if one.item.job.covers), None)
        self.refilling = [one for one in placed if one.item.job.refills]
        self.protecting = [one for one in placed if one.item.job.protects]
        self.sealing = [one for one in placed if one.item.job.seals]
        self.on = surface.covered_from
        self.until = self.clock.counted_until
        for stop in subproblem.fixed_on_surface[surface.index]:
            job = subproblem.problem.jobs[stop.job]
            end = stop.start + job.duration
            if job.covers:
                self.on = end if self.on is None else min(self.on, end)
            if job.seals:
                self.until = min(self.until, end)

    def price(self) -> None:
        """Charge the bare pieces, then the covered ones."""
        begin = self.subproblem.neighbourhood.start
        until = self.until
        if self.cover is None and not self.sealing:
            until = min(until, self._last_effect())
        sealed = [self._choice(one, self._sealed) for one in self.sealing]
        bare_until = until if self.on is None else min(self.on, until)
        if self.on is None or self.on > begin:
            fixed = self._fixed(wet=False)
            choices = [self._choice(one, self._guarded) for one in self.protecting]
            laid = [self._laid(one) for one in ([self.cover] if self.cover else [])]
            self._pieces(
                _open(begin, bare_until, fixed),
                [*choices, *sealed],
                laid,
                covered=False,
            )
        if self.on is None and self.cover is None:
            return
        choices = [self._choice(one, self._wetted) for one in self.refilling]
        choices += [
            self._choice(one, self._guarded)
            for one in self.protecting
            if not one.item.job.refills
        ]
        start = begin if self.on is None else max(begin, self.on)
        laid = []
        if self.cover is not None and self.on is None:
            laid = [self._laid(self.cover)]
        self._pieces(
            _open(start, until, self._fixed(wet=True)), [*choices, *sealed], laid,
            covered=True,
        )  # fmt: skip

    def _last_effect(self) -> int:
        last = self.subproblem.neighbourhood.end
        for one in self.refilling:
            end = min(one.item.last + one.item.job.duration, self.horizon)
            last = max(last, self.clock.dry_at[end])
        return last

    def _choice(
        self, one: PlacedItem, stretch: Callable[[PlacedItem, Slot], Span]
    ) -> _Choice:
        spans = [stretch(one, slot) for slot in one.slots]
        return _Choice(
            [span[0] for span in spans],
            [span[1] for span in spans],
            [slot.literal for slot in one.slots],
        )

    def _wetted(self, one: PlacedItem, slot: Slot) -> Span:
        end = min(slot.middle + one.item.job.duration, self.horizon)
        return slot.middle, max(end, self.clock.dry_at[end])

    def _guarded(self, one: PlacedItem, slot: Slot) -> Span:
        return slot.middle, slot.middle + one.item.job.duration

    def _sealed(self, one: PlacedItem, slot: Slot) -> Span:
        del one  # sprayed or being sprayed, it is safe
        return slot.middle, self.horizon + slot.middle

    def _laid(self, one: PlacedItem) -> _Choice:
        """Say that the cover is on from the end of its slot to the end of time."""
        duration = one.item.job.duration
        starts = [slot.middle + duration for slot in one.slots]
        ends = [self.horizon + start for start in starts]
        return _Choice(starts, ends, [slot.literal for slot in one.slots])

    def _fixed(self, *, wet: bool) -> list[Span]:
        """Stretches that stops standing still keep damp."""
        spans: list[Span] = []
        if wet and self.on is not None and self.on <= 0:
            spans.append((0, self.clock.dry_at_start))
        for stop in self.subproblem.fixed_on_surface[self.surface.index]:
            job = self.subproblem.problem.jobs[stop.job]
            end = stop.start + job.duration
            if not job.protects:
                continue
            if wet and job.refills and (self.on is None or end >= self.on):
                spans.append(
                    (stop.start, max(end, self.clock.dry_at[min(end, self.horizon)]))
                )
            else:
                spans.append((stop.start, end))
        return sorted(spans)

    def _pieces(
        self,
        spans: Iterable[Span],
        choices: list[_Choice],
        laid: list[_Choice],
        *,
        covered: bool,
    ) -> None:
        """Charge each piece of the open spans that no choice covers.

        Bare pieces end once the cover is laid; covered ones count only from then on.
        """
        total = self.clock.covered_sum if covered else self.clock.fresh_sum
        cuts = sorted(
            {
                minute
                for choice in [*choices, *laid]
                for minute in (*choice.starts, *choice.ends)
            }
        )
        for first, last in spans:
            inner = cuts[bisect_right(cuts, first) : bisect_left(cuts, last)]
            edges = [first, *inner, last]
            for start, end in pairwise(edges):
                cost = total[end] - total[start]
                if cost <= 0:
                    continue
                saves: list[cp_model.IntVar] = []
                for choice in choices:
                    saves += choice.covering(start, end)
                self._charge(cost, saves, laid, start, end, covered)

    def _charge(
        self,
        cost: float,
        saves: list[cp_model.IntVar],
        laid: list[_Choice],
        start: int,
        end: int,
        covered: bool,
    ) -> None:
        builder = self.builder
        literals: list[Literal] = list(saves)
        saved = any(builder.hinted(literal) for literal in saves)
        for choice in laid:
            now = choice.covering(start, end)
            if covered:
                later = choice.literals[len(now) :]
                assert self.cover is not None
                literals += [*later, ~self.cover.present]
                saved = (
                    saved
                    or any(builder.hinted(literal) for literal in later)
                    or not builder.hinted(self.cover.present)
                )
            else:
                literals += now
                saved = saved or any(builder.hinted(literal) for literal in now)
        dry = builder.flag(not saved)
        builder.at_least_one([*literals, dry])
        builder.price(dry, cost)


def _open(start: int, end: int, damp: list[Span]) -> list[Span]:
    """Take damp spans, in order of start, out of a stretch."""
    spans: list[Span] = []
    low = start
    for first, last in damp:
        if first > low and low < end:
            spans.append((low, min(first, end)))
        low = max(low, last)
    if low < end:
        spans.append((low, end))
    return spans
