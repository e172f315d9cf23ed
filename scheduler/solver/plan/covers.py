"""Covers by area: whether what lies, soaks or is washed stays within the site's stock.

Counted exactly, from event to event. What lies there from the start may exceed the
stock and is nobody's fault; nothing more may be laid until enough is free again. Kinds
of which there is enough for all surfaces at once are left out. Plain ints of time are
minutes from the start of the horizon.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from itertools import pairwise

from models.records import CoverNeed, CoverSupply
from scheduler.solver.plan.cost import Stop
from scheduler.solver.problem.problem import Problem

SLACK_M2 = 1e-6  # areas are sums of decimals
NEVER = 1 << 40

Span = tuple[int, int]
"""First minute in which covers are taken from the stock, first minute free again."""


@dataclass(frozen=True, slots=True, eq=False)
class Need:
    """Covers of one surface; jobs by their index.

    ``planned`` is False where they lie already, or laying them has begun.
    """

    record: CoverNeed
    supply: CoverSupply
    surface: int
    laid_by: int | None
    planned: bool
    lifted_by: tuple[int, ...]
    lead: int
    turnaround: int

    @property
    def area_m2(self) -> float:
        """Area taken from the stock."""
        return self.record.area_m2

    @property
    def jobs(self) -> tuple[int, ...]:
        """Jobs with which it begins or ends."""
        laid = () if self.laid_by is None else (self.laid_by,)
        return laid + self.lifted_by


class CoverLedger:
    """Covers of all kinds that could run short."""

    def __init__(self, problem: Problem) -> None:
        self._durations = [job.duration for job in problem.jobs]
        self.needs = _scarce(problem)
        self.of_surface: dict[int, list[int]] = defaultdict(list)
        self.of_kind: dict[str, list[int]] = defaultdict(list)
        self.laying: dict[int, int] = {}
        self.lifting: set[int] = set()
        for index, need in enumerate(self.needs):
            self.of_surface[need.surface].append(index)
            self.of_kind[need.supply.kind].append(index)
            self.lifting.update(need.lifted_by)
            if need.laid_by is not None:
                self.laying[need.laid_by] = index
        self.spans = [self.span(need, ()) for need in self.needs]

    def copy(self) -> "CoverLedger":
        """Give a book of the same needs whose spans stay as they are."""
        book = copy(self)
        book.spans = list(self.spans)
        return book

    def span(self, need: Need, stops: Sequence[Stop]) -> Span | None:
        """Say from when to when a need takes its covers; None if nobody lays them.

        What is lifted before it is laid is not lifted.
        """
        begins = need.record.lies_from_min
        ends: dict[int, int] = {}
        for stop in stops:
            if stop.job == need.laid_by:
                begins = stop.start
            if stop.job in need.lifted_by:
                ends[stop.job] = stop.start + self._durations[stop.job]
        if begins is None:
            return None
        until = NEVER
        if ends and len(ends) == len(need.lifted_by):
            off = max(ends.values())
            until = off + need.turnaround if off > begins else NEVER
        return max(0, begins - need.lead), until

    def changed(
        self, stops_of: Mapping[int, Sequence[Stop]]
    ) -> dict[int, Span | None] | None:
        """Give the new spans of some surfaces' needs; None if the stock is too small.

        Parameters
        ----------
        stops_of : mapping
            Stops of each surface that has changed, in order of start.
        """
        new: dict[int, Span | None] = {}
        for surface, stops in stops_of.items():
            for index in self.of_surface.get(surface, ()):
                span = self.span(self.needs[index], stops)
                if span != self.spans[index]:
                    new[index] = span
        kinds = dict.fromkeys(self.needs[index].supply.kind for index in new)
        return new if all(self._fits(kind, new) for kind in kinds) else None

    def keep(self, spans: Mapping[int, Span | None]) -> None:
        """Note new spans."""
        for index, span in spans.items():
            self.spans[index] = span

    def earliest_start(self, job: int, stops: Sequence[Stop]) -> int:
        """First start of a job at which the stock bears what it lays; else ``NEVER``.

        Parameters
        ----------
        stops : sequence of Stop
            Of its surface.
        """
        index = self.laying.get(job)
        if index is None:
            return 0
        need = self.needs[index]
        free_from = self.free_from(need, self._lifted_at(need, stops))
        return free_from + need.lead if 0 < free_from < NEVER else free_from

    def free_from(self, need: Need, until: int = NEVER, from_min: int = 0) -> int:
        """First minute from which a need's area is free until another; or ``NEVER``.

        The need's own covers do not count.
        """
        free_from = from_min
        for (minute, used_m2), following in pairwise(self.levels(need)):
            if minute >= until:
                break
            if used_m2 + need.area_m2 > need.supply.stock_m2 + SLACK_M2:
                free_from = max(free_from, following[0])
        return free_from

    def free_m2(self, need: Need, minute: int) -> float:
        """Area of a need's kind that other surfaces leave free in a minute."""
        taken_m2 = sum(
            self.needs[index].area_m2
            for index in self.of_kind[need.supply.kind]
            if self.needs[index].surface != need.surface
            and (span := self.spans[index]) is not None
            and span[0] <= minute < span[1]
        )
        return need.supply.stock_m2 - taken_m2

    def is_free(self, need: Need, minute: int) -> bool:
        """Whether other surfaces leave what a need takes free in a minute."""
        return self.free_m2(need, minute) >= need.area_m2 - SLACK_M2

    def levels(self, need: Need) -> list[tuple[int, float]]:
        """Area of a need's kind taken by the others, from minute to minute."""
        others = (
            (self.spans[index], self.needs[index].area_m2)
            for index in self.of_kind[need.supply.kind]
            if self.needs[index] is not need
        )
        return profile((span, area_m2) for span, area_m2 in others if span)

    def holders(self, need: Need, from_min: int, until_min: int) -> list[Need]:
        """Needs of the same kind that have covers in a stretch, soonest free first."""
        found = [
            (span[1], index)
            for index in self.of_kind[need.supply.kind]
            if self.needs[index] is not need
            and (span := self.spans[index]) is not None
            and span[0] < until_min
            and from_min < span[1]
        ]
        return [self.needs[index] for _, index in sorted(found)]

    def _lifted_at(self, need: Need, stops: Sequence[Stop]) -> int:
        """Minute at which a need laid now would be lifted."""
        ends = {
            s.job: s.start + self._durations[s.job]
            for s in stops
            if s.job in need.lifted_by
        }
        if not ends or len(ends) < len(need.lifted_by):
            return NEVER
        return max(ends.values()) + need.turnaround

    def _fits(self, kind: str, new: Mapping[int, Span | None]) -> bool:
        """Whether the stock is kept whenever something lies that the roster laid."""
        steps: dict[int, tuple[float, float]] = {}
        for index in self.of_kind[kind]:
            need = self.needs[index]
            span = new.get(index, self.spans[index])
            laid_m2 = need.area_m2 if need.planned else 0.0
            for minute, sign in zip(span or (), (1, -1), strict=False):
                all_m2, by_us_m2 = steps.get(minute, (0.0, 0.0))
                steps[minute] = (
                    all_m2 + sign * need.area_m2,
                    by_us_m2 + sign * laid_m2,
                )
        stock_m2 = self.needs[self.of_kind[kind][0]].supply.stock_m2
        used_m2 = laid_m2 = 0.0
        for minute in sorted(steps):
            used_m2 += steps[minute][0]
            laid_m2 += steps[minute][1]
            if used_m2 > stock_m2 + SLACK_M2 and laid_m2 > SLACK_M2:
                return False
        return True


def _scarce(problem: Problem) -> list[Need]:
    """Gather the needs of the kinds that could run short, by surface."""
    wanted_m2: dict[str, float] = defaultdict(float)
    for surface in problem.surfaces:
        for need in surface.work.cover_needs:
            wanted_m2[need.kind] += need.area_m2
    supplies = {
        supply.kind: supply
        for supply in problem.work.covers
        if wanted_m2[supply.kind] > supply.stock_m2 + SLACK_M2
    }
    job_of = {job.task.id: job.index for job in problem.jobs}
    begun = {visit.job for visit in problem.begun}
    return [
        Need(
            record=need,
            supply=supplies[need.kind],
            surface=surface.index,
            laid_by=None if need.laid_by is None else job_of[need.laid_by],
            planned=need.laid_by is not None and job_of[need.laid_by] not in begun,
            lifted_by=tuple(job_of[task_id] for task_id in need.lifted_by),
            lead=need.soak_lead_min,
            turnaround=need.turnaround_min,
        )
        for surface in problem.surfaces
        for need in surface.work.cover_needs
        if need.kind in supplies
    ]


def profile(taken: Iterable[tuple[Span, float]]) -> list[tuple[int, float]]:
    """Add up areas: the total from each minute at which it changes, up to ``NEVER``."""
    events: dict[int, float] = {0: 0.0, NEVER: 0.0}
    for (first, until), area_m2 in taken:
        events[first] = events.get(first, 0.0) + area_m2
        events[until] = events.get(until, 0.0) - area_m2
    total, levels = 0.0, []
    for minute in sorted(events):
        total += events[minute]
        levels.append((minute, total))
    return levels
