"""What stood in the way: of a gap, stretch by stretch, and of a duty that nobody does.

One more visit is tried at many minutes, with every crew and every water point, and
held against each limit by itself (``trials.py``). What keeps out the visit that breaks
the fewest limits is what binds at that minute: with these eased there would be one.
Minutes with the same answer make a stretch (``stretches.py``), and each stretch is told
in words (``reasons.py``).
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import inf

from models.records import Limit, Reason
from scheduler.solver.explain.crew_times import CrewTimes
from scheduler.solver.explain.reasons import Reasons
from scheduler.solver.explain.stretches import STRICT, GapStretch, Tried, stretches_of
from scheduler.solver.explain.trials import POSSIBLE, Gain, Trial, Trials
from scheduler.solver.plan.cost import Stop, surface_cost
from scheduler.solver.plan.plan import Plan
from scheduler.solver.plan.rules import surface_fits
from scheduler.solver.problem.problem import Job, Surface

_MINUTES_APART = 15  # of what is tried besides the edges, up to
_MOST_EVENLY, _MOST_OPENINGS = 32, 48
_AHEAD_MIN = 24 * 60  # before a gap in which one more wetting could have put it off
_HELPS = 0.5  # of the most that a duty done in time is worth; less is too late


class Explainer:
    """Finds the limits behind gaps and missed duties; the plan is left as it was.

    Parameters
    ----------
    not_before : int
        Minute before which nobody can come any more.
    """

    def __init__(self, plan: Plan, not_before: int = 0) -> None:
        self.plan, self.problem = plan, plan.problem
        self.not_before = max(not_before, plan.problem.begun_until)
        self.reasons, self.trials = Reasons(plan), Trials(plan)
        self._crews: dict[tuple[int, int, int, Stop | None], CrewTimes] = {}
        self._gains: dict[tuple[int, Stop | None], dict[int, float]] = {}

    def why_dry(
        self, surface: Surface, start: int, end: int, *, covered: bool
    ) -> tuple[Reason, ...]:
        """Name what stood in the way in each stretch of a gap; they make it whole."""
        past = self.problem.begun_until
        if start < past:
            until = min(end, past)
            over = self._reason(start, until, "window", "that time is past")
            if end <= past:
                return (over,)
            return (over, *self.why_dry(surface, past, end, covered=covered))
        self._forget()
        last = self._last_visit(surface, end)
        begins = end if last is None else max(start, last.start)
        helpers = self._helpers(surface, start, end, covered=covered)
        if start < begins and not helpers:
            words = (
                "its cover cannot be wetted again"
                if covered
                else "no task is planned that could keep it wet then"
            )
            return (self._reason(start, end, "window", words),)
        tried = self._idle(helpers, start, begins) if start < begins else []
        if last is not None:
            if tried and tried[-1].trial.limits == ("unplanned",):
                tried[-1] = tried[-1]._replace(until=end)
            else:
                trial = self._half_done(last, start, end)
                tried.append(Tried(begins, end, trial))
        return tuple(
            self._reason(stretch.first, stretch.until, *self._told(stretch))
            for stretch in stretches_of(tried)
        )

    def _idle(self, helpers: Sequence[Job], start: int, end: int) -> list[Tried]:
        """Try visits all through the part of a gap in which nobody is at it yet."""
        ahead = self._ahead(helpers[0], start, end)
        tried, left = ([ahead], ahead.until) if ahead is not None else ([], start)
        minutes = [m for m in self._minutes(helpers, start, end) if m > left]
        for first, until in pairwise([*([left] if left < end else []), *minutes, end]):
            first = max(first, left)  # before that, a visit not planned would close it
            if first >= until:
                continue
            trial = self._best(helpers, first, start, end)
            if trial.limits == ("unplanned",):
                left = min(end, max(until, self._damp_until(trial.job, trial.start)))
                until = left
            tried.append(Tried(first, until, trial))
        return tried

    def _last_visit(self, surface: Surface, end: int) -> Stop | None:
        """Find the visit that ends a gap half done, and so was begun in it."""
        jobs = self.problem.jobs
        under_way = [
            stop
            for stop in self.plan.by_surface[surface.index]
            if jobs[stop.job].protects
            and stop.start < end <= stop.start + jobs[stop.job].half_done
        ]
        return max(under_way, default=None)

    def _half_done(self, last: Stop, start: int, end: int) -> Trial:
        """Say that a visit is under way; if all of the gap is that, why no sooner."""
        job = self.problem.jobs[last.job]
        under_way = Trial(job, last.start, ("window",), own=last)
        sooner = start - job.half_done
        allowed = max(self.not_before, job.opens)
        if last.start > start or sooner < allowed or self._not_done(job, sooner):
            return under_way
        crews = self._crew_times(job, sooner, end, last)
        trial = self.trials.of(job, sooner, crews, last, end, self._gain(job, last))
        told = STRICT.isdisjoint(trial.limits) and "window" not in trial.limits
        return trial if told else under_way

    def why_missed(self, job: Job) -> tuple[Limit, str]:
        """Name the limit behind a duty that nobody does and say it in words."""
        self._forget()
        root = self._first_missed(job)
        stretch = self._missed(root)
        limit, words = self._told(stretch) if stretch else self._never(root)
        if root is job or (stretch is not None and stretch.waits):
            return limit, words
        return limit, self.reasons.comes_first(root, words)

    def _never(self, job: Job) -> tuple[Limit, str]:
        return "window", self.reasons.window(job, job.opens, None)

    def _missed(self, job: Job) -> GapStretch | None:
        """Find when a job would have been most useful; None if it never may be done."""
        first = job.opens
        last = min(job.latest - job.duration, self.problem.horizon - 1)
        if first > last:
            return None
        minutes, gain = self._minutes([job], first, last + 1), self._gain(job, None)
        least = _HELPS * max(map(gain, minutes))
        # Where it is too late to be worth it whenever it may be done: why not in time.
        on_time = max(first, job.due - job.duration)
        tried = [
            Tried(minute, until, self._try(job, minute, first, last + 1))
            for minute, until in pairwise([*minutes, last + 1])
            if (gain(minute) >= least if least > 0 else minute <= on_time)
        ]
        return min(stretches_of(tried), key=_most_telling)

    def _first_missed(self, job: Job) -> Job:
        """Find what nobody does of all that a job follows, else the job itself."""
        for link in job.after:
            if self.plan.stop_of(link.job) is None:
                return self._first_missed(self.problem.jobs[link.job])
        return job

    def _told(self, stretch: GapStretch) -> tuple[Limit, str]:
        limits = stretch.named()
        return limits[0], self.reasons.of(stretch, limits)

    def _reason(self, start: int, end: int, limit: Limit, words: str) -> Reason:
        at = self.problem.work.horizon.at
        return Reason(starts_at=at(start), ends_at=at(end), limit=limit, words=words)

    def _forget(self) -> None:
        """Start afresh: what is kept belongs to one gap."""
        self._crews.clear()
        self._gains.clear()

    def _helpers(
        self, surface: Surface, start: int, end: int, *, covered: bool
    ) -> list[Job]:
        """Find the jobs that could have closed a gap, the likeliest first."""
        jobs = self.problem.jobs
        once = [jobs[i] for i in surface.jobs if not jobs[i].repeats]
        once = [job for job in once if self._is_to_come(job, start)]
        if covered:
            helpers = [job for job in once if job.refills and job.opens < end]
            if surface.rewet is not None:
                helpers.append(jobs[surface.rewet])
            return helpers
        helpers = [job for job in once if job.covers or job.seals]
        helpers += [job for job in once if job.protects and job not in helpers]
        return [job for job in helpers if job.opens < end] or helpers[:1]

    def _is_to_come(self, job: Job, minute: int) -> bool:
        own = self.plan.stop_of(job.index)
        return own is None or own.start >= minute

    def _own(self, job: Job, minute: int, end: int) -> Stop | None:
        """Find the stop that a trial moves: a job's own, or the re-wetting to come.

        A re-wetting is one more, unless the one that ends the gap is in its way.
        """
        if not job.repeats:
            return self.plan.stop_of(job.index)
        until = minute + job.duration
        return next(
            (
                stop
                for stop in self.plan.by_surface[job.surface]
                if stop.job == job.index and end - 1 <= stop.start < until
            ),
            None,
        )

    def _best(self, helpers: Sequence[Job], minute: int, start: int, end: int) -> Trial:
        """Give the visit that breaks the fewest limits, of those that would help."""
        useful = [job for job in helpers if job.latest > minute] or helpers
        return min((self._try(job, minute, start, end) for job in useful), key=_broken)

    def _try(self, job: Job, minute: int, start: int, end: int) -> Trial:
        """Try a job at a minute, or what has to be done before it."""
        waiting, first = job, self._not_done(job, minute)
        while first is not None:
            own = self.plan.stop_of(first.index)
            if own is not None and own.start <= minute:  # under way
                return Trial(waiting, minute, ("window",), first=first)
            waiting, first = first, self._not_done(first, minute)
        at = self._in_time(job, minute, start) if waiting is job else minute
        own = self._own(waiting, at, end)
        crews = self._crew_times(waiting, min(at, start), end, own)
        gain = self._gain(job, own) if waiting is job else lambda _start: inf
        trial = self.trials.of(waiting, at, crews, own, end, gain)
        if STRICT.intersection(trial.limits) and crews.limit(at) != crews.limit(minute):
            return Trial(job, minute, ("window",))  # when it would begin nobody is on
        if waiting is job:
            return trial
        if POSSIBLE.intersection(trial.limits):  # it alone would mend nothing
            return Trial(job, minute, ("window",), first=waiting)
        return trial._replace(first=waiting)

    def _in_time(self, job: Job, minute: int, start: int) -> int:
        """Give the last start that is allowed, where one before a minute is as good."""
        last = job.latest - job.duration
        if job.refills:
            return max(min(minute, last), self._wetted(job, start))
        return last if last < minute < job.latest else minute

    def _not_done(self, job: Job, minute: int) -> Job | None:
        """Find what a job follows and that is not over by a minute."""
        for link in job.after:
            before = self.plan.stop_of(link.job)
            if before is None:
                return self.problem.jobs[link.job]
            begun = before.start if link.from_start else self.plan.end(before)
            if begun + link.min_gap > minute:
                return self.problem.jobs[link.job]
        return None

    def _wetted(self, job: Job, minute: int) -> int:
        """End of the last wetting of a job's surface before a minute."""
        ends = [
            self.plan.end(stop)
            for stop in self.plan.by_surface[job.surface]
            if self.problem.jobs[stop.job].refills and stop.start < minute
        ]
        ends = [end for end in ends if end <= minute]
        return max([self.not_before, minute - _AHEAD_MIN, *ends])

    def _crew_times(
        self, job: Job, first: int, end: int, own: Stop | None
    ) -> CrewTimes:
        key = job.index, first, end, own
        if key not in self._crews:
            self._crews[key] = CrewTimes(self.plan, job, first, end, own)
        return self._crews[key]

    def _gain(self, job: Job, own: Stop | None) -> Gain:
        """Tell what a job at a minute spares its surface; what may not be, nothing."""
        surface = self.problem.surfaces[job.surface]
        others = [s for s in self.plan.by_surface[job.surface] if s != own]
        today = self.plan.surface_costs[job.surface].curing_cost
        known = self._gains.setdefault((job.index, own), {})

        def gain(start: int) -> float:
            if start not in known:
                stops = sorted([*others, Stop(start, job.index, -1, -1)])
                fits = surface_fits(self.problem, surface, stops)
                cost = surface_cost(self.problem, surface, stops).curing_cost
                known[start] = today - cost if fits else 0.0
            return known[start]

        return gain

    def _ahead(self, job: Job, start: int, end: int) -> Tried | None:
        """Find a visit before a gap that would put it off: nobody has thought of it."""
        first = self._wetted(job, start) if job.refills else start - job.duration + 1
        first = max(self.not_before, first, job.opens)
        last = min(start - 1, job.latest - job.duration)
        if first > last:
            return None
        own = None if job.repeats else self.plan.stop_of(job.index)
        crews = self._crew_times(job, first, end, own)
        changes = {*crews.openings(), *(edge - 1 for edge in crews.edges())}
        minutes = {minute for minute in changes if first <= minute <= last}
        minutes.update(range(last, first - 1, -_MINUTES_APART))
        gain = self._gain(job, own)
        for minute in _thinned(sorted(minutes, reverse=True), _MOST_OPENINGS):
            if self._not_done(job, minute) is not None:
                return None
            trial = self.trials.of(job, minute, crews, own, end, gain)
            if trial.limits == ("unplanned",):
                until = min(end, max(start + 1, self._damp_until(job, minute)))
                return Tried(start, until, trial)
        return None

    def _damp_until(self, job: Job, start: int) -> int:
        end = min(start + job.duration, self.problem.horizon)
        if job.seals or job.covers:
            return self.problem.horizon
        if job.refills:
            dry_at = self.problem.surfaces[job.surface].minutes.dry_at[end]
            return max(end, dry_at)
        return end

    def _minutes(self, helpers: Sequence[Job], start: int, end: int) -> list[int]:
        """Minutes to try: evenly, and wherever another answer may begin."""
        apart = max(1, min(_MINUTES_APART, (end - start) // 4))
        apart = max(apart, (end - start) // _MOST_EVENLY)
        found = {*range(start, end, apart)}
        opens: set[int] = set()
        for job in helpers:
            for one in self._chain(job):
                for at in (start, end):
                    own = self._own(one, at, end)
                    crews = self._crew_times(one, start, end, own)
                    found.update(crews.edges())
                    opens.update(crews.openings())
                found.update((one.opens, one.latest - one.duration + 1))
                found.update(self._cover_changes(one))
                for ban in self.problem.work.heat_bans:
                    found.update((ban.from_min - one.duration + 1, ban.until_min))
            for stop in self.plan.by_surface[job.surface]:
                found.update(
                    (stop.start - job.duration + 1, stop.start, self.plan.end(stop))
                )
        found.update(_thinned(sorted(opens), _MOST_OPENINGS))
        found.add(start)
        return sorted(minute for minute in found if start <= minute < end)

    def _cover_changes(self, job: Job) -> Iterator[int]:
        """Give the starts from which a job finds another area of its covers free."""
        index = self.plan.covers.laying.get(job.index)
        if index is not None:
            need = self.plan.covers.needs[index]
            for minute, _ in self.plan.covers.levels(need):
                yield minute + self.plan.covers.soaks_for(need)

    def _chain(self, job: Job) -> Iterator[Job]:
        """Give a job and all that it follows."""
        yield job
        for link in job.after:
            yield from self._chain(self.problem.jobs[link.job])


def _broken(trial: Trial) -> tuple[int, bool]:
    """Fewest limits first; of as many, work that may be done then."""
    return len(set(trial.limits) - POSSIBLE), "window" in trial.limits


def _most_telling(stretch: GapStretch) -> tuple[int, int]:
    """Fewest limits first, then the longest."""
    return len(stretch.limits - POSSIBLE), -stretch.minutes


def _thinned(minutes: Sequence[int], most: int) -> Sequence[int]:
    """Leave out some of many, evenly."""
    return minutes[:: max(1, -(-len(minutes) // most))]
