"""Large neighbourhood search: parts of the roster planned anew, one after another.

First each surface's linked work, exactly; then neighbourhoods at random around what
costs; once they gain little, a sweep over all that must move together and all of the
horizon, again as long as that gains, and at random again. Between them single visits
move by minutes.

Two neighbourhoods are solved at a time, each by CP-SAT on one core, and the next two
lie ready; they are drawn and merged in a fixed order, so that the load of the machine
changes nothing but the time it takes.
"""

from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from random import Random
from time import monotonic

from scheduler.solver.improve.local_search import local_search
from scheduler.solver.plan.cost_drivers import CostDriver, cost_drivers
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.search.effort import Effort, size_of
from scheduler.solver.search.operators import draw
from scheduler.solver.search.picker import Picker
from scheduler.solver.search.scores import OperatorScores
from scheduler.solver.search.sweep import SweepItem, sweep
from scheduler.solver.subproblem.model import Solution
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import Subproblem, subproblem_of

Progress = Callable[[float, float], None]
"""Called with the share of the effort that is spent, and the cost by now."""


@dataclass(frozen=True)
class _Candidate:
    """A neighbourhood to solve, by the number of its operator (None: of a sweep)."""

    operator: int | None
    neighbourhood: Neighbourhood
    most_work: float


class Search:
    """Improves a plan until the effort is spent or nothing is found any more.

    Parameters
    ----------
    solve_subproblem : callable
        Solves a subproblem within some work, by a seed.
    started : float or None
        When the clock of an effort in seconds began to run (``monotonic``); None: now.
    """

    def __init__(
        self,
        plan: Plan,
        effort: Effort,
        seed: int,
        solve_subproblem: Callable[[Subproblem, float, int], Solution],
        progress: Progress | None = None,
        started: float | None = None,
    ) -> None:
        self.plan, self.effort, self.progress = plan, effort, progress
        self.solve_subproblem = solve_subproblem
        self.rng = Random(seed)
        everything = plan.problem.settings
        self.settings = settings = everything.search
        surfaces = len(plan.problem.surfaces)
        size = size_of(plan.problem.work, everything.effort)
        self.budget = effort.budget(size, everything.effort)
        self.local_search_after = max(
            settings.local_search_share * self.budget,
            settings.local_search_work_per_surface * surfaces,
        )
        self.check_after = max(
            settings.check_after, int(settings.check_after_per_surface * surfaces)
        )
        self.started = monotonic() if started is None else started
        self.work = self.work_since_local_search = 0.0
        self.solved_count = 0
        self.idle = 0
        self.operators = everything.random.operators
        self.scores = OperatorScores(self.operators, settings.score_memory)
        self.tried: dict[Neighbourhood, float] = {}
        self.deferred: list[_Candidate] = []
        self.sweeps_begun = 0
        self._begin_sweep()

    def run(self) -> None:
        """Search; the plan is changed in place."""
        solving: deque[tuple[_Candidate, Future[Solution]]] = deque()
        at_a_time, local_after = self.settings.at_a_time, self.local_search_after
        with ThreadPoolExecutor(at_a_time) as pool:
            while True:
                if not solving and self.work_since_local_search >= local_after:
                    self._local_search()
                while (
                    len(solving) < at_a_time
                    and self.work_since_local_search < local_after
                    and not self._is_over()
                ):
                    busy = {i for c, _ in solving for i in self._busy(c.neighbourhood)}
                    candidate = self._next(busy)
                    if candidate is None:
                        break
                    future = pool.submit(
                        self.solve_subproblem,
                        subproblem_of(self.plan, candidate.neighbourhood),
                        candidate.most_work,
                        self.rng.randrange(1 << 30),
                    )
                    solving.append((candidate, future))
                if not solving:
                    return
                candidate, future = solving.popleft()
                self._merge(candidate, future.result())

    def _local_search(self) -> None:
        """Move single visits by minutes; neighbourhoods tell slots apart only."""
        before = self.plan.cost
        local_search(self.plan, rounds=1)
        if self.plan.cost <= before - LEAST_GAIN:
            self.idle = 0
        self.work_since_local_search = 0.0

    def _next(self, busy: set[int]) -> _Candidate | None:
        """Take the next neighbourhood that keeps off busy lanes.

        One that does not is deferred until they are free, and so are its lanes: wide
        neighbourhoods get their turn too. Two are deferred at most; one that was drawn
        at random may as well be drawn again, while a sweep offers its own once.
        """
        for deferred in self.deferred:
            if not busy.intersection(deferred.neighbourhood.lanes):
                self.deferred.remove(deferred)
                return deferred
            busy = busy | self._busy(deferred.neighbourhood)
        for _ in range(self.settings.draws):
            candidate = self._from_sweep() or self._at_random()
            if candidate is None:
                return None
            if not busy.intersection(candidate.neighbourhood.lanes):
                return candidate
            if candidate.operator is None or not self.deferred:
                self.deferred.append(candidate)
                busy = busy | self._busy(candidate.neighbourhood)
                if len(self.deferred) > 1:
                    return None
        return None

    def _busy(self, neighbourhood: Neighbourhood) -> set[int]:
        """Lanes of a neighbourhood with those that may share people with them."""
        lanes = self.plan.problem.lanes
        return {i for lane in neighbourhood.lanes for i in lanes[lane].gang_shift}

    def _begin_sweep(self) -> None:
        """Go through the roster in order, wider than the last time."""
        self.sweep: Iterator[SweepItem] = sweep(self.plan, self.rng, self.sweeps_begun)
        self.sweeps_begun += 1
        self.cost_at_sweep = self.cost_at_check = self.plan.cost
        self.drawn_since_check, self.gained_by_sweep = 0, 0.0

    def _from_sweep(self) -> _Candidate | None:
        """Take the next one of a sweep; one sweep follows another while that gains."""
        while True:
            for neighbourhood, most_work in self.sweep:
                known = self.tried.get(neighbourhood) == self.plan.cost
                if neighbourhood.lanes and not known:
                    most = min(most_work, self.settings.sweep_share * self.budget)
                    return _Candidate(None, neighbourhood, most)
            least = self.settings.sweep_gain * self.plan.cost
            if self.gained_by_sweep <= least or self.sweeps_begun == 1:
                return None
            self._begin_sweep()

    def _at_random(self) -> _Candidate | None:
        """Draw one at random; begin a sweep if that gained little of late."""
        if self.drawn_since_check >= self.check_after:
            much = (1 - self.settings.little_gain) * self.cost_at_check
            if self.plan.cost > much:
                self._begin_sweep()
                return self._from_sweep() or self._draw()
            self.drawn_since_check, self.cost_at_check = 0, self.plan.cost
        candidate = self._draw()
        changed = self.plan.cost != self.cost_at_sweep
        if candidate is None and (self.sweeps_begun == 1 or changed):
            self._begin_sweep()
            return self._from_sweep()
        return candidate

    def _is_over(self) -> bool:
        return self.idle >= self.settings.patience or self._share() >= 1

    def _share(self) -> float:
        """Share of the effort that is spent."""
        if self.effort.seconds is not None:
            if self.effort.seconds == 0:
                return 1.0
            return (monotonic() - self.started) / self.effort.seconds
        return self.work / self.budget if self.budget else 1.0

    def _draw(self) -> _Candidate | None:
        """Draw a neighbourhood at random around what costs."""
        found, settings = cost_drivers(self.plan), self.settings
        if not found:
            return None
        weights = [self._weight(driver) for driver in found]
        scale = 1.0 + settings.growth * (self.idle // settings.grows_after)
        picker = Picker(self.plan, self.rng, scale)
        numbers = range(len(self.operators))
        for _ in range(settings.draws):
            number = self.rng.choices(numbers, self.scores.weights())[0]
            spot = picker.spot(found, weights)
            if spot is None:
                continue
            neighbourhood = draw(picker, self.operators[number], *spot)
            if neighbourhood.lanes and neighbourhood not in self.tried:
                most = min(settings.random_work, settings.random_share * self.budget)
                return _Candidate(number, neighbourhood, most * scale**2)
        return None

    def _weight(self, driver: CostDriver) -> float:
        """How often a cost driver is drawn."""
        return float(driver.cost**self.settings.cost_power)

    def _merge(self, candidate: _Candidate, solution: Solution) -> None:
        """Take over what a neighbourhood came to, if the roster gets cheaper by it."""
        before, gain = self.plan.cost, 0.0
        remove, add = solution.remove, solution.add
        if sorted(remove) != add and self.plan.improve(remove, add):
            gain = before - self.plan.cost
        self.solved_count += 1
        self.work += solution.work
        self.work_since_local_search += solution.work
        if candidate.operator is None:
            self.gained_by_sweep += gain
        else:
            self.scores.update(candidate.operator, gain, solution.work)
            self.drawn_since_check += 1
            self.idle += 1
        if gain > 0:
            self.idle = 0
        elif solution.proven:
            self.tried[candidate.neighbourhood] = before
            if len(self.tried) > self.settings.remembered:
                del self.tried[next(iter(self.tried))]
        if self.progress is not None:
            self.progress(min(1.0, self._share()), self.plan.cost)
