"""A first roster by a foreman's rules: earliest dry-out first, nearest as tie-break.

Work with a time of its own (covers, fog, soaks, compound) is given out ahead; rewets
and wide duties are handed to whoever is free, minute after minute; before a stretch
that nobody serves, covers are topped up early; a call-out is taken where the dryness
it saves is worth several times its price.
"""

from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from scheduler.solver.cost import Stop
from scheduler.solver.openings import joint, lane_openings, surface_openings
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job, Lane, Problem

_TIGHT_MIN = 240  # a duty with less play than this is given out ahead
_FOREMEN_SURFACES = 360
_IDLE_MIN = 10  # how long a free crew waits before it looks again


@dataclass(frozen=True)
class Rules:
    """How a foreman decides.

    Attributes
    ----------
    look_min : int
        A rewet is worth a visit if the cover is dry within this time.
    walk_factor : float
        How much a minute of walking weighs against a minute of urgency.
    top_up_min : int
        How long before the end of a shift covers are topped up for the night.
    call_out_factor : float or None
        A call-out must save this many times its price; None: never called out.
    """

    look_min: int
    walk_factor: float
    top_up_min: int
    call_out_factor: float | None


RULES = (
    Rules(45, 2.0, 150, 1.3),
    Rules(20, 2.0, 90, None),
    Rules(20, 5.0, 180, 1.3),
    Rules(90, 2.0, 180, None),
    Rules(20, 0.5, 180, 2.0),
    Rules(60, 5.0, 240, 1.3),
)


def dispatch(problem: Problem, rules: Rules) -> Plan:
    """Build a roster from nothing."""
    plan = Plan(problem)
    give_out(plan, [job for job in problem.jobs if _is_timed(plan, job)])
    _Foreman(plan, rules).work()
    give_out(plan, [job for job in problem.jobs if not job.repeats])
    return plan


def best_start(problem: Problem, rules: tuple[Rules, ...] = RULES) -> Plan:
    """Cheapest roster of several foremen; of fewer on a large site."""
    tried = rules[: max(1, _FOREMEN_SURFACES // max(1, len(problem.surfaces)))]
    return min((dispatch(problem, one) for one in tried), key=lambda plan: plan.cost)


def _is_timed(plan: Plan, job: Job) -> bool:
    if job.repeats:
        return False
    if job.index in plan.covers.lifting:
        return True
    play = min(job.latest, job.due + 60) - job.earliest - job.duration
    tied = any(link.max_gap is not None for link in job.after)
    return job.matters or play < _TIGHT_MIN or tied


def give_out(plan: Plan, jobs: list[Job]) -> None:
    """Give each job the place that costs least, in order of time; skip done ones."""
    waiting = sorted(jobs, key=lambda job: (job.earliest, job.due, job.index))
    done = {stop.job for own in plan.by_surface for stop in own}
    waiting = [job for job in waiting if job.index not in done]
    while waiting:
        later: list[Job] = []
        placed = False
        for job in waiting:
            if any(link.job not in done for link in job.after):
                later.append(job)
            elif place(plan, job):
                done.add(job.index)
                placed = True
        if not placed:
            return
        waiting = later


def place(plan: Plan, job: Job) -> bool:
    """Put a job where the roster gets cheapest by it, if it gets cheaper at all."""
    best: tuple[float, int, int] | None = None
    mine = surface_openings(plan, job)
    today = _price(plan, job)
    for lane in (plan.problem.lanes[i] for i in job.lanes) if mine else ():
        for low, high in joint(lane_openings(plan, job, lane), mine)[:8]:
            # As early as it may, or as late as still in time: enough to choose from.
            on_time = min(max(low, job.due - job.duration), high)
            for start in sorted({low, on_time}) if not job.matters else (low,):
                stop = Stop(start, job.index, lane.index, -1)
                if not plan.change((), (stop,)):
                    continue
                price = _price(plan, job)
                if _opens_more(plan, job):
                    price += start - job.earliest  # others wait for it
                key = (price, start, lane.index)
                if best is None or key < best:
                    best = key
                plan.change((_find(plan, stop),), ())
    if best is None or (best[0] >= today and not _opens_more(plan, job)):
        return False
    return plan.change((), (Stop(best[1], job.index, best[2], -1),))


def _price(plan: Plan, job: Job) -> float:
    """Cost of the roster, but for dry covers: rewets are still to come."""
    stretches = plan.surface_costs[job.surface].stretches
    covered = sum(dry.cost for dry in stretches if dry.covered)
    return plan.cost - covered


def _opens_more(plan: Plan, job: Job) -> bool:
    """Whether other work waits for this job, so that it may cost something itself.

    Where covers are scarce, other surfaces wait for those that come off this one.
    """
    surface = plan.problem.surfaces[job.surface]
    return (
        bool(job.before)
        or (job.covers and surface.rewet is not None)
        or job.index in plan.covers.lifting
    )


def _find(plan: Plan, wished: Stop) -> Stop:
    """Find the stop as it stands in the plan, with the water point it was given."""
    return next(
        stop
        for stop in plan.by_lane[wished.lane]
        if (stop.start, stop.job) == (wished.start, wished.job)
    )


class _Foreman:
    """Hands out rewets and wide duties in the order of time."""

    def __init__(self, plan: Plan, rules: Rules) -> None:
        self.plan, self.rules = plan, rules
        self.problem = plan.problem
        self.served: dict[int, int] = {}
        self.rewets: dict[int, list[Job]] = {}
        self.locked = [0] * len(self.problem.surfaces)
        self.open_duties = self._open_duties()

    def _open_duties(self) -> list[Job]:
        done = {stop.job for own in self.plan.by_surface for stop in own}
        return [
            job
            for job in self.problem.jobs
            if not job.repeats and job.missed_cost > 0 and job.index not in done
        ]

    def work(self) -> None:
        """Let every lane work from its start to its end."""
        lanes = self.problem.lanes
        queue = [(max(0, lane.starts), lane.index) for lane in lanes]
        heapify(queue)
        called: set[int] = set()
        while queue:
            now, index = heappop(queue)
            lane = lanes[index]
            if now >= lane.ends:
                continue
            if lane.shift.kind == "on_call" and index not in called:
                if not self._worth_calling(lane):
                    continue
                called.add(index)
            free_at = self._next_stop(lane, now)
            heappush(queue, (free_at if free_at > now else now + _IDLE_MIN, index))

    def _worth_calling(self, lane: Lane) -> bool:
        factor = self.rules.call_out_factor
        if factor is None:
            return False
        saved = sum(
            stretch.cost
            * (min(stretch.end, lane.ends + 60) - max(stretch.start, lane.starts + 60))
            / (stretch.end - stretch.start)
            for surface in self.plan.surface_costs
            for stretch in surface.stretches
            if stretch.covered
            and min(stretch.end, lane.ends + 60) > max(stretch.start, lane.starts + 60)
        )
        return saved > factor * lane.call_out_cost

    def _next_stop(self, lane: Lane, now: int) -> int:
        """Give the lane its next stop from now on; the minute it is free again."""
        problem, plan = self.problem, self.plan
        last: Job | None = None
        limit, coming = lane.ends, None
        for stop in plan.by_lane[lane.index]:
            if stop.start <= now:
                last = problem.jobs[stop.job]
                now = max(now, plan.end(stop))
            else:
                coming, limit = stop, stop.start
                break
        for a, b in lane.breaks:
            if a <= now < b:
                return b
        best: tuple[float, int, int] | None = None
        for job, due, urgency in self._candidates(now, lane):
            walk = (
                problem.travel[lane.home][job.zone]
                if last is None
                else problem.walk(last, job)
            )
            since = max(now, lane.starts) if last is None else now
            start = max(since + walk, job.earliest)
            end = start + job.duration
            if coming is not None:
                end += problem.walk(job, problem.jobs[coming.job])
            if end > limit or start > now + self.rules.look_min:
                continue
            if job.repeats and not self._worth_wetting(job, lane, start, due):
                continue
            key = urgency + self.rules.walk_factor * walk
            if best is None or (key, job.index) < (best[0], best[1]):
                best = (key, job.index, start)
        if best is None:
            return max(now, limit if coming is not None and limit - now < 15 else 0)
        job = problem.jobs[best[1]]
        if not plan.change((), (Stop(best[2], job.index, lane.index, -1),)):
            self.locked[job.surface] = now + 15
            return now + 2
        if not job.repeats:
            self.open_duties.remove(job)
        return best[2] + job.duration

    def _candidates(self, now: int, lane: Lane) -> list[tuple[Job, int, float]]:
        """Jobs with the minute they are due and how urgent they are (less is more)."""
        found = []
        for job in self._rewets(lane.index):
            if self.locked[job.surface] > now:
                continue
            for stretch in self.plan.surface_costs[job.surface].stretches:
                if stretch.covered and stretch.end > now:
                    weight = stretch.cost / stretch.minutes
                    due = max(stretch.start, now)
                    found.append((job, due, due - 15.0 * weight))
                    break
        for job in self.open_duties:
            if job.can(lane.index) and self.locked[job.surface] <= now:
                left = min(job.latest, job.due) - job.duration - now
                urgency = now + (20.0 if left < 240 else self.rules.look_min + 30.0)
                if job.earliest <= now + 5 and self._may_follow(job, now):
                    found.append((job, job.due, urgency))
        return found

    def _rewets(self, lane: int) -> list[Job]:
        if lane not in self.rewets:
            jobs = (job for job in self.problem.jobs if job.repeats)
            self.rewets[lane] = [job for job in jobs if job.can(lane)]
        return self.rewets[lane]

    def _may_follow(self, job: Job, now: int) -> bool:
        ends = {s.job: self.plan.end(s) for s in self.plan.by_surface[job.surface]}
        return all(
            link.job in ends and ends[link.job] + link.min_gap <= now
            for link in job.after
        )

    def _worth_wetting(self, job: Job, lane: Lane, start: int, due: int) -> bool:
        if due <= start + self.rules.look_min:
            return True
        if lane.ends - start > self.rules.top_up_min:
            return False
        if lane.ends not in self.served:
            self.served[lane.ends] = self._served_again(lane.ends)
        served = self.served[lane.ends]
        clock = self.problem.surfaces[job.surface].minutes
        end = min(start + job.duration, self.problem.horizon)
        return due < served and clock.dry_at[end] - due > 30

    def _served_again(self, from_min: int) -> int:
        """First minute from which any ordinary shift is at work again."""
        served = self.problem.horizon
        for lane in self.problem.lanes:
            if lane.shift.kind == "shift" and lane.ends > from_min + 30:
                served = min(served, max(lane.starts, from_min))
        return served
