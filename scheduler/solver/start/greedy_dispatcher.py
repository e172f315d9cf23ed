"""Gives rewets and wide duties to whoever is free, minute after minute.

Plain ints of time are minutes from the start of the horizon.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from heapq import heapify, heappop, heappush

import numpy as np

from models.records import Floats
from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job
from scheduler.solver.settings.start import DispatchRule
from scheduler.solver.start.dry_out import DryOut
from scheduler.solver.start.job_arrays import FreeCrew, JobArrays, Minutes

_NEVER = 1 << 40


class GreedyDispatcher:
    """Gives out rewets and wide duties in the order of time."""

    def __init__(self, plan: Plan, rule: DispatchRule) -> None:
        self.plan, self.rule = plan, rule
        self.problem, self.settings = plan.problem, plan.problem.settings.start
        self.served: dict[int, int] = {}
        self.locked = np.zeros(len(self.problem.surfaces), np.int64)
        done = {stop.job for own in plan.by_surface for stop in own}
        duties = [
            job
            for job in self.problem.jobs
            if not job.repeats and job.missed_cost > 0 and job.index not in done
        ]
        duties.sort(key=lambda job: (job.opens, job.index))
        self.dry_out = DryOut(plan)
        self.duties = JobArrays(self.problem, duties)
        self.row_of_duty = {job.index: row for row, job in enumerate(duties)}
        self.opens = [job.opens for job in duties]
        self.over = 0  # duties before this row are too late
        self.ready = np.full(len(duties), _NEVER)  # not before what they follow
        for surface in self.problem.surfaces:
            self._update(surface.index, 0)

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
            self._drop_late(now)
            free_at = self._next_stop(lane, now)
            idle_until = now + self.settings.idle_min
            heappush(queue, (free_at if free_at > now else idle_until, index))

    def _drop_late(self, now: int) -> None:
        """Note before which duty all are too late."""
        late = self.duties.last_starts[self.over :] < now
        self.over += int(late.argmin()) if not late.all() else len(late)

    def _worth_calling(self, lane: Lane) -> bool:
        factor = self.rule.call_out_factor
        if factor is None:
            return False
        margin = self.settings.call_out_margin_min
        first, last = lane.starts + margin, lane.ends + margin
        saved = sum(
            stretch.cost
            * (min(stretch.end, last) - max(stretch.start, first))
            / (stretch.end - stretch.start)
            for surface in self.plan.surface_costs
            for stretch in surface.stretches
            if stretch.covered and min(stretch.end, last) > max(stretch.start, first)
        )
        return saved > factor * lane.call_out_cost

    def _next_stop(self, lane: Lane, now: int) -> int:
        """Give the lane its next stop from now on; the minute it is free again."""
        problem, plan = self.problem, self.plan
        last: Job | None = None
        for stop in merged_stops(plan.by_lane, lane.sharing_people):
            if stop.start > now:
                break
            last = problem.jobs[stop.job]
            now = max(now, plan.end(stop))
        for a, b in lane.breaks:
            if a <= now < b:
                return b
        since = max(now, lane.starts) if last is None else now
        around = [self._around(lanes, now) for lanes in lane.lanes_by_unit]
        crew = FreeCrew(lane, now, since, last, around)
        for job, start, due in self._by_urgency(crew):
            if job.repeats and not self._worth_wetting(job, start, due):
                continue
            if not plan.change((), (Stop(start, job.index, lane.index, -1),)):
                self.locked[job.surface] = now + self.settings.locked_min
                return now + self.settings.retry_min
            self._update(job.surface, now)
            return start + job.duration
        near = now + self.settings.party_wait_min
        soon = [stop.start for _, stop in around if stop and stop.start < near]
        return max([now, *soon])

    def _around(self, lanes: Sequence[int], now: int) -> tuple[Job | None, Stop | None]:
        """Find what a work unit did last by a minute, and its next stop."""
        stops = merged_stops(self.plan.by_lane, lanes)
        at = bisect_right(stops, now, key=lambda stop: stop.start)
        last = self.problem.jobs[stops[at - 1].job] if at else None
        return last, stops[at] if at < len(stops) else None

    def _by_urgency(self, crew: FreeCrew) -> Iterator[tuple[Job, int, int]]:
        """Jobs that a lane can do in time, with start and due, most urgent first."""
        tables = zip(self._due_duties(crew), self._due_rewets(crew), strict=True)
        numbers, keys, starts, dues = (np.concatenate(both) for both in tables)
        for at in np.lexsort((numbers, keys)).tolist():
            yield self.problem.jobs[numbers[at]], int(starts[at]), int(dues[at])

    def _due_duties(self, crew: FreeCrew) -> tuple[Minutes, Floats, Minutes, Minutes]:
        """Duties to be done: job, urgency, start and the minute they are due."""
        duties, rule, now = self.duties, self.rule, crew.now
        settings = self.settings
        rows = slice(self.over, bisect_right(self.opens, now + settings.soon_min))
        free = self.locked[duties.surfaces[rows]] <= now
        free &= self.ready[rows] <= now
        free &= duties.allowed[crew.lane.index, rows]
        starts, in_time = duties.in_time(crew, rule.look_ahead_min, rows)
        in_time &= starts <= duties.last_starts[rows]
        found = np.flatnonzero(free & in_time)
        left = np.minimum(duties.last_starts, duties.dues - duties.durations)[rows]
        calm_min = rule.look_ahead_min + settings.calm_dry_min
        tight = left - now < settings.tight_left_min
        keys = np.where(tight, settings.tight_dry_min, calm_min) + now
        keys += rule.walk_factor * duties.walks(crew, crew.last, rows)
        return (
            duties.numbers[rows][found],
            keys[found],
            starts[found],
            duties.dues[rows][found],
        )

    def _due_rewets(self, crew: FreeCrew) -> tuple[Minutes, Floats, Minutes, Floats]:
        """Covers to be wetted: job, urgency, start and the minute they are dry."""
        dry_out, rule, lane, now = self.dry_out, self.rule, crew.lane, crew.now
        rewets, rows = dry_out.rewets, slice(None)
        dry = dry_out.dry_from(now)
        starts, worth = rewets.in_time(crew, rule.look_ahead_min, rows)
        worth &= rewets.allowed[lane.index] & (self.locked[rewets.surfaces] <= now)
        soon = dry <= starts + rule.look_ahead_min
        topped_up = starts >= lane.ends - rule.top_up_min
        if topped_up.any():
            soon |= topped_up & (dry < self._served_after(lane))
        found = np.flatnonzero(worth & soon)
        keys = dry - self.settings.cost_min * dry_out.weight
        keys += rule.walk_factor * rewets.walks(crew, crew.last, rows)
        return rewets.numbers[found], keys[found], starts[found], dry[found]

    def _update(self, surface: int, now: int) -> None:
        """Find anew which duties of a surface can follow, and when it is dry."""
        own = self.plan.by_surface[surface]
        ends = {stop.job: self.plan.end(stop) for stop in own}
        starts = {stop.job: stop.start for stop in own}
        for number in self.problem.surfaces[surface].jobs:
            row = self.row_of_duty.get(number)
            if row is None:
                continue
            after = self.problem.jobs[number].after
            self.ready[row] = _NEVER
            if number not in ends and all(link.job in ends for link in after):
                self.ready[row] = max(
                    (
                        (starts if link.from_start else ends)[link.job] + link.min_gap
                        for link in after
                    ),
                    default=0,
                )
                checked_from = self.plan.covers.check_from(number, own)
                self.ready[row] = max(self.ready[row], checked_from)
        self.dry_out.find_next(surface, now)

    def _worth_wetting(self, job: Job, start: int, due: int) -> bool:
        """Whether a cover is dry soon, or stays damp for a good while longer."""
        if due <= start + self.rule.look_ahead_min:
            return True
        clock = self.problem.surfaces[job.surface].minutes
        end = min(start + job.duration, self.problem.horizon)
        return clock.dry_at[end] - due > self.settings.longer_wet_min

    def _served_after(self, lane: Lane) -> int:
        """First minute after a shift from which somebody is at work again."""
        if lane.ends not in self.served:
            self.served[lane.ends] = self._served_again(lane.ends)
        return self.served[lane.ends]

    def _served_again(self, from_min: int) -> int:
        """First minute from which any ordinary shift is at work again."""
        served, gap_min = self.problem.horizon, self.settings.gap_min
        for lane in self.problem.lanes:
            if lane.shift.kind == "shift" and lane.ends > from_min + gap_min:
                served = min(served, max(lane.starts, from_min))
        return served
