"""What stood in the way of a gap: the limit that bit, in site words.

One more visit is tried in and just before the gap, while the limits are put on one
after another: its window, crews on shift, skills and people, the walk, other work,
rest, water. The first limit that leaves no visit is named: without it there would be
one.
"""

from collections.abc import Callable

from models.records import Limit
from scheduler.solver.cost import Stop
from scheduler.solver.openings import Span, joint, lane_openings
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job, Lane, Surface
from scheduler.solver.rules import rest_fits
from scheduler.solver.water_words import WaterReasons
from scheduler.solver.words import SiteWords, crew, listed

Reason = tuple[Limit, str]
Openings = list[tuple[Lane, Span]]


class Explainer:
    """Finds the limit behind each gap of a plan; the plan is left as it was."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.problem = plan, plan.problem
        work = plan.problem.work
        self.say = SiteWords(work.horizon, work.timezone, work.units)
        self.water = WaterReasons(plan, self.say)

    def why(self, surface: Surface, start: int, end: int, *, covered: bool) -> Reason:
        """Name the limit and say it in words."""
        job = self._helper(surface, start, end, covered=covered)
        if job is None:
            if covered:
                return "window", "its cover cannot be wetted again"
            return "window", "nothing is planned that would protect it then"
        # A visit that helps comes before the gap is half over.
        useful = (max(0, start - job.duration), start + (end - start) // 2)
        return self._ladder(job, useful)

    def _helper(
        self, surface: Surface, start: int, end: int, *, covered: bool
    ) -> Job | None:
        """Find the job that would have closed a gap."""
        jobs = self.problem.jobs
        stops = self.plan.by_surface[surface.index]
        chosen: Job | None
        if covered:
            to_come = [
                jobs[s.job] for s in stops if jobs[s.job].wets and s.start >= end - 1
            ]
            soaks = [job for job in to_come if not job.repeats]
            wetted = any(jobs[s.job].wets and s.start < start for s in stops)
            chosen = jobs[surface.rewet] if surface.rewet is not None else None
            if soaks and not wetted:
                chosen = soaks[0]
        else:
            once = [jobs[i] for i in surface.jobs if not jobs[i].repeats]
            known = [job for job in once if job.covers or job.seals]
            known += [job for job in once if job.guards]
            chosen = next((job for job in known if job.earliest < end), None)
            chosen = chosen or (known[0] if known else None)
        return None if chosen is None else self._held_up_by(chosen, start)

    def _held_up_by(self, job: Job, start: int) -> Job:
        """Go back to the work that it waits for, if that is what is late."""
        for link in job.after:
            before = self._stop_of(link.job)
            if before is None or self.plan.end(before) + link.min_gap > start:
                return self._held_up_by(self.problem.jobs[link.job], start)
        return job

    def _stop_of(self, job: int) -> Stop | None:
        surface = self.problem.jobs[job].surface
        return next((s for s in self.plan.by_surface[surface] if s.job == job), None)

    def _ladder(self, job: Job, useful: Span) -> Reason:
        """Put the limits on one by one until no visit is left."""
        first, last = (
            max(useful[0], job.earliest),
            min(useful[1], job.latest - job.duration),
        )
        if first > last:
            return "window", self._window_words(job, useful)
        useful = (first, last)
        steps: list[tuple[Callable[[Job, Span], list[Lane]], Callable[..., Reason]]] = [
            (self._on_shift, self._nobody),
            (self._able, self._unable),
            (self._there, self._too_far),
        ]
        lanes: list[Lane] = []
        for step, words in steps:
            left = step(job, useful)
            if not left:
                return words(job, useful, lanes)
            lanes = left
        return self._openings(job, useful, lanes)

    # Lanes that are left, limit by limit.

    def _on_shift(self, job: Job, useful: Span) -> list[Lane]:
        """Find shifts; where there is none, who could be called out."""
        lanes = [
            lane
            for lane in self.problem.lanes
            if max(lane.starts, useful[0]) <= min(lane.closes - job.duration, useful[1])
        ]
        return [lane for lane in lanes if lane.shift.kind == "shift"] or lanes

    def _able(self, job: Job, useful: Span) -> list[Lane]:
        return [
            lane
            for lane in self._on_shift(job, useful)
            if lane.shift.people >= job.task.people
            and set(job.task.skills) <= set(lane.shift.skills)
        ]

    def _there(self, job: Job, useful: Span) -> list[Lane]:
        reached = []
        for lane in self._able(job, useful):
            first, last = self.problem.start_range(job, lane)
            if max(first, useful[0]) <= min(last, useful[1]):
                reached.append(lane)
        return reached

    # What to say when none is left.

    def _window_words(self, job: Job, useful: Span) -> str:
        what = job.task.title.lower()
        if useful[1] < job.earliest:
            return f"{what} is not allowed before {self.say.at(job.earliest)}"
        return f"{what} must be over by {self.say.at(job.latest)}"

    def _nobody(self, job: Job, useful: Span, lanes: list[Lane]) -> Reason:
        del lanes
        before = [
            lane.closes for lane in self.problem.lanes if lane.closes <= useful[1]
        ]
        after = [lane for lane in self.problem.lanes if lane.starts > useful[0]]
        since = max([b for b in before if b - job.duration < useful[0]], default=0)
        words = f"no crew is on shift from {self.say.at(max(since, 0))}"
        if after:
            following = min(after, key=lambda lane: (lane.starts, lane.index))
            words += f" until {self.say.at(following.starts)} ({crew(following.shift)})"
        return "no_crew_on_shift", words

    def _unable(self, job: Job, useful: Span, lanes: list[Lane]) -> Reason:
        del useful
        task = job.task
        needs = f"{task.people} with {', '.join(task.skills)}"
        have = listed(
            f"{crew(shift)} ({shift.people}: {', '.join(shift.skills)})"
            for shift in (lane.shift for lane in lanes)
        )
        return "no_skill", f"{task.title.lower()} takes {needs}; on shift: {have}"

    def _too_far(self, job: Job, useful: Span, lanes: list[Lane]) -> Reason:
        del useful
        walks = [
            f"{crew(lane.shift)} walk {self.problem.travel[lane.home][job.zone]} min "
            f"once their shift begins {self.say.at(lane.starts)}"
            for lane in lanes
        ]
        return "travel", listed(walks)

    # From lanes to openings in them.

    def _openings(self, job: Job, useful: Span, lanes: list[Lane]) -> Reason:
        own = None if job.repeats else self._stop_of(job.index)
        free = self._free(job, useful, lanes, own, walks=True)
        if not free:
            return self._busy(job, useful, lanes, own)
        rested = [
            (lane, span) for lane, span in free if self._rests(job, lane, span, own)
        ]
        if not rested:
            return "rest", self._rest_words([lane for lane, _ in free])
        if job.draws is not None:
            dry = self.water.why(job, rested, own)
            if dry is not None:
                return dry
        return "price", self._price_words(job, rested, own)

    def _free(
        self,
        job: Job,
        useful: Span,
        lanes: list[Lane],
        own: Stop | None,
        *,
        walks: bool,
    ) -> Openings:
        return [
            (lane, span)
            for lane in lanes
            for span in joint(
                [useful], lane_openings(self.plan, job, lane, but=own, walks=walks)
            )
        ]

    def _busy(
        self, job: Job, useful: Span, lanes: list[Lane], own: Stop | None
    ) -> Reason:
        if free := self._free(job, useful, lanes, own, walks=False):
            crews = listed(crew(lane.shift) for lane, _ in free)
            words = (
                f"{crews} have {job.duration} min between two jobs, but not the walk "
                "there and back"
            )
            return "travel", words
        return "crews_busy", listed(self._doing(lane, useful) for lane in lanes)

    def _doing(self, lane: Lane, useful: Span) -> str:
        """Say what a crew does in a stretch."""
        who = crew(lane.shift)
        doing = [
            (self.plan.end(stop), stop)
            for stop in self.plan.by_lane[lane.index]
            if stop.start <= useful[1] and self.plan.end(stop) > useful[0]
        ]
        for a, b in lane.breaks:
            if not doing and a <= useful[1] and b > useful[0]:
                return f"{who} in the break until {self.say.at(b)}"
        if not doing:
            return f"{who} between two jobs"
        end, stop = max(doing)
        job = self.problem.jobs[stop.job]
        label = self.problem.surfaces[job.surface].work.label
        more = f" and {len(doing) - 1} before" if len(doing) > 1 else ""
        what = f"{label} ({job.task.title.lower()})"
        return f"{who} on {what} until {self.say.at(end)}{more}"

    def _rests(self, job: Job, lane: Lane, span: Span, own: Stop | None) -> bool:
        """Whether a crew could do it and still rest between its shifts."""
        by_lane = list(self.plan.by_lane)
        if own is not None:
            by_lane[own.lane] = [s for s in by_lane[own.lane] if s != own]
        for start in span:
            added = Stop(start, job.index, lane.index, -1)
            trial = list(by_lane)
            trial[lane.index] = sorted([*trial[lane.index], added])
            if rest_fits(self.problem, lane.crew, trial):
                return True
        return False

    def _rest_words(self, lanes: list[Lane]) -> str:
        crews = listed(crew(lane.shift) for lane in lanes)
        on_call = all(lane.shift.kind == "on_call" for lane in lanes)
        who = f"no crew is on shift; {crews}, on call," if on_call else crews
        return (
            f"{who} would lack the {self.problem.rest / 60:g} h of rest between shifts"
        )

    def _price_words(self, job: Job, openings: Openings, own: Stop | None) -> str:
        """Say what the cheapest visit would add to the cost of the roster."""
        best: tuple[float, int, int] | None = None
        remove = () if own is None else (own,)
        for lane, span in openings:
            for start in sorted({*span, (span[0] + span[1]) // 2}):
                before = self.plan.cost
                stop = Stop(start, job.index, lane.index, -1)
                if not self.plan.change(remove, (stop,)):
                    continue
                key = (self.plan.cost - before, start, lane.index)
                added = next(
                    s for s in self.plan.by_lane[lane.index] if s[:2] == stop[:2]
                )
                self.plan.change((added,), remove)
                if best is None or key < best:
                    best = key
        if best is None:
            return (
                "one visit alone cannot close it: other work on the surface forbids it"
            )
        shift = self.problem.lanes[best[2]].shift
        called = shift.kind == "on_call"
        return (
            f"{crew(shift)} could {'be called out' if called else 'come'} "
            f"{self.say.at(best[1])}, but that would cost "
            f"{max(0.0, best[0]):,.1f} more than it saves"
        )
