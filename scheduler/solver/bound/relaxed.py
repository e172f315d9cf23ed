"""A site relaxed: every surface and every duty for itself, crew time at a price.

A customer is a surface, with all that is done to keep it damp, or one of the duties.
Each takes its cheapest way at the prices of crew minutes and at its own fee for the
night in which somebody is called out for it. What all of them pay, less what crews can
earn at those prices, is never more than the cost of a roster.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from scheduler.solver.bound.choices import Choices, Starts
from scheduler.solver.bound.crews import SLOT_MIN, Crews, Floats, Ints
from scheduler.solver.bound.paths import CoverPaths, State
from scheduler.solver.problem.problem import Job, Problem, Surface


@dataclass(frozen=True)
class Value:
    """The relaxation at some prices.

    Attributes
    ----------
    by_customer : array
        What each pays, surfaces first, then duties.
    total : float
        A lower bound on the cost of every roster.
    lack : array, pools x slots
        Minutes used beyond those that crews have.
    unpaid : array, nights x customers
        1 where a customer uses a night without call-out, -1 where nobody asks for one.
    """

    by_customer: Floats
    total: float
    lack: Floats
    unpaid: Floats


class Relaxed:
    """The relaxed site, ready to be asked at many prices.

    With ``in_minutes`` a dry minute counts 1, whatever it costs; lateness and duties
    count nothing.
    """

    def __init__(self, problem: Problem, *, in_minutes: bool = False) -> None:
        self.problem = problem
        self.crews = Crews(problem)
        starts = Starts(problem, self.crews)
        drying = [s for s in problem.surfaces if s.work.curve is not None]
        self.paths = CoverPaths(
            problem, self.crews, drying, starts, in_minutes=in_minutes
        )
        column = {s.index: number for number, s in enumerate(drying)}
        self.surfaces = [
            _SurfaceWays(self, s, starts, column.get(s.index), in_minutes=in_minutes)
            for s in problem.surfaces
        ]
        duties = [job for job in problem.jobs if _is_duty(job) and not in_minutes]
        self.duties = _Duties(self.crews, duties, starts)
        self.customers = len(self.surfaces) + len(duties)
        self.fees_of_columns = [s.index for s in drying]
        self.surface_of = [s.index for s in problem.surfaces]
        self.surface_of += [job.surface for job in duties]

    def value(self, prices: Floats, fees: Floats) -> Value:
        """Ask for the value at prices of a minute, and fees by night and customer."""
        crews = self.crews
        sums = np.zeros((crews.pools, crews.slots * SLOT_MIN + 1))
        np.cumsum(np.repeat(prices, SLOT_MIN, axis=1), axis=1, out=sums[:, 1:])
        used = np.zeros((crews.pools, crews.slots * SLOT_MIN))
        unpaid = np.zeros_like(fees)
        surfaces = len(self.surfaces)
        with_none = np.vstack([fees, np.zeros(self.customers)])
        self.paths.solve(sums, with_none[:, self.fees_of_columns])
        paid = np.zeros(self.customers)
        for number, surface in enumerate(self.surfaces):
            paid[number] = surface.cheapest(
                sums, with_none[:, number], used, unpaid[:, number]
            )
        paid[surfaces:] = self.duties.cheapest(
            sums, with_none[:, surfaces:], used, unpaid[:, surfaces:]
        )
        lack = used.reshape(crews.pools, crews.slots, SLOT_MIN).sum(axis=2)
        total = float(paid.sum()) - crews.sell(prices, fees, lack, unpaid)
        return Value(paid, total, lack, unpaid)

    def alone(self) -> Floats:
        """Price of each surface if it has every crew for itself."""
        crews = self.crews
        free = np.zeros((crews.pools, crews.slots))
        value = self.value(free, np.zeros((len(crews.nights), self.customers)))
        return value.by_customer[: len(self.surfaces)]


def _is_duty(job: Job) -> bool:
    """Whether a job costs something by itself; what keeps surfaces damp is apart."""
    return job.missed_cost > 0 and not (job.refills or job.covers or job.seals)


class _Duties:
    """Jobs that are done, late perhaps, or left out."""

    def __init__(self, crews: Crews, jobs: list[Job], starts: Starts) -> None:
        self.choices = Choices(crews, jobs, starts, late=True)
        self.missed = np.array([job.missed_cost for job in jobs])
        owners = self.choices.owner
        self.able, self.begins = np.unique(owners, return_index=True)

    def cheapest(
        self, sums: Floats, fees: Floats, used: Floats, unpaid: Floats
    ) -> Floats:
        """Price of each duty at its cheapest; notes what that takes."""
        picked = self.choices
        if not len(picked.owner):
            return self.missed
        priced = picked.prices(sums) + fees[picked.night, picked.owner]
        best = np.full(len(self.missed), np.inf)
        best[self.able] = np.minimum.reduceat(priced, self.begins)
        chosen = np.flatnonzero(
            (priced == best[picked.owner]) & (priced < self.missed[picked.owner])
        )
        _, once = np.unique(picked.owner[chosen], return_index=True)
        chosen = chosen[once]
        picked.use(chosen.tolist(), sums, used)
        called = chosen[picked.night[chosen] >= 0]
        unpaid[picked.night[called], picked.owner[called]] += 1
        cheapest: Floats = np.minimum(best, self.missed)
        return cheapest


class _SurfaceWays:
    """One surface: bare until its cover is on or compound seals it, then wetted."""

    def __init__(
        self,
        relaxed: Relaxed,
        surface: Surface,
        starts: Starts,
        column: int | None,
        *,
        in_minutes: bool,
    ) -> None:
        problem = relaxed.problem
        self.surface, self.paths, self.column = surface, relaxed.paths, column
        jobs = [problem.jobs[j] for j in surface.jobs]
        clock = surface.minutes
        bare = _bare_sum(
            clock.fresh_count if in_minutes else clock.fresh_sum, surface, jobs
        )
        endings = [job for job in jobs if job.covers or job.seals]
        self.endings = Choices(relaxed.crews, endings, starts, late=not in_minutes)
        self.missed = 0.0 if in_minutes else sum(job.missed_cost for job in endings)
        covers = np.array([job.covers for job in self.endings.jobs], bool)
        wets = np.array([job.refills for job in self.endings.jobs], bool)
        picked = self.endings
        # Only what is asked for stays: the minutes of a thousand surfaces are many.
        self.bare_before, self.bare = bare[picked.first], float(bare[-1])
        self.covers = covers[picked.owner] & (self.column is not None)
        ends = np.minimum(picked.last + picked.duration, problem.horizon)
        damp = np.asarray(surface.minutes.dry_at)[ends]
        self.until = np.where(wets[picked.owner], damp, ends)
        if column is not None:
            dry_sum = relaxed.paths.dry_sum(column)
            self.spent = dry_sum[self.until]
            on = min(surface.covered_from or 0, problem.horizon)
            self.damp_until = clock.dry_at_start if on <= 0 else on
            self.spent_at_first = float(dry_sum[self.damp_until])

    def cheapest(
        self, sums: Floats, fees: Floats, used: Floats, unpaid: Floats
    ) -> float:
        """Price of the surface at its cheapest; notes what that takes."""
        on = self.surface.covered_from
        if on is not None and not self.endings.jobs:
            return self._covered_from(on, sums, used, unpaid)
        if on is not None and on <= 0:
            return self._covered_from(on, sums, used, unpaid)
        picked = self.endings
        never = self.bare + self.missed
        if not len(picked.owner):
            return never
        costs = picked.prices(sums) + fees[picked.night] + self.bare_before
        if self.column is not None and self.covers.any():
            costs[self.covers] += self.paths.after(
                picked.slot[self.covers], self.until[self.covers],
                self.spent[self.covers], self.column, picked.night[self.covers],
            )  # fmt: skip
        best = int(costs.argmin())
        if costs[best] >= never:
            return never
        picked.use([best], sums, used)
        night = int(picked.night[best])
        if night >= 0:
            unpaid[night] += 1
        if self.covers[best]:
            state = State(int(picked.slot[best]), float(self.spent[best]), night)
            self._follow(state, sums, used, unpaid)
        return float(costs[best])

    def _covered_from(
        self, on: int, sums: Floats, used: Floats, unpaid: Floats
    ) -> float:
        """Price of a surface that is covered from a minute on, whoever works."""
        if self.column is None:
            return self.bare
        state = State(max(0, on) // SLOT_MIN, self.spent_at_first)
        self._follow(state, sums, used, unpaid)
        one: Ints = np.array([state.slot, self.damp_until, state.paid])
        spent = np.array([state.spent])
        return self.bare + float(
            self.paths.after(one[:1], one[1:2], spent, self.column, one[2:])[0]
        )

    def _follow(self, state: State, sums: Floats, used: Floats, unpaid: Floats) -> None:
        assert self.column is not None
        path = self.paths.path(self.column, state)
        self.paths.choices.use([choice for choice, _ in path], sums, used)
        for _, night in path:
            if night >= 0:
                unpaid[night] += 1


def _bare_sum(total: Sequence[float], surface: Surface, jobs: list[Job]) -> Floats:
    """Bare minutes before each, but for those that something else may guard."""
    cost = np.diff(np.asarray(total, np.float64))
    for job in jobs:
        if job.protects and not (job.repeats or job.covers or job.seals):
            cost[max(0, job.earliest) : max(0, job.latest)] = 0.0
    if surface.covered_from is not None:
        cost[max(0, surface.covered_from) :] = 0.0
    return np.concatenate(([0.0], np.cumsum(cost)))
