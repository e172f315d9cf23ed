"""Cheapest wetting of every cover at given prices of crew time, all covers abreast.

Time runs in slots of a quarter of an hour. A wetting is taken to begin with its slot,
to last from its end, and to cost what its cheapest start in the slot costs: better than
any true visit in that slot, so that the cheapest path of slots never costs more than
the visits of a roster.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduler.solver.prepare import Job, Problem, Surface

SLOT_MIN = 15

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True)
class Action:
    """A job that a surface may choose: when it may start, and for how long it works."""

    job: Job
    allowed: NDArray[np.bool_]


def action(problem: Problem, job: Job) -> Action:
    """Find the minutes at which some lane could start a job."""
    allowed = np.zeros(problem.horizon, bool)
    for index in job.lanes:
        first, last = problem.start_range(job, problem.lanes[index])
        allowed[first : last + 1] = True
    return Action(job, allowed)


def slot_prices(act: Action, price_sum: Floats, extra: Floats | None = None) -> Floats:
    """Cheapest start of a job in each slot, from running sums of the minute prices.

    ``extra`` is a cost of its own for each start minute.
    """
    horizon = len(act.allowed)
    ends = np.minimum(np.arange(horizon) + act.job.duration, len(price_sum) - 1)
    prices = price_sum[ends] - price_sum[:horizon]
    if extra is not None:
        prices = prices + extra
    prices = np.where(act.allowed, prices, np.inf)
    slots = -(-horizon // SLOT_MIN)
    padded = np.full(slots * SLOT_MIN, np.inf)
    padded[:horizon] = prices
    cheapest: Floats = padded.reshape(slots, SLOT_MIN).min(axis=1)
    return cheapest


class CoverPaths:
    """Dynamic programme over slots for all surfaces with a cover that dries."""

    def __init__(self, problem: Problem, surfaces: list[Surface]) -> None:
        self.problem, self.surfaces = problem, surfaces
        horizon = problem.horizon
        self.slots = -(-horizon // SLOT_MIN)
        self.count = len(surfaces)
        at = np.minimum(np.arange(self.slots) * SLOT_MIN, horizon)
        shape = (self.slots, self.count)
        self.dry_sum = np.zeros((horizon + 1, self.count))
        self.until = np.zeros(shape, np.int64)
        self.wets: list[list[Action]] = []
        self.close = np.zeros(self.count)
        for column, surface in enumerate(surfaces):
            total = np.asarray(surface.minutes.covered_sum)
            ends = _sealed_at(problem, surface)
            self.dry_sum[:, column] = np.minimum(total, total[min(ends, horizon)])
            jobs = [problem.jobs[j] for j in surface.jobs]
            wets = [job for job in jobs if job.wets and not job.covers]
            self.wets.append([action(problem, job) for job in wets])
            longest = max((job.duration for job in wets), default=0)
            full = np.minimum(at + SLOT_MIN - 1 + longest, horizon)
            self.until[:, column] = np.asarray(surface.minutes.dry_at)[full]
        self.at_sum = self.dry_sum[at]
        self.end_sum = self.dry_sum[-1]
        self._prepare_steps()

    def _prepare_steps(self) -> None:
        """Note where each slot's continuation looks, whatever the prices."""
        columns = np.arange(self.count)
        following = np.arange(1, self.slots + 1)[:, None]
        edge = np.minimum(self.until // SLOT_MIN + 1, self.slots)
        length = np.maximum(edge - following, 0)
        level = np.maximum(_log2(length), 0)
        row = self.slots + 1  # of ``best`` and ``later``, one after the other
        self.spent = self.dry_sum[self.until, columns]
        self.never = self.end_sum - self.spent
        self.later_at = edge * self.count + columns
        base = level * row
        self.soon_at = (base + np.minimum(following, self.slots)) * self.count + columns
        last = np.maximum(edge - (1 << level), 0)
        self.last_at = (base + last) * self.count + columns
        self.none_soon = np.where(length > 0, 0.0, np.inf)

    def solve(self, price_sum: Floats) -> None:
        """Find the cheapest continuation after a wetting in each slot."""
        self.prices = np.full((self.slots, self.count), np.inf)
        self.chosen = np.zeros((self.slots, self.count), np.int64)
        for column, acts in enumerate(self.wets):
            for number, act in enumerate(acts):
                priced = slot_prices(act, price_sum)
                better = priced < self.prices[:, column]
                self.chosen[better, column] = number
                self.prices[better, column] = priced[better]
        levels = max(1, self.slots.bit_length())
        self.value = np.zeros((self.slots, self.count))
        # From a slot on: cheapest wetting (price and all that follows), for stretches
        # of 2**level slots; and the same with the dry time before it.
        self.best = np.full((levels, self.slots + 1, self.count), np.inf)
        self.later = np.full((self.slots + 1, self.count), np.inf)
        best, later = self.best.reshape(-1), self.later.reshape(-1)
        for slot in range(self.slots - 1, -1, -1):
            then = np.minimum(best[self.soon_at[slot]], best[self.last_at[slot]])
            then += self.none_soon[slot]
            np.minimum(then, later[self.later_at[slot]] - self.spent[slot], out=then)
            np.minimum(then, self.never[slot], out=self.value[slot])
            here = self.prices[slot] + self.value[slot]
            self.best[0, slot] = here
            for level in range(1, levels):
                half = min(slot + (1 << (level - 1)), self.slots)
                np.minimum(
                    self.best[level - 1, slot],
                    self.best[level - 1, half],
                    out=self.best[level, slot],
                )
            np.minimum(
                self.later[slot + 1], here + self.at_sum[slot], out=self.later[slot]
            )

    def after(self, slot: Ints, until: Ints, columns: Ints) -> Floats:
        """Cheapest cost from some slots on, for covers wet until some minutes."""
        edge = np.minimum(until // SLOT_MIN + 1, self.slots)
        spent = self.dry_sum[until, columns]
        never = self.end_sum[columns] - spent
        later = self.later[edge, columns] - spent
        length = np.maximum(edge - slot, 0)
        level = np.maximum(_log2(length), 0)
        last = np.maximum(edge - (1 << level), 0)
        soon = np.minimum(self.best[level, np.minimum(slot, self.slots), columns],
                          self.best[level, last, columns])  # fmt: skip
        soon = np.where(length > 0, soon, np.inf)
        cheapest: Floats = np.minimum(np.minimum(never, later), soon)
        return cheapest

    def path(self, column: int, slot: int, until: int) -> list[tuple[int, Action]]:
        """Follow the cheapest wettings of one cover: slots and what is done."""
        found: list[tuple[int, Action]] = []
        follow = self.prices[:, column] + self.value[:, column]
        at_sum = self.at_sum[:, column]
        while slot < self.slots:
            spent = self.dry_sum[until, column]
            costs = follow[slot:] + np.maximum(0.0, at_sum[slot:] - spent)
            best = int(costs.argmin())
            if self.end_sum[column] - spent <= costs[best]:
                break
            step = slot + best
            found.append((step, self.wets[column][int(self.chosen[step, column])]))
            slot, until = step + 1, int(self.until[step, column])
        return found


def _sealed_at(problem: Problem, surface: Surface) -> int:
    """Earliest end of a compound over the cover; dryness after it is let go."""
    seals = [problem.jobs[j] for j in surface.jobs if problem.jobs[j].seals]
    ends = [max(0, job.earliest) + job.duration for job in seals]
    return min([problem.horizon, *ends])


def _log2(length: Ints) -> Ints:
    found: Ints = np.frexp(np.maximum(length, 1))[1].astype(np.int64) - 1
    return found
