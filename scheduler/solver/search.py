"""Large neighbourhood search: windows of the roster planned anew, one after another.

Two windows are solved at a time on two threads, each by CP-SAT with one worker; they
are drawn and merged in a fixed order, so that the load of the machine changes nothing
but the time it takes.
"""

from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from math import sqrt
from random import Random
from time import monotonic

from scheduler.solver.effort import Effort
from scheduler.solver.focus import KINDS, Picker, Sore, sores
from scheduler.solver.plan import Plan
from scheduler.solver.window import Window, scene
from scheduler.solver.window_model import Solved, solve_window

Progress = Callable[[float, float], None]
"""Called with the share of the effort that is spent, and the cost by now."""

_AT_A_TIME = 2
_PATIENCE = 150  # windows in a row that gained nothing end the search
_GROWS_AFTER = 30
_FORGET = 0.9  # of a kind's standing is kept from one use to the next
_REMEMBERED = 200


class Search:
    """Improves a plan until the effort is spent or nothing is found any more."""

    def __init__(
        self, plan: Plan, effort: Effort, seed: int, progress: Progress | None = None
    ) -> None:
        self.plan, self.effort, self.progress = plan, effort, progress
        self.rng = Random(seed)
        self.budget = effort.budget(len(plan.problem.surfaces))
        self.started = monotonic()
        self.work = 0.0
        self.windows = 0
        self.idle = 0
        self.standing = [1.0 / kind.work for kind in KINDS]
        self.tried: dict[Window, float] = {}
        self.history: list[tuple[str, float, float]] = []

    def run(self) -> None:
        """Search; the plan is changed in place."""
        waiting: deque[tuple[int, Window, Future[Solved]]] = deque()
        with ThreadPoolExecutor(_AT_A_TIME) as pool:
            while True:
                while len(waiting) < _AT_A_TIME and not self._spent():
                    busy = {i for _, window, _ in waiting for i in window.lanes}
                    drawn = self._draw(busy)
                    if drawn is None:
                        break
                    kind, window = drawn
                    seed = self.rng.randrange(1 << 30)
                    setting = scene(self.plan, window)
                    most = KINDS[kind].work * self._scale() ** 2
                    future = pool.submit(solve_window, setting, most, seed)
                    waiting.append((kind, window, future))
                if not waiting:
                    return
                kind, window, future = waiting.popleft()
                self._merge(kind, window, future.result())

    def _spent(self) -> bool:
        if self.idle >= _PATIENCE:
            return True
        return self._share() >= 1

    def _share(self) -> float:
        if self.effort.seconds is not None:
            if self.effort.seconds == 0:
                return 1.0
            return (monotonic() - self.started) / self.effort.seconds
        return self.work / self.budget if self.budget else 1.0

    def _draw(self, busy: set[int]) -> tuple[int, Window] | None:
        found = sores(self.plan)
        if not found:
            return None
        weights = [_pull(sore) for sore in found]
        picker = Picker(self.plan, self.rng, self._scale())
        for _ in range(20):
            kind = self.rng.choices(range(len(KINDS)), self._chances())[0]
            window = picker.pick(KINDS[kind], found, weights, busy)
            if window is None or not window.lanes or window in self.tried:
                continue
            return kind, window
        return None

    def _scale(self) -> float:
        """Windows grow while nothing is found."""
        return 1.0 + 0.25 * (self.idle // _GROWS_AFTER)

    def _chances(self) -> list[float]:
        """How often each kind is drawn: by what it gained for its work of late."""
        return [sqrt(standing) for standing in self.standing]

    def _merge(self, kind: int, window: Window, solved: Solved) -> None:
        before = self.plan.cost
        changed = bool(solved.remove or solved.add) and (
            sorted(solved.remove) != solved.add
        )
        gain = 0.0
        if changed and self.plan.improve(solved.remove, solved.add):
            gain = before - self.plan.cost
        self.windows += 1
        self.work += solved.work
        self.history.append((KINDS[kind].name, solved.work, gain))
        rate = gain / max(solved.work, 1e-3)
        self.standing[kind] = max(
            1.0, _FORGET * self.standing[kind] + (1 - _FORGET) * rate
        )
        self.idle = 0 if gain > 0 else self.idle + 1
        if gain == 0 and solved.proven:
            self.tried[window] = before
            if len(self.tried) > _REMEMBERED:
                del self.tried[next(iter(self.tried))]
        if self.progress is not None:
            self.progress(min(1.0, self._share()), self.plan.cost)


def _pull(sore: Sore) -> float:
    """How strongly a sore draws windows; dear ones more, though not in proportion."""
    return float(sore.cost**0.7)
