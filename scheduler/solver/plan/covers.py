"""Covers by area: whether what lies, soaks or is washed stays within the site's stock.

Counted exactly, from event to event. What lies there from the start may exceed the
stock and is nobody's fault; nothing more may be laid until enough is free again. What
has to be wet when it is laid has been soaked by a visit, or comes wet from other
surfaces (``wet_moves.py``). Kinds that nobody soaks and of which there is enough for
all surfaces at once are left out. Plain ints of time are minutes from the start of the
horizon.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from models.records import CoverNeed, CoverSupply
from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.wet_moves import NEVER, SLACK_M2, Batch, Laid, wet_moves
from scheduler.solver.problem.problem import Problem

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
    soaked_by: int | None
    checked_by: int | None
    lifted_by: tuple[int, ...]
    lead: int
    turnaround: int

    @property
    def area_m2(self) -> float:
        """Area taken from the stock."""
        return self.record.area_m2

    @property
    def jobs(self) -> tuple[int, ...]:
        """Jobs with which it begins or ends, and the one that looks at it soaked."""
        before = (self.soaked_by, self.checked_by, self.laid_by)
        return (*(job for job in before if job is not None), *self.lifted_by)


class Use(NamedTuple):
    """A need's covers as the stops of its own surface have them.

    Attributes
    ----------
    laid : int
        Start of laying, or since when they lie there.
    soaked_from : int or None
        Start of a soaking that is over so long before that they may be laid.
    off : int
        End of lifting; ``NEVER`` if that is not done.
    """

    laid: int
    soaked_from: int | None
    off: int


@dataclass(frozen=True, slots=True)
class Change:
    """What a change of the roster changes of the covers, by need."""

    uses: dict[int, Use | None]
    spans: dict[int, Span | None]


class CoverLedger:
    """Covers of all kinds that could run short."""

    def __init__(self, problem: Problem) -> None:
        self._jobs, self._begun_until = problem.jobs, problem.begun_until
        self.needs = _counted(problem)
        self.of_surface: dict[int, list[int]] = defaultdict(list)
        self.of_kind: dict[str, list[int]] = defaultdict(list)
        self.laying: dict[int, int] = {}
        self.soaking: dict[int, int] = {}
        self.checking: dict[int, int] = {}
        self.lifting: set[int] = set()
        for index, need in enumerate(self.needs):
            self.of_surface[need.surface].append(index)
            self.of_kind[need.supply.kind].append(index)
            self.lifting.update(need.lifted_by)
            if need.laid_by is not None:
                self.laying[need.laid_by] = index
            if need.soaked_by is not None:
                self.soaking[need.soaked_by] = index
            if need.checked_by is not None:
                self.checking[need.checked_by] = index
        self.uses = [self.use(need, ()) for need in self.needs]
        self.spans: list[Span | None] = [None] * len(self.needs)
        self.recount({})

    def copy(self) -> "CoverLedger":
        """Give a book of the same needs whose spans stay as they are."""
        book = copy(self)
        book.uses, book.spans = list(self.uses), list(self.spans)
        return book

    def use(self, need: Need, stops: Sequence[Stop]) -> Use | None:
        """Say how a need has its covers; None if nobody lays them.

        What is lifted before it is laid is not lifted.
        """
        begins, soaked = need.record.lies_from_min, None
        ends: dict[int, int] = {}
        for stop in stops:
            if stop.job == need.laid_by:
                begins = stop.start
            if stop.job == need.soaked_by:
                soaked = stop.start
            if stop.job in need.lifted_by:
                ends[stop.job] = stop.start + self._jobs[stop.job].duration
        if begins is None:
            return None
        if soaked is not None and soaked + self.soaks_for(need) > begins:
            soaked = None
        off = NEVER
        if ends and len(ends) == len(need.lifted_by) and max(ends.values()) > begins:
            off = max(ends.values())
        return Use(begins, soaked, off)

    def soaks_for(self, need: Need) -> int:
        """Minutes from the start of a need's soaking until it may be laid."""
        job = need.soaked_by
        return need.lead if job is None else self._jobs[job].duration + need.lead

    def changed(self, stops_of: Mapping[int, Sequence[Stop]]) -> Change | None:
        """Give what is new by some surfaces' stops; None if that may not be.

        Parameters
        ----------
        stops_of : mapping
            Stops of each surface that has changed, in order of start.
        """
        new: dict[int, Use | None] = {}
        for surface, stops in stops_of.items():
            for index in self.of_surface.get(surface, ()):
                need = self.needs[index]
                if not self._checked_in_time(need, stops):
                    return None
                use = self.use(need, stops)
                if use != self.uses[index]:
                    new[index] = use
        spans: dict[int, Span | None] = {}
        for kind in dict.fromkeys(self.needs[index].supply.kind for index in new):
            of_kind, all_wet = self._spans(kind, new)
            if not all_wet or not self._fits(kind, of_kind):
                return None
            spans |= of_kind
        return Change(new, spans)

    def keep(self, change: Change) -> None:
        """Note what a change has made of the covers."""
        for index, use in change.uses.items():
            self.uses[index] = use
        for index, span in change.spans.items():
            self.spans[index] = span

    def recount(self, stops_of: Mapping[int, Sequence[Stop]]) -> None:
        """Note how some surfaces have their covers, whatever rules that breaks."""
        for surface, stops in stops_of.items():
            for index in self.of_surface.get(surface, ()):
                self.uses[index] = self.use(self.needs[index], stops)
        for kind in self.of_kind:
            for index, span in self._spans(kind, {})[0].items():
                self.spans[index] = span

    def wet_sources(self, kind: str) -> dict[int, list[tuple[int, float]]]:
        """By need that is laid wet: the needs whose covers it takes, and their area."""
        return self._moves(kind, {})

    def _checked_in_time(self, need: Need, stops: Sequence[Stop]) -> bool:
        """Whether who checks before placing sees it in water, if he can."""
        checked = next((s.start for s in stops if s.job == need.checked_by), None)
        if need.checked_by is None or checked is None or checked < self._begun_until:
            return True
        return checked >= self.check_from(need.checked_by, stops)

    def check_from(self, job: int, stops: Sequence[Stop]) -> int:
        """First start of a check before placing: after the soaking, if it can be.

        0 of any other job, and where the soaking is over too late for it.
        """
        if job not in self.checking:
            return 0
        soaks = self.needs[self.checking[job]].soaked_by
        soaked = next((s.start for s in stops if s.job == soaks), None)
        if soaks is None or soaked is None:
            return 0
        over = soaked + self._jobs[soaks].duration
        return over if over <= self.last_start(job) else 0

    def last_start(self, job: int) -> int:
        """Give the last minute at which a job may start."""
        return self._jobs[job].latest - self._jobs[job].duration

    def _moves(
        self, kind: str, new: Mapping[int, Use | None]
    ) -> dict[int, list[tuple[int, float]]]:
        """Match what is laid wet with what has come off: need to need, with areas."""
        laid: list[Laid] = []
        batches: list[Batch] = []
        for index in self.of_kind[kind]:
            use = new[index] if index in new else self.uses[index]
            if use is None:
                continue
            need = self.needs[index]
            if need.soaked_by is not None and use.soaked_from is None:
                laid.append(Laid(use.laid, index, need.area_m2))
            if use.off < NEVER:
                ready, until = use.off + need.turnaround, use.off
                until += need.supply.stays_wet_min
                batches.append(Batch(ready, until, index, need.area_m2))
        return wet_moves(laid, batches)

    def _spans(
        self, kind: str, new: Mapping[int, Use | None]
    ) -> tuple[dict[int, Span | None], bool]:
        """Give the spans of a kind that change, and whether nothing is laid dry."""
        moved, all_wet = self._moves(kind, new), True
        spans: dict[int, Span | None] = {}
        for index in self.of_kind[kind]:
            need = self.needs[index]
            use, span = new[index] if index in new else self.uses[index], None
            if use is not None:
                begins = max(0, use.laid - need.lead)
                if use.soaked_from is not None:
                    begins = use.soaked_from
                elif index in moved:
                    begins = use.laid
                elif need.soaked_by is not None and need.planned:
                    all_wet &= use.laid < need.record.in_water_until_min
                off = use.off
                span = (begins, off if off == NEVER else off + need.turnaround)
            if span != self.spans[index]:
                spans[index] = span
        return spans, all_wet

    def earliest_start(self, job: int, stops: Sequence[Stop], from_min: int) -> int:
        """First start of a job at which the stock bears what it lays; else ``NEVER``.

        By a soaking that is planned, or wet from other surfaces, or in water already.

        Parameters
        ----------
        stops : sequence of Stop
            Of its surface.
        from_min : int
            It starts no sooner for other reasons.
        """
        index = self.laying.get(job)
        if index is None:
            return 0
        need = self.needs[index]
        until = self._lifted_at(need, stops)
        free_from = self.free_from(need, until)
        if free_from >= NEVER:
            return NEVER
        in_water = free_from + need.lead if free_from > 0 else 0
        if need.soaked_by is None:
            return in_water
        soaked = next((s.start for s in stops if s.job == need.soaked_by), NEVER)
        if soaked < NEVER:
            late = self.free_from(need, until, soaked) > soaked
            soaked = NEVER if late else soaked + self.soaks_for(need)
        if max(in_water, from_min) >= need.record.in_water_until_min:
            in_water = NEVER
        wet = self._wet_from(index, max(free_from, from_min))
        return min(soaked, in_water, wet)

    def _wet_from(self, index: int, from_min: int) -> int:
        """First minute at which a need could be laid wet; or ``NEVER``."""
        kind = self.needs[index].supply.kind
        ready = {from_min}
        for i in self.of_kind[kind]:
            use = self.uses[i]
            if use is not None and use.off < NEVER and i != index:
                ready.add(max(from_min, use.off + self.needs[i].turnaround))
        for minute in sorted(ready):
            new = {index: Use(minute, None, NEVER)}
            if index in self._moves(kind, new) and self._spans(kind, new)[1]:
                return minute
        return NEVER

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
            s.job: s.start + self._jobs[s.job].duration
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


def _counted(problem: Problem) -> list[Need]:
    """Gather the needs of the kinds that could run short or are soaked, by surface."""
    wanted_m2: dict[str, float] = defaultdict(float)
    soaked: set[str] = set()
    for surface in problem.surfaces:
        for need in surface.work.cover_needs:
            wanted_m2[need.kind] += need.area_m2
            if need.soaked_by is not None:
                soaked.add(need.kind)
    supplies = {
        supply.kind: supply
        for supply in problem.work.covers
        if supply.kind in soaked or wanted_m2[supply.kind] > supply.stock_m2 + SLACK_M2
    }
    job_of = {job.task.id: job.index for job in problem.jobs}
    begun = {visit.job for visit in problem.begun}

    def job(task_id: str | None) -> int | None:
        return None if task_id is None else job_of[task_id]

    return [
        Need(
            record=need,
            supply=supplies[need.kind],
            surface=surface.index,
            laid_by=job(need.laid_by),
            planned=need.laid_by is not None and job_of[need.laid_by] not in begun,
            soaked_by=job(need.soaked_by),
            checked_by=job(need.checked_by),
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
