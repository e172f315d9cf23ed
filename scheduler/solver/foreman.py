"""A foreman hands out rewets and wide duties, minute after minute, to who is free."""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.cost import Stop, merged
from scheduler.solver.lanes import Lane
from scheduler.solver.plan import Plan
from scheduler.solver.prepare import Job

_IDLE_MIN = 10  # how long a free crew waits before it looks again
_SOON_MIN = 5
_MIN_PER_COST = 15.0  # a dear surface counts as if it dried so much sooner


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


class Foreman:
    """Hands out rewets and wide duties in the order of time."""

    def __init__(self, plan: Plan, rules: Rules) -> None:
        self.plan, self.rules = plan, rules
        self.problem = plan.problem
        self.served: dict[int, int] = {}
        self.locked = [0] * len(self.problem.surfaces)
        done = {stop.job for own in plan.by_surface for stop in own}
        duties = [
            job
            for job in self.problem.jobs
            if not job.repeats and job.missed_cost > 0 and job.index not in done
        ]
        self.to_come = sorted(duties, key=lambda job: (-job.earliest, -job.index))
        self.open: dict[int, Job] = {}
        self.thirst = _Thirst(plan)

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
            self._open_duties(now)
            free_at = self._next_stop(lane, now)
            heappush(queue, (free_at if free_at > now else now + _IDLE_MIN, index))

    def _open_duties(self, now: int) -> None:
        """Take up duties whose time has come, and let go those whose time is over."""
        horizon = now + _SOON_MIN + self.rules.look_min
        while self.to_come and self.to_come[-1].earliest <= horizon:
            job = self.to_come.pop()
            self.open[job.index] = job
        for job in list(self.open.values()):
            if job.latest - job.duration < now:
                del self.open[job.index]

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
        for stop in merged(plan.by_lane, lane.beside):
            if stop.start > now:
                break
            last = problem.jobs[stop.job]
            now = max(now, plan.end(stop))
        for a, b in lane.breaks:
            if a <= now < b:
                return b
        since = max(now, lane.starts) if last is None else now
        hands = [self._around(lanes, now) for lanes in lane.by_hand]
        for job, due in self._by_urgency(now, since, lane, last):
            walk = max(self._walk(lane, before, job) for before, _ in hands)
            start = max(since + walk, job.earliest)
            end = start + job.duration
            too_long = any(
                end > lane.ends
                if coming is None
                else end + problem.walk(job, problem.jobs[coming.job]) > coming.start
                for _, coming in hands
            )
            if too_long or start > now + self.rules.look_min:
                continue
            if job.repeats and not self._worth_wetting(job, lane, start, due):
                continue
            if not plan.change((), (Stop(start, job.index, lane.index, -1),)):
                self.locked[job.surface] = now + 15
                return now + 2
            self.thirst.look(job.surface, now)
            self.open.pop(job.index, None)
            return start + job.duration
        soon = [stop.start for _, stop in hands if stop and stop.start - now < 15]
        return max([now, *soon])

    def _around(self, lanes: Sequence[int], now: int) -> tuple[Job | None, Stop | None]:
        """Find what a hand did last by a minute, and its next stop."""
        stops = merged(self.plan.by_lane, lanes)
        at = bisect_right(stops, now, key=lambda stop: stop.start)
        last = self.problem.jobs[stops[at - 1].job] if at else None
        return last, stops[at] if at < len(stops) else None

    def _walk(self, lane: Lane, last: Job | None, job: Job) -> int:
        if last is None:
            return self.problem.travel[lane.home][job.zone]
        return self.problem.walk(last, job)

    def _by_urgency(
        self, now: int, since: int, lane: Lane, last: Job | None
    ) -> Iterator[tuple[Job, int]]:
        """Jobs that a lane can do with the minute they are due, most urgent first."""
        zone = lane.home if last is None else last.zone
        factor = self.rules.walk_factor
        found: list[tuple[float, int, int]] = []
        for job in self.open.values():
            if not job.can(lane.index) or self.locked[job.surface] > now:
                continue
            if job.earliest <= now + _SOON_MIN and self._may_follow(job, now):
                left = min(job.latest, job.due) - job.duration - now
                urgency = now + (20.0 if left < 240 else self.rules.look_min + 30.0)
                key = urgency + factor * self._walk(lane, last, job)
                found.append((key, job.index, job.due))
        walks = np.asarray(self.problem.travel[zone], dtype=np.float64)
        thirst = self.thirst.dries_by(now)
        starts = since + walks[self.thirst.zones]
        worth = thirst <= starts + self.rules.look_min
        worth |= starts >= lane.ends - self.rules.top_up_min
        for row in np.flatnonzero(worth & np.isfinite(thirst)).tolist():
            job = self.problem.jobs[self.thirst.rewets[row]]
            if job.can(lane.index) and self.locked[job.surface] <= now:
                urgency = thirst[row] - _MIN_PER_COST * self.thirst.weight[row]
                key = urgency + factor * self._walk(lane, last, job)
                found.append((float(key), job.index, int(thirst[row])))
        for _, number, due in sorted(found):
            yield self.problem.jobs[number], due

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


class _Thirst:
    """When each cover that can be wetted runs dry next, all covers abreast.

    Attributes
    ----------
    rewets : list of int
        The job that wets each.
    zones : array of int
        Where it lies.
    weight : array
        What a minute of its next dry stretch costs.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        surfaces = [s for s in plan.problem.surfaces if s.rewet is not None]
        self._surfaces = [s.index for s in surfaces]
        self._row = {index: row for row, index in enumerate(self._surfaces)}
        self.rewets = [s.rewet for s in surfaces if s.rewet is not None]
        self.zones = np.array([s.zone for s in surfaces], dtype=np.int64)
        self.weight = np.zeros(len(surfaces))
        self._from = np.zeros(len(surfaces))
        self._until = np.zeros(len(surfaces))

    def look(self, surface: int, now: int) -> None:
        """Find the next dry stretch of a cover anew."""
        row = self._row.get(surface)
        if row is None:
            return
        self._from[row] = self._until[row] = np.inf
        for stretch in self.plan.surface_costs[surface].stretches:
            if stretch.covered and stretch.end > now:
                self._from[row], self._until[row] = stretch.start, stretch.end
                self.weight[row] = stretch.cost / stretch.minutes
                return

    def dries_by(self, now: int) -> NDArray[np.float64]:
        """Minute from now on at which each is dry; infinite where it stays damp."""
        for row in np.flatnonzero(self._until <= now).tolist():
            self.look(self._surfaces[row], now)
        dry: NDArray[np.float64] = np.maximum(self._from, now)
        return dry
