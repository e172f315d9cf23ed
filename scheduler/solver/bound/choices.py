"""What may be done when, and what it costs at given prices of crew time.

A choice is a job begun in a slot of a quarter of an hour by somebody of a pool. Its
price is that of its cheapest start: prices are level within a slot, so that only the
first and the last minute of the slot have to be looked at, and those at which the price
bends.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.bound.crews import SLOT_MIN, Crews, Floats, Ints
from scheduler.solver.plan.water import WaterLedger
from scheduler.solver.problem.problem import Job, Problem


class Choices:
    """All choices of some jobs, in order of job, pool and slot.

    Attributes
    ----------
    owner, pool, slot, first, last : arrays of int
        Place of the job in the list, pool, slot, first and last start in it.
    duration : array of int
        Of the job.
    """

    def __init__(
        self, crews: Crews, jobs: Sequence[Job], starts: "Starts", *, late: bool
    ) -> None:
        self.jobs = tuple(jobs)
        rows: list[tuple[int, int, Ints, Ints, Ints]] = []
        for owner, job in enumerate(self.jobs):
            for pool, allowed in starts.by_pool(job).items():
                slots, first, last = _by_slot(allowed)
                rows.append((owner, pool, slots, first, last))
        sizes = [len(slots) for _, _, slots, _, _ in rows]
        self.owner = np.repeat([row[0] for row in rows], sizes).astype(np.int64)
        self.pool = np.repeat([row[1] for row in rows], sizes).astype(np.int64)
        self.slot, self.first, self.last = (
            np.concatenate([np.zeros(0, np.int64), *(row[part] for row in rows)])
            for part in (2, 3, 4)
        )
        del rows
        durations = np.array([job.duration for job in self.jobs], np.int64)
        self.duration = durations[self.owner]
        self.night = np.array([*crews.night_of_pool, -1])[self.pool]
        self._length = crews.slots * SLOT_MIN
        bends = [
            self.first,
            self.last,
            self.slot * SLOT_MIN + (-self.duration) % SLOT_MIN,
        ]
        if late:
            due = np.array([job.due for job in self.jobs], np.int64)[self.owner]
            bends.append(due - self.duration)
        begins = np.array(bends)
        del bends
        np.clip(begins, self.first, self.last, out=begins)
        self._extra: Floats | float = 0.0
        if late:
            cost = np.array([job.late_cost_per_min for job in self.jobs])[self.owner]
            self._extra = cost * np.maximum(0, begins + self.duration - due)
        row = self.pool * (self._length + 1)
        # Half the memory of what numpy counts with: a large site has millions of them.
        self._starts = begins.astype(np.int32)
        self._from = (row + begins).astype(np.int32)
        ends = np.minimum(begins + self.duration, self._length)
        self._until = (row + ends).astype(np.int32)

    def prices(self, price_sums: Floats) -> Floats:
        """Cheapest price of each choice, from running sums of each pool's prices."""
        flat, cheapest = price_sums.reshape(-1), np.full(len(self.owner), np.inf)
        for bend, (begins, ends) in enumerate(
            zip(self._from, self._until, strict=True)
        ):
            prices = flat[ends] - flat[begins]
            if isinstance(self._extra, np.ndarray):
                prices += self._extra[bend]
            np.minimum(cheapest, prices, out=cheapest)
        return cheapest

    def use(self, chosen: Sequence[int], price_sums: Floats, used: Floats) -> None:
        """Note the minutes of pools that choices take at their cheapest."""
        if not len(chosen):
            return
        prices = self._all_prices(price_sums, chosen)
        starts = self._starts[prices.argmin(axis=0), chosen]
        for choice, start in zip(chosen, starts.tolist(), strict=True):
            end = start + int(self.duration[choice])
            used[self.pool[choice], start:end] += 1.0

    def _all_prices(self, price_sums: Floats, which: Sequence[int]) -> Floats:
        flat = price_sums.reshape(-1)
        prices: Floats = flat[self._until[:, which]] - flat[self._from[:, which]]
        if isinstance(self._extra, np.ndarray):
            prices += self._extra[:, which]
        return prices


class Starts:
    """Minutes at which a job may start, whoever else works: pool by pool."""

    def __init__(self, problem: Problem, crews: Crews) -> None:
        self.problem, self.crews = problem, crews
        self._water = WaterLedger(problem)
        self._earliest: dict[int, int] = {}
        self._unlike: dict[tuple[int, ...], list[int]] = {}

    def by_pool(self, job: Job) -> dict[int, NDArray[np.bool_]]:
        """Say for each pool at which minutes one of its lanes could start a job."""
        found: dict[int, NDArray[np.bool_]] = {}
        soonest = self._soonest(job)
        if job.lanes not in self._unlike:
            self._unlike[job.lanes] = self._once_each(job.lanes)
        for index in self._unlike[job.lanes]:
            lane, pool = self.problem.lanes[index], self.crews.pool_of[index]
            first, last = self.problem.start_range(job, lane)
            if pool not in found:
                found[pool] = np.zeros(self.problem.horizon, bool)
            low = max(first, soonest)
            for a, b in lane.breaks:  # in order, and apart
                found[pool][low : max(low, min(last, a - job.duration) + 1)] = True
                low = max(low, b)
            found[pool][low : max(low, last + 1)] = True
        flows = self._flows(job)
        return {pool: mine & flows for pool, mine in sorted(found.items())}

    def _once_each(self, lanes: tuple[int, ...]) -> list[int]:
        """Of lanes at work at the same minutes for the same pool, one."""
        kinds: dict[tuple[object, ...], int] = {}
        for index in lanes:
            lane = self.problem.lanes[index]
            pool = self.crews.pool_of[index]
            kind = (pool, lane.home, lane.starts, lane.closes, lane.breaks)
            kinds.setdefault(kind, index)
        return list(kinds.values())

    def _soonest(self, job: Job) -> int:
        """Earliest start after the earliest of all that it follows."""
        if job.index not in self._earliest:
            soonest = max(0, job.earliest)
            for link in job.after:
                other = self.problem.jobs[link.job]
                ends = self._soonest(other) + other.duration
                soonest = max(soonest, ends + link.min_gap)
            self._earliest[job.index] = soonest
        return self._earliest[job.index]

    def _flows(self, job: Job) -> NDArray[np.bool_]:
        """Minutes at which some point has the flow for a job by itself."""
        horizon = self.problem.horizon
        if job.draws is None:
            return np.ones(horizon, bool)
        found = np.zeros(horizon, bool)
        first, last = job.draws
        for index in job.points:
            free = self._water.points[index].free
            short = np.concatenate(([0], np.cumsum(free < job.flow_units)))
            at = np.arange(horizon)
            a = np.minimum(at + first, len(free))
            b = np.minimum(at + last, len(free))
            found |= short[a] == short[b]
        return found


def _by_slot(allowed: NDArray[np.bool_]) -> tuple[Ints, Ints, Ints]:
    """Slots with a minute that is allowed, and the first and the last such minute."""
    slots = -(-len(allowed) // SLOT_MIN)
    padded = np.zeros(slots * SLOT_MIN, bool)
    padded[: len(allowed)] = allowed
    rows = padded.reshape(slots, SLOT_MIN)
    found = np.flatnonzero(rows.any(axis=1))
    base = found * SLOT_MIN
    first = base + rows[found].argmax(axis=1)
    last = base + SLOT_MIN - 1 - rows[found, ::-1].argmax(axis=1)
    return found, first, last
