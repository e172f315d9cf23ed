r"""What no roster for a work list can cost less than: proven, and weak where it is.

Notes
-----
Lagrangian relaxation: the rule that crews cannot work more minutes than they have is
replaced by a price on their minutes, :math:`\lambda_t` for each quarter of an hour.
Then every surface chooses its cheapest visits by itself, every shift sells its time,
every call-out pays or not, and for any prices the sum

.. math:: \sum_s \min_{x_s} (c_s(x_s) + \lambda \cdot u(x_s))
          - \sum_k \max(0, \lambda \cdot m_k - c_k)

is a lower bound. Walks between jobs, water, skills, order of work and rest are left
out, each of which could only make a roster dearer. The prices are found by
subgradient steps, scaled slot by slot by what their shortage was of late [1]_; that
they are good is luck, that the bound holds is not.

References
----------
.. [1] D. P. Kingma, J. Ba, "Adam: a method for stochastic optimization", ICLR 2015
   (from memory).
"""

from dataclasses import dataclass

import numpy as np

from scheduler.solver.bound_paths import (
    SLOT_MIN,
    Action,
    CoverPaths,
    Floats,
    action,
    slot_prices,
)
from scheduler.solver.prepare import Job, Problem, Surface

_STEPS = 40
_FIRST_PRICE = 0.1  # a minute; enough that nobody comes for nothing
_FIRST_STRIDE, _LAST_STRIDE = 0.5, 0.01  # price a minute
_KEEP_MEAN, _KEEP_SPREAD = 0.7, 0.95
_WORDS = (
    "crew minutes priced by the quarter of an hour (Lagrangian relaxation), each "
    "surface at its cheapest; walks, water, skills and rest left out"
)


@dataclass(frozen=True)
class Bound:
    """A proven lower bound and how it was found."""

    value: float
    words: str


def lower_bound(problem: Problem) -> Bound:
    """Prove a bound."""
    relaxed = _Relaxed(problem)
    best, _ = relaxed.value(np.zeros(relaxed.slots))  # what crews cannot help
    prices = np.full(relaxed.slots, _FIRST_PRICE)
    mean, spread = np.zeros(relaxed.slots), np.zeros(relaxed.slots)
    for step in range(_STEPS):
        value, lack = relaxed.value(prices)
        best = max(best, value)
        mean = _KEEP_MEAN * mean + (1 - _KEEP_MEAN) * lack
        spread = _KEEP_SPREAD * spread + (1 - _KEEP_SPREAD) * lack**2
        # Both start at nothing; the early steps are scaled up for that.
        heading = mean / (1 - _KEEP_MEAN ** (step + 1))
        width = np.sqrt(spread / (1 - _KEEP_SPREAD ** (step + 1))) + 1e-9
        stride = _FIRST_STRIDE * (_LAST_STRIDE / _FIRST_STRIDE) ** (step / _STEPS)
        prices = np.maximum(0.0, prices + stride * heading / width)
    return Bound(max(0.0, best - 1e-6 * (1 + best)), _WORDS)


class _Relaxed:
    """The relaxed problem: its value and where crew time is short at given prices."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        last = max([problem.horizon, *(lane.closes for lane in problem.lanes)])
        self.slots = -(-last // SLOT_MIN)
        drying = [s for s in problem.surfaces if s.work.curve is not None]
        self.paths = CoverPaths(problem, drying)
        self.column = {s.index: number for number, s in enumerate(drying)}
        self.duties = [
            action(problem, job)
            for job in problem.jobs
            if job.missed_cost > 0 and not job.matters
        ]
        self.bare = {
            surface.index: _bare(problem, surface)
            for surface in problem.surfaces
            if surface.covered_from is None or surface.covered_from > 0
        }
        self.regular = np.zeros((len(problem.lanes), self.slots))
        self.overtime = np.zeros((len(problem.lanes), self.slots))
        for lane in problem.lanes:
            opens = lane.starts + min(problem.travel[lane.home])
            row = self.regular[lane.index]
            _add(row, max(0, opens), lane.ends, 1.0)
            for a, b in lane.breaks:
                _add(row, max(0, opens, a), min(b, lane.ends), -1.0)
            _add(self.overtime[lane.index], max(0, lane.ends), lane.closes, 1.0)

    def value(self, prices: Floats) -> tuple[float, Floats]:
        """Value of the relaxation, and minutes used beyond what crews have."""
        minute_prices = np.repeat(prices, SLOT_MIN)
        price_sum = np.concatenate(([0.0], np.cumsum(minute_prices)))
        used = np.zeros(self.slots * SLOT_MIN)
        total = 0.0
        if self.paths.count:
            self.paths.solve(price_sum)
        for surface in self.problem.surfaces:
            total += self._surface(surface, price_sum, used)
        for duty in self.duties:
            total += self._duty(duty, price_sum, used)
        lack = used.reshape(self.slots, SLOT_MIN).sum(axis=1)
        for lane in self.problem.lanes:
            extra = prices - self.problem.overtime_cost
            sold = float(self.regular[lane.index] @ prices)
            sold += float(self.overtime[lane.index] @ np.maximum(0.0, extra))
            if sold >= lane.call_out_cost:
                total -= sold - lane.call_out_cost
                lack -= self.regular[lane.index]
                lack -= np.where(extra > 0, self.overtime[lane.index], 0.0)
        return total, lack

    def _duty(self, duty: Action, price_sum: Floats, used: Floats) -> float:
        job = duty.job
        late = np.arange(self.problem.horizon) + job.duration - job.due
        priced = slot_prices(duty, price_sum, np.maximum(0, late) * job.late_cost)
        slot = int(np.argmin(priced))
        if priced[slot] >= job.missed_cost:
            return job.missed_cost
        _use(used, slot, job, duty, price_sum)
        return float(priced[slot])

    def _surface(self, surface: Surface, price_sum: Floats, used: Floats) -> float:
        """Dryness of one surface at its cheapest, crew time included."""
        on = surface.covered_from
        if on is not None and on <= 0:
            if surface.index not in self.column:
                return 0.0
            return self._covered(
                surface, 0, surface.minutes.dry_at_start, used, price_sum
            )
        return self._bare(surface, price_sum, used)

    def _covered(
        self, surface: Surface, slot: int, until: int, used: Floats, price_sum: Floats
    ) -> float:
        column = self.column[surface.index]
        cost = float(
            self.paths.after(np.array(slot), np.array([until]), np.array([column]))[0]
        )
        for at, act in self.paths.path(column, slot, until):
            _use(used, at, act.job, act, price_sum)
        return cost

    def _bare(self, surface: Surface, price_sum: Floats, used: Floats) -> float:
        """Cover or compound at its best time, or never; fog takes no crew here."""
        problem = self.problem
        bare, endings = self.bare[surface.index]
        best: tuple[float, int, Action] | None = None
        at = np.minimum(np.arange(self.paths.slots) * SLOT_MIN, problem.horizon)
        for act in endings:
            job = act.job
            costs = slot_prices(act, price_sum) + bare[at]
            if job.covers and surface.index in self.column:
                costs = costs + self._after_cover(surface, job)
            slot = int(np.argmin(costs))
            if best is None or costs[slot] < best[0]:
                best = (float(costs[slot]), slot, act)
        if best is None or best[0] >= bare[-1]:
            return float(bare[-1])
        cost, slot, act = best
        _use(used, slot, act.job, act, price_sum)
        if act.job.covers and surface.index in self.column:
            until = self._wet_until(surface, act.job)[slot]
            self._covered(surface, slot, int(until), used, price_sum)
        return cost

    def _wet_until(self, surface: Surface, cover: Job) -> "np.typing.NDArray[np.int64]":
        """Last damp minute after a cover laid in each slot, at the very best."""
        starts = np.arange(self.paths.slots) * SLOT_MIN
        ends = np.minimum(starts + SLOT_MIN - 1 + cover.duration, self.problem.horizon)
        if cover.wets:
            return np.asarray(surface.minutes.dry_at)[ends]
        return ends

    def _after_cover(self, surface: Surface, cover: Job) -> Floats:
        slots = np.arange(self.paths.slots)
        columns = np.full(self.paths.slots, self.column[surface.index])
        return self.paths.after(slots, self._wet_until(surface, cover), columns)


def _bare(problem: Problem, surface: Surface) -> tuple[Floats, list[Action]]:
    """Cost of bare minutes before each, and the jobs that end them.

    Minutes in which something may guard the surface are let go.
    """
    jobs = [problem.jobs[j] for j in surface.jobs if j != surface.rewet]
    cost = np.diff(surface.minutes.fresh_sum)
    for job in jobs:
        if job.guards and not (job.covers or job.seals):
            cost[max(0, job.earliest) : max(0, job.latest)] = 0.0
    if surface.covered_from is not None:
        cost[surface.covered_from :] = 0.0
    total = np.concatenate(([0.0], np.cumsum(cost)))
    endings = [action(problem, job) for job in jobs if job.covers or job.seals]
    return total, endings


def _add(row: Floats, start: int, end: int, amount: float) -> None:
    """Add minutes of a stretch to the slots that it touches."""
    if start >= end:
        return
    minutes = np.zeros(len(row) * SLOT_MIN)
    minutes[start:end] = amount
    row += minutes.reshape(len(row), SLOT_MIN).sum(axis=1)


def _use(used: Floats, slot: int, job: Job, act: Action, price_sum: Floats) -> None:
    """Note the crew minutes of a job at its cheapest start in a slot."""
    starts = np.arange(slot * SLOT_MIN, min((slot + 1) * SLOT_MIN, len(act.allowed)))
    starts = starts[act.allowed[starts]]
    ends = np.minimum(starts + job.duration, len(price_sum) - 1)
    start = int(starts[np.argmin(price_sum[ends] - price_sum[starts])])
    used[start : start + job.duration] += 1.0
