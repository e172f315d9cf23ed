"""Who could begin a job, minute by minute: shifts, breaks, other jobs and walks.

Crews are asked as a foreman asks: those on shift who can do it and have time for it
before they leave; where there are none, those on call; and where nobody can be asked,
it matters why: the shift ends too soon, those on shift cannot do it, nobody is on.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from models.records import Flags, Limit
from scheduler.solver.plan.cost import Stop, merged_stops
from scheduler.solver.plan.plan import Plan
from scheduler.solver.problem.lanes import Lane, is_candidate
from scheduler.solver.problem.problem import Job

#: What a crew could do with a job begun at a minute, from best to worst.
FREE, WALKS, BUSY, LEAVES, AWAY = range(5)
#: What there is to say about all crews; the first three as for one of them.
_UNABLE, _NOBODY = AWAY, AWAY + 1
_LIMITS: tuple[Limit | None, ...] = (
    None,
    "travel",
    "crews_busy",
    "shift_ends",
    "no_skill",
    "no_crew_on_shift",
)

Codes = NDArray[np.int8]


class CrewTimes:
    """All crews at all starts of a job from one minute to another.

    Attributes
    ----------
    lanes : list of Lane
        Those who can do it, on shift or on call some time of the stretch.
    states : array (lanes, minutes)
        What each could do.
    codes : array (minutes,)
        The same of all of them together.
    """

    def __init__(
        self, plan: Plan, job: Job, first: int, last: int, own: Stop | None
    ) -> None:
        self.plan, self.job, self.first = plan, job, first
        self.length = max(1, last - first + 1)
        near = [
            lane
            for lane in plan.problem.lanes
            if lane.starts <= last and lane.closes > first
        ]
        self.lanes = [
            lane for lane in near if is_candidate(lane, job.task, plan.problem.lanes)
        ]
        self.states = np.full((len(self.lanes), self.length), AWAY, np.int8)
        for row, lane in enumerate(self.lanes):
            self._mark(row, lane, own)
        on = np.zeros(self.length, bool)
        for lane in near:
            if lane.shift.kind == "shift":
                on[self._slice(lane.starts, lane.closes)] = True
        self.codes = self._together(on)

    def limit(self, start: int) -> Limit | None:
        """Name what keeps all crews from beginning at a minute."""
        code = int(self.codes[start - self.first])
        return _LIMITS[code]

    def asked(self, start: int) -> list[tuple[Lane, int]]:
        """List whom one would ask at a minute, with what each could do."""
        states = self.states[:, start - self.first]
        found = [
            (lane, int(state))
            for lane, state in zip(self.lanes, states, strict=True)
            if state <= BUSY
        ]
        shifts = [one for one in found if one[0].shift.kind == "shift"]
        return shifts or found

    def edges(self) -> list[int]:
        """Minutes at which what there is to say about all crews changes."""
        changes = np.flatnonzero(np.diff(self.codes)) + 1 + self.first
        return [int(minute) for minute in changes]

    def openings(self) -> Iterator[int]:
        """Minutes from which one of the crews is free."""
        free = self.states == FREE
        opens = free.copy()
        opens[:, 1:] &= ~free[:, :-1]
        yield from (np.flatnonzero(opens.any(axis=0)) + self.first).tolist()

    def _together(self, on: Flags) -> Codes:
        """Sum up all crews; where nobody can be asked, say why."""
        best = {}
        for kind in ("shift", "on_call"):
            rows = [r for r, lane in enumerate(self.lanes) if lane.shift.kind == kind]
            best[kind] = (
                self.states[rows].min(axis=0)
                if rows
                else np.full(self.length, AWAY, np.int8)
            )
        nobody = np.where(best["shift"] == LEAVES, LEAVES, _NOBODY)
        nobody = np.where((nobody == _NOBODY) & on, _UNABLE, nobody)
        called = np.where(best["on_call"] <= BUSY, best["on_call"], nobody)
        codes: Codes = np.where(best["shift"] <= BUSY, best["shift"], called).astype(
            np.int8
        )
        return codes

    def _mark(self, row: int, lane: Lane, own: Stop | None) -> None:
        """Note what one crew could do at each minute."""
        plan, job, problem = self.plan, self.job, self.plan.problem
        state = self.states[row]
        state[self._slice(lane.starts, lane.closes)] = LEAVES
        room = self._slice(lane.starts, lane.closes - job.duration + 1)
        state[room] = FREE
        way = lane.starts + problem.travel[lane.home][job.zone]
        self._worsen(state, lane.starts, way, WALKS)
        for stop in merged_stops(plan.by_lane, lane.sharing_people):
            if stop == own:
                continue
            other, end = problem.jobs[stop.job], plan.end(stop)
            first = stop.start - job.duration + 1
            self._worsen(state, first - problem.walk(job, other), first, WALKS)
            self._worsen(state, first, end, BUSY)
            self._worsen(state, end, end + problem.walk(other, job), WALKS)
        for pause in lane.shift.pauses:
            first = pause.from_min - job.duration + 1
            self._worsen(state, first, pause.until_min, BUSY)

    def _worsen(self, state: Codes, first: int, until: int, to: int) -> None:
        part = state[self._slice(first, until)]
        part[part < to] = to

    def _slice(self, first: int, until: int) -> slice:
        low, high = (
            min(max(0, minute - self.first), self.length) for minute in (first, until)
        )
        return slice(low, max(low, high))
