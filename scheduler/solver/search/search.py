"""Large neighbourhood search: parts of the roster planned anew, one after another.

First each surface's linked work, exactly; then neighbourhoods by lot around what costs;
once they gain little, an agenda over all that must move together and all of the
horizon, as long as that gains, and by lot again. Between them single visits move by
minutes.

Two neighbourhoods are solved at a time, each by CP-SAT on one core, and the next two
lie ready; they are drawn and merged in a fixed order, so that the load of the machine
changes nothing but the time it takes.
"""

from collections import deque
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from math import sqrt
from random import Random
from time import monotonic

from scheduler.solver.improve.local_search import local_search
from scheduler.solver.plan.cost_drivers import CostDriver, cost_drivers
from scheduler.solver.plan.plan import LEAST_GAIN, Plan
from scheduler.solver.search.effort import Effort
from scheduler.solver.search.operators import OPERATORS
from scheduler.solver.search.picker import Picker
from scheduler.solver.search.sweep import SweepItem, sweep
from scheduler.solver.subproblem.model import Solution
from scheduler.solver.subproblem.neighbourhood import Neighbourhood
from scheduler.solver.subproblem.subproblem import Subproblem, subproblem_of

Progress = Callable[[float, float], None]
"""Called with the share of the effort that is spent, and the cost by now."""

_AT_A_TIME = 4  # two are solved, two lie ready: a short one need not wait for a long
_PATIENCE = 150  # neighbourhoods in a row that gained nothing end the search
_GROWS_AFTER = 30
_FORGET = 0.9  # of a kind's standing is kept from one use to the next
_REMEMBERED = 200
_DRAWS = 20
#: Work after which visits are moved by minutes again: a share of the budget, and no
#: less than so much a surface.
_TIDY_AFTER, _TIDY_AFTER_EACH = 0.05, 0.01
#: Work that a neighbourhood by lot may take: few are not proven by then, and seldom
#: gain.
_DRAWN_WORK = 0.08
_DRAWN_SHARE, _AGENDA_SHARE = 0.05, 0.25  # of the budget, at most

_LOOK_AFTER, _LOOK_AFTER_EACH = (
    20,
    0.12,
)  # neighbourhoods by lot, and no less by surfaces
_LITTLE = 0.02  # of the cost, gained by so many: time for the agenda
_WORTH_A_TURN = 0.002  # of the cost, gained by the agenda: once more


@dataclass(frozen=True)
class _Drawn:
    """A neighbourhood to solve, by its number among the kinds (-1: the agenda)."""

    kind: int
    neighbourhood: Neighbourhood
    most_work: float


class Search:
    """Improves a plan until the effort is spent or nothing is found any more."""

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
        surfaces = len(plan.problem.surfaces)
        self.budget = effort.budget(surfaces)
        self.tidy_after = max(_TIDY_AFTER * self.budget, _TIDY_AFTER_EACH * surfaces)
        self.look_after = max(_LOOK_AFTER, int(_LOOK_AFTER_EACH * surfaces))
        self.started = monotonic() if started is None else started
        self.work = 0.0
        self.solved_count = 0
        self.idle = 0
        self.scores = [1.0 / kind.work for kind in OPERATORS]
        self.spent = [kind.work / 3 for kind in OPERATORS]
        self.tried: dict[Neighbourhood, float] = {}
        self.untidy = 0.0
        self.held: list[_Drawn] = []
        self.sweeps_begun = 0
        self._open_agenda()

    def run(self) -> None:
        """Search; the plan is changed in place."""
        waiting: deque[tuple[_Drawn, Future[Solution]]] = deque()
        with ThreadPoolExecutor(_AT_A_TIME) as pool:
            while True:
                if not waiting and self.untidy >= self.tidy_after:
                    self._tidy()
                while (
                    len(waiting) < _AT_A_TIME
                    and self.untidy < self.tidy_after
                    and not self._spent()
                ):
                    drawn = self._next(
                        {i for d, _ in waiting for i in self._turns(d.neighbourhood)}
                    )
                    if drawn is None:
                        break
                    future = pool.submit(
                        self.solve_subproblem,
                        subproblem_of(self.plan, drawn.neighbourhood),
                        drawn.most_work,
                        self.rng.randrange(1 << 30),
                    )
                    waiting.append((drawn, future))
                if not waiting:
                    return
                drawn, future = waiting.popleft()
                self._merge(drawn, future.result())

    def _tidy(self) -> None:
        """Move single visits by minutes; neighbourhoods tell slots apart only."""
        before = self.plan.cost
        local_search(self.plan, rounds=1)
        if self.plan.cost <= before - LEAST_GAIN:
            self.idle = 0
        self.untidy = 0.0

    def _next(self, busy: set[int]) -> _Drawn | None:
        """Take the next neighbourhood that keeps off busy lanes.

        One that does not is held back until they are free, and so are its lanes: wide
        neighbourhoods get their turn too. Two are held at most; one that was drawn by
        lot may as well be drawn again, while the agenda offers its neighbourhoods once.
        """
        for held in self.held:
            if not busy.intersection(held.neighbourhood.lanes):
                self.held.remove(held)
                return held
            busy = busy | self._turns(held.neighbourhood)
        for _ in range(_DRAWS):
            drawn = self._planned() or self._drawn()
            if drawn is None or not busy.intersection(drawn.neighbourhood.lanes):
                return drawn
            if drawn.kind < 0 or not self.held:
                self.held.append(drawn)
                busy = busy | self._turns(drawn.neighbourhood)
                if len(self.held) > 1:
                    return None
        return None

    def _turns(self, neighbourhood: Neighbourhood) -> set[int]:
        """Lanes of a neighbourhood with those that may share people with them."""
        lanes = self.plan.problem.lanes
        return {
            other for index in neighbourhood.lanes for other in lanes[index].gang_shift
        }

    def _open_agenda(self) -> None:
        """Go through the agenda, wider than the last time."""
        self.sweep: Iterator[SweepItem] = sweep(self.plan, self.rng, self.sweeps_begun)
        self.sweeps_begun += 1
        self.opened_at = self.looked_at = self.plan.cost
        self.by_lot, self.gained_by_agenda = 0, 0.0

    def _planned(self) -> _Drawn | None:
        """Take what is on the agenda; again and again while that gains."""
        while True:
            for neighbourhood, most_work in self.sweep:
                if (
                    neighbourhood.lanes
                    and self.tried.get(neighbourhood) != self.plan.cost
                ):
                    most = min(most_work, _AGENDA_SHARE * self.budget)
                    return _Drawn(-1, neighbourhood, most)
            gained = self.gained_by_agenda > _WORTH_A_TURN * self.plan.cost
            if not gained or self.sweeps_begun == 1:
                return None
            self._open_agenda()

    def _drawn(self) -> _Drawn | None:
        """Draw a neighbourhood by lot, unless little was gained so of late."""
        if self.by_lot >= self.look_after:
            if self.plan.cost > (1 - _LITTLE) * self.looked_at:
                self._open_agenda()
                return self._planned() or self._draw()
            self.by_lot, self.looked_at = 0, self.plan.cost
        drawn = self._draw()
        if drawn is None and (
            self.sweeps_begun == 1 or self.plan.cost != self.opened_at
        ):
            self._open_agenda()
            return self._planned()
        return drawn

    def _spent(self) -> bool:
        return self.idle >= _PATIENCE or self._share() >= 1

    def _share(self) -> float:
        if self.effort.seconds is not None:
            if self.effort.seconds == 0:
                return 1.0
            return (monotonic() - self.started) / self.effort.seconds
        return self.work / self.budget if self.budget else 1.0

    def _draw(self) -> _Drawn | None:
        """Draw a neighbourhood by lot around what costs."""
        found = cost_drivers(self.plan)
        if not found:
            return None
        weights = [_weight(driver) for driver in found]
        picker = Picker(self.plan, self.rng, self._scale())
        for _ in range(_DRAWS):
            number = self.rng.choices(range(len(OPERATORS)), self._chances())[0]
            kind, spot = OPERATORS[number], picker.spot(found, weights)
            if spot is None:
                continue
            neighbourhood = kind.make(picker, *spot)
            if neighbourhood.lanes and neighbourhood not in self.tried:
                most = min(_DRAWN_WORK, _DRAWN_SHARE * self.budget)
                most *= self._scale() ** 2
                return _Drawn(number, neighbourhood, most)
        return None

    def _scale(self) -> float:
        """Neighbourhoods grow while nothing is found."""
        return 1.0 + 0.25 * (self.idle // _GROWS_AFTER)

    def _chances(self) -> list[float]:
        """How often each kind is drawn: by what it gained for its work of late."""
        return [
            sqrt(gain / spent)
            for gain, spent in zip(self.scores, self.spent, strict=True)
        ]

    def _merge(self, drawn: _Drawn, solved: Solution) -> None:
        before = self.plan.cost
        changed = bool(solved.remove or solved.add) and (
            sorted(solved.remove) != solved.add
        )
        gain = 0.0
        if changed and self.plan.improve(solved.remove, solved.add):
            gain = before - self.plan.cost
        self.solved_count += 1
        self.work += solved.work
        self.untidy += solved.work
        if drawn.kind >= 0:
            self._update_score(drawn.kind, gain, max(solved.work, 1e-3))
            self.by_lot += 1
            self.idle += 1
        else:
            self.gained_by_agenda += gain
        if gain > 0:
            self.idle = 0
        if gain == 0 and solved.proven:
            self.tried[drawn.neighbourhood] = before
            if len(self.tried) > _REMEMBERED:
                del self.tried[next(iter(self.tried))]
        if self.progress is not None:
            self.progress(min(1.0, self._share()), self.plan.cost)

    def _update_score(self, kind: int, gain: float, work: float) -> None:
        kept = _FORGET * self.scores[kind]
        self.scores[kind] = max(1.0, kept + (1 - _FORGET) * gain / work)
        kept = _FORGET * self.spent[kind]
        self.spent[kind] = kept + (1 - _FORGET) * work


def _weight(driver: CostDriver) -> float:
    """How often a cost driver is drawn: dear ones more, though not in proportion."""
    return float(driver.cost**0.7)
