"""Dryness as covering: a stretch is covered by some chosen stop, or it is paid for.

Weather and cover are known, so a wetting in a given slot keeps a given stretch wet. A
surface's time is cut wherever any choice begins or stops to count; for each piece one
clause says that a choice which covers it is made, or that the piece is dry.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ortools.sat.python import cp_model

from scheduler.solver.problem.minutes import SurfaceMinutes
from scheduler.solver.problem.problem import Job, Surface
from scheduler.solver.subproblem.begun import BegunBy
from scheduler.solver.subproblem.model_builder import Literal, ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem, Slot
from scheduler.solver.subproblem.subproblem import Span, Subproblem


@dataclass(frozen=True)
class _Choice:
    """Slots of one item with the stretch each covers; both ends rise with the slot."""

    starts: list[int]
    ends: list[int]
    begun: BegunBy

    def covering(self, start: int, end: int) -> list[cp_model.IntVar]:
        """Literals of which one holds where a stretch holds all of a piece."""
        first, last = bisect_left(self.ends, end), bisect_right(self.starts, start)
        return self.begun.within(first, last)

    def not_yet(self, start: int) -> Literal:
        """Literal that holds where no stretch has begun by a minute."""
        return ~self.begun.before(bisect_right(self.starts, start))


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
        self.clock, self.low_water = surface.minutes, surface.low_water
        self.horizon = subproblem.problem.horizon
        least = subproblem.problem.settings.model.least_chained_slots
        self.begun = {one: BegunBy(builder, one, least) for one in placed}
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
        bare_until = until if self.on is None else min(self.on, until)
        if self.on is None or self.on > begin:
            safe = [self._ended(one) for one in self.sealing]
            safe += [self._ended(self.cover)] if self.cover else []
            self._price_bare(begin, bare_until, safe)
        if self.on is None and self.cover is None:
            return
        start = begin if self.on is None else max(begin, self.on)
        for clock in (self.clock, self.low_water):
            if clock is not None:
                self._price_covered(clock, start, until)

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
        return self._in_steps(
            one, [span[0] for span in spans], [span[1] for span in spans]
        )

    def _in_steps(
        self, one: PlacedItem, starts: Iterable[int], ends: Iterable[int]
    ) -> _Choice:
        """Round stretches to the slots; else nearly every minute begins a piece."""
        slot_min = self.subproblem.neighbourhood.slot_min
        return _Choice(
            [_nearest(minute, slot_min) for minute in starts],
            [_nearest(minute, slot_min) for minute in ends],
            self.begun[one],
        )

    def _wetted(self, clock: SurfaceMinutes) -> Callable[[PlacedItem, Slot], Span]:
        """Say how long a wetting keeps the cover damp, by one of its clocks."""

        def span(one: PlacedItem, slot: Slot) -> Span:
            end = min(slot.middle + one.item.job.duration, self.horizon)
            return _kept_from(one, slot), max(end, clock.dry_at[end])

        return span

    def _guarded(self, one: PlacedItem, slot: Slot) -> Span:
        return _kept_from(one, slot), slot.middle + one.item.job.duration

    def _sealed(self, one: PlacedItem, slot: Slot) -> Span:
        return _kept_from(one, slot), self.horizon + slot.middle

    def _ended(self, one: PlacedItem) -> _Choice:
        """Say that it is laid or sealed from the end of its slot to the end of time."""
        duration = one.item.job.duration
        starts = [slot.middle + duration for slot in one.slots]
        ends = [self.horizon + start for start in starts]
        return self._in_steps(one, starts, ends)

    def _wet_covers(self, clock: SurfaceMinutes) -> list[Span]:
        """Stretches in which stops that stand still keep a cover damp."""
        spans: list[Span] = []
        if self.on is not None and self.on <= 0:
            spans.append((0, clock.dry_at_start))
        for job, start, end in self._standing():
            if job.refills and (self.on is None or end >= self.on):
                end = max(end, clock.dry_at[min(end, self.horizon)])
            spans.append((start, end))
        return sorted(spans)

    def _standing(self) -> Iterator[tuple[Job, int, int]]:
        """Find stops outside the neighbourhood that protect: job, from and until."""
        for stop in self.subproblem.fixed_on_surface[self.surface.index]:
            job = self.subproblem.problem.jobs[stop.job]
            if job.protects:
                yield job, stop.start + job.half_done, stop.start + job.duration

    def _kept(self, one: PlacedItem, slot: Slot) -> Span:
        """Stretch in which a job keeps its pieces of the fresh surface wet."""
        lasts = self.horizon if one.item.job.strip else one.item.job.duration
        return _kept_from(one, slot), slot.middle + lasts

    def _price_bare(self, first: int, last: int, saving: list[_Choice]) -> None:
        """Charge the pieces of the fresh surface that nobody keeps wet.

        ``saving`` is what makes all of it safe.
        """
        choices = [
            (one.item.job.pieces, self._choice(one, self._kept))
            for one in self.protecting
        ]
        standing = [
            (job.pieces, start, start + self.horizon if job.strip else end)
            for job, start, end in self._standing()
        ]
        cuts = _cuts(
            [*saving, *(choice for _, choice in choices)],
            {minute for _, start, end in standing for minute in (start, end)},
        )
        total = self.clock.fresh_sum
        for start, end in _pieces([(first, last)] if first < last else [], cuts):
            cost = total[end] - total[start]
            bare = self.surface.pieces
            bare -= sum(pieces for pieces, a, b in standing if a <= start and end <= b)
            if cost <= 0 or bare <= 0:
                continue
            terms = [
                (min(pieces, bare), literal)
                for pieces, choice in choices
                for literal in choice.covering(start, end)
            ]
            terms += [(bare, lit) for one in saving for lit in one.covering(start, end)]
            self._charge_pieces(cost / self.surface.pieces, bare, terms)

    def _charge_pieces(
        self, cost: float, bare: int, terms: list[tuple[int, cp_model.IntVar]]
    ) -> None:
        """Charge each bare piece but those that the literals which hold keep wet."""
        if all(pieces == bare for pieces, _ in terms):
            self._charge(cost * bare, [literal for _, literal in terms])
            return
        builder = self.builder
        kept = cp_model.LinearExpr.weighted_sum(
            [literal for _, literal in terms], [pieces for pieces, _ in terms]
        )
        now = sum(pieces for pieces, literal in terms if builder.hinted(literal))
        dry = builder.number(0, bare, max(0, bare - now))
        builder.model.add(dry >= bare - kept)
        builder.price(dry, cost)

    def _price_covered(self, clock: SurfaceMinutes, first: int, last: int) -> None:
        """Charge each piece that no choice covers and that lies behind the laying."""
        choices = [
            *(self._choice(one, self._wetted(clock)) for one in self.refilling),
            *(
                self._choice(one, self._guarded)
                for one in self.protecting
                if not one.item.job.refills
            ),
            *(self._choice(one, self._sealed) for one in self.sealing),
        ]
        laid = []
        if self.cover is not None and self.on is None:
            laid = [self._ended(self.cover)]
            first = max(first, laid[0].starts[0])
        total = clock.covered_sum
        spans = _open(first, last, self._wet_covers(clock))
        for start, end in _pieces(spans, _cuts([*choices, *laid], set())):
            cost = total[end] - total[start]
            if cost <= 0:
                continue
            literals: list[Literal] = [
                lit for choice in choices for lit in choice.covering(start, end)
            ]
            literals += [choice.not_yet(start) for choice in laid]
            self._charge(cost, literals)

    def _charge(self, cost: float, literals: Sequence[Literal]) -> None:
        """Charge a cost unless some literal holds."""
        builder = self.builder
        dry = builder.flag(not any(builder.hinted(lit) for lit in literals))
        builder.at_least_one([*literals, dry])
        builder.price(dry, cost)


def _nearest(minute: int, step_min: int) -> int:
    """Round to a multiple of a step."""
    return (minute + step_min // 2) // step_min * step_min


def _kept_from(one: PlacedItem, slot: Slot) -> int:
    """First minute that an item begun in a slot keeps its surface wet."""
    return slot.middle + one.item.job.half_done


def _cuts(choices: Iterable[_Choice], besides: set[int]) -> list[int]:
    """Find the minutes at which any choice begins or stops to count."""
    found = {m for choice in choices for m in (*choice.starts, *choice.ends)}
    return sorted(found | besides)


def _pieces(spans: Iterable[Span], cuts: list[int]) -> Iterator[Span]:
    """Cut spans where any choice begins or stops to count."""
    for first, last in spans:
        inner = cuts[bisect_right(cuts, first) : bisect_left(cuts, last)]
        yield from pairwise([first, *inner, last])


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
