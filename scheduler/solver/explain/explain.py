"""What stood in the way: of a gap, and of a duty that nobody does.

One more visit is tried at many minutes, with every crew and every water point, and
held against each limit by itself (``hurdles.py``). Visits that a single limit keeps out
tell what binds: with that limit eased there would be one. Of several such limits, the
one whose easing saves most is named; of equal ones, the one met most often. Where no
limit binds alone, those of the visit that breaks the fewest are named together.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from itertools import product
from math import inf
from typing import NamedTuple

from models.records import Limit
from scheduler.solver.explain.reasons import Reasons
from scheduler.solver.explain.trials import LIMITS, Trials, Try
from scheduler.solver.plan.cost import Stop, surface_cost
from scheduler.solver.plan.openings import Span, intersected, lane_openings
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.plan.rules import surface_fits
from scheduler.solver.problem.problem import Job, Surface

Reason = tuple[Limit, str]
Gain = Callable[[int], float]

#: Starts tried evenly over a stretch, besides the edges of openings: fewer on large
#: sites, where a minute has many crews to try. Who is free is found by the edges.
_STARTS, _FEWEST_STARTS, _TRIALS = 24, 6, 1000
_HELPS = 0.5  # of the most that any visit could save; less would mend little
_DAY_MIN = 1440
_NEARLY = 0.9  # of the most that easing a limit saves counts as much


class _Chance(NamedTuple):
    """A job at a minute, and what it would spare its surface."""

    gain: float
    job: Job
    start: int


class Explainer:
    """Finds the limit behind gaps and missed duties; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.problem = plan, plan.problem
        self.reasons, self.trials = Reasons(plan), Trials(plan)
        shifts_a_day = len(self.problem.lanes) * _DAY_MIN // self.problem.horizon
        many = _TRIALS // max(1, shifts_a_day)
        self.starts = min(_STARTS, max(_FEWEST_STARTS, many))

    def why_dry(
        self, surface: Surface, start: int, end: int, *, covered: bool
    ) -> Reason:
        """Name the limit behind a gap and say it in words."""
        helpers = self._helpers(surface, start, end, covered=covered)
        if not helpers:
            if covered:
                return "window", "its cover cannot be wetted again"
            return "window", "nothing is planned that would protect it then"
        chances: list[_Chance] = []
        for job in helpers:
            useful = (max(0, start - job.duration), max(start, end - 1))
            chances += self._chances(job, useful, self._gain(job))
        if found := self._tries(chances):
            return self._binding(found)
        middle = start + (end - start) // 2
        for job in helpers:
            if reason := self._waits(job, start, middle):
                return reason
        job, useful = helpers[0], (max(0, start - helpers[0].duration), middle)
        if job.earliest <= useful[1] and useful[0] <= job.latest - job.duration:
            return "window", "one visit alone cannot close it"
        return "window", self.reasons.window(job, useful)

    def why_missed(self, job: Job) -> Reason:
        """Name the limit behind a duty that nobody does and say it in words."""
        for link in job.after:
            if self.plan.stop_of(link.job) is None:
                before = self.problem.jobs[link.job]
                return self._first(before, *self.why_missed(before))
        useful = (job.earliest, job.latest)
        if found := self._tries(self._chances(job, useful, self._gain(job))):
            return self._binding(found)
        on_time = max(job.earliest, job.due - job.duration)
        if reason := self._waits(job, on_time, on_time):
            return reason
        return "window", "other work on the surface leaves it no time"

    def _waits(self, job: Job, needed_at: int, until: int) -> Reason | None:
        """Say why a job, or what it waits for, is not begun sooner, by a minute."""
        chain = [job]
        while (before := self._waits_for(chain[0], needed_at)) is not None:
            chain.insert(0, before)
        for one in chain:
            own = self.plan.stop_of(one.index)
            last = until if own is None else min(until, own.start - 1)
            useful = (one.earliest, last)
            found = self._tries(self._chances(one, useful, lambda _start: inf))
            if found and all(each.hurdles for each in found):
                reason = self._binding(found)
                return reason if one is job else self._first(one, *reason)
        return None

    def _waits_for(self, job: Job, start: int) -> Job | None:
        """Find the work that is not over when a job would have to begin."""
        for link in job.after:
            before = self.plan.stop_of(link.job)
            if before is None or self.plan.end(before) + link.min_gap > start:
                return self.problem.jobs[link.job]
        return None

    def _first(self, before: Job, limit: Limit, words: str) -> Reason:
        return limit, f"{before.task.title.lower()} comes first: {words}"

    def _helpers(
        self, surface: Surface, start: int, end: int, *, covered: bool
    ) -> list[Job]:
        """Find the jobs that could have closed a gap, the likeliest first."""
        jobs = self.problem.jobs
        stops = self.plan.by_surface[surface.index]
        if covered:
            to_come = [
                jobs[s.job] for s in stops if jobs[s.job].refills and s.start >= end - 1
            ]
            soaks = [job for job in to_come if not job.repeats]
            wetted = any(jobs[s.job].refills and s.start < start for s in stops)
            if soaks and not wetted:
                return soaks[:1]
            return [] if surface.rewet is None else [jobs[surface.rewet]]
        once = [jobs[i] for i in surface.jobs if not jobs[i].repeats]
        known = [job for job in once if job.covers or job.seals]
        known += [job for job in once if job.protects and job not in known]
        return [job for job in known if job.earliest < end] or known[:1]

    def _own(self, job: Job) -> Stop | None:
        return None if job.repeats else self.plan.stop_of(job.index)

    def _gain(self, job: Job) -> Gain:
        """Tell what a job at a minute spares its surface; what may not be, nothing."""
        surface, own = self.problem.surfaces[job.surface], self._own(job)
        others = [s for s in self.plan.by_surface[job.surface] if s != own]
        today = self.plan.surface_costs[job.surface].curing_cost

        def gain(start: int) -> float:
            stops = sorted([*others, Stop(start, job.index, -1, -1)])
            if not surface_fits(self.problem, surface, stops):
                return 0.0
            return today - surface_cost(self.problem, surface, stops).curing_cost

        return gain

    def _chances(self, job: Job, useful: Span, gain: Gain) -> list[_Chance]:
        """Find minutes of a stretch at which a job helps."""
        first = max(useful[0], job.earliest, 0)
        last = min(useful[1], job.latest - job.duration, self.problem.horizon - 1)
        if first > last:
            return []
        starts = self._starts(job, (first, last), self._own(job))
        found = (_Chance(gain(start), job, start) for start in starts)
        return [one for one in found if one.gain >= LEAST_GAIN]

    def _tries(self, chances: list[_Chance]) -> list[Try]:
        """Try the chances that would mend most, or nearly as much."""
        most = max((one.gain for one in chances), default=0.0)
        found: list[Try] = []
        fewest = inf  # of the limits that one breaks: others are beside the point
        for one in chances:
            if one.gain >= _HELPS * most:
                job, start, gain = one.job, one.start, one.gain
                new = [*self.trials.of(job, start, gain, self._own(job), fewest)]
                fewest = min(fewest, *(len(trial.hurdles) for trial in new), inf)
                found += new
        return found

    def _starts(self, job: Job, useful: Span, own: Stop | None) -> list[int]:
        """Minutes spread evenly over a stretch, and where crews become free."""
        first, last = useful
        step = max(1, (last - first) // self.starts)
        starts = {*range(first, last + 1, step), last}
        lanes = self.problem.lanes_for(job, first, last)
        for lane, walks in product(lanes, (True, False)):
            free = lane_openings(self.plan, job, lane, useful, but=own, walks=walks)
            starts.update(edge for s in intersected([useful], free) for edge in s)
        return sorted(starts)

    def _binding(self, found: Sequence[Try]) -> Reason:
        """Name what keeps out the visits that break the fewest limits."""
        fewest = min(len(one.hurdles) for one in found)
        near = [one for one in found if len(one.hurdles) == fewest]
        most = max(one.gain for one in near)
        near = [one for one in near if one.gain >= _NEARLY * most]
        often = Counter(one.hurdles for one in near)
        hurdles = min(often, key=lambda each: (-often[each], _ranks(each)))
        best = max(
            (one for one in near if one.hurdles == hurdles),
            key=lambda one: (one.gain, -one.start),
        )
        met = [
            one
            for one in near
            if one.hurdles == hurdles and (one.job, one.start) == (best.job, best.start)
        ]
        if not hurdles:
            return "price", self.reasons.overlooked(met[0])
        return hurdles[0], self.reasons.of(met)


def _ranks(hurdles: Iterable[Limit]) -> list[int]:
    return [LIMITS.index(limit) for limit in hurdles]
