"""One planner plans one week, in a process of its own: its memory is then its own."""

import multiprocessing
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from time import monotonic

import psutil

from models.records import Roster
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.dispatched import as_roster, best_dispatch
from tests.bench.dispatcher import BENCH_RULES, BenchRule
from tests.bench.fixed_interval import wetted_every
from tests.bench.job_shop import plan_jobs
from tests.bench.simulator import Played, simulate
from tests.bench.weeks import Week
from tests.bench.whole_week import Attempt, plan_week

_LOOK_S = 0.2
_ALL_RULES_UP_TO = 120  # surfaces; on larger sites one rule has to do


@dataclass(frozen=True)
class Outcome:
    """How a planner did, as the simulator plays its roster.

    Attributes
    ----------
    cost, dry_min : float or None
        None if it found no roster; the words say why.
    worker_h : float
        Of all people on visits. [h]
    curve : tuple of (float, float)
        Cost by seconds, where the planner tells it.
    seconds : float
        All of it: start, search and reasons.
    memory_mb : float
        The most that its processes held at a time, shared memory counted once.
    """

    visits: int = 0
    cost: float | None = None
    dry_min: int | None = None
    worker_h: float = 0.0
    broken: tuple[str, ...] = ()
    curve: tuple[tuple[float, float], ...] = ()
    seconds: float = 0.0
    memory_mb: float = 0.0
    words: str = ""

    def cost_at(self, seconds: float) -> float | None:
        """Cost by then; None before the first roster."""
        return next((c for s, c in reversed(self.curve) if s <= seconds), None)


Planner = Callable[[Week, Effort], Outcome]


def by_solver(week: Week, effort: Effort) -> Outcome:
    """Plan with the solver; told seconds it is its search that keeps to them."""
    work, curve = week.work(), []
    started = monotonic()
    roster = solve(
        work,
        effort,
        progress=lambda _, cost: curve.append((monotonic() - started, cost)),
    )
    took = monotonic() - started
    played = simulate(work, roster)
    broken = list(played.violations)
    if abs(played.total - roster.cost) > 1e-3:
        broken.append("the roster's cost is not what the simulator counts")
    return _outcome(played, len(roster.visits), took, tuple(broken), curve=tuple(curve))


def by_dispatcher(week: Week, effort: Effort) -> Outcome:
    """Plan by the best of the foremen, however long that takes."""
    del effort
    work = week.work()
    started = monotonic()
    rules = BENCH_RULES if len(work.surfaces) <= _ALL_RULES_UP_TO else (BenchRule(),)
    roster, played = best_dispatch(work, rules)
    took = monotonic() - started
    words = f"best of {len(rules)} rules"
    return _outcome(played, len(roster.visits), took, words=words)


def by_interval(week: Week, effort: Effort, hours: int) -> Outcome:
    """Plan by wetting every so many hours, as specifications write it."""
    del effort
    work = week.work()
    started = monotonic()
    roster = as_roster(work, wetted_every(work, hours), "peer")
    took = monotonic() - started
    return _outcome(simulate(work, roster), len(roster.visits), took)


def _outcome(
    played: Played,
    visits: int,
    seconds: float,
    broken: tuple[str, ...] = (),
    curve: tuple[tuple[float, float], ...] = (),
    words: str = "",
) -> Outcome:
    return Outcome(
        visits, played.total, played.dry_min, played.amount["labour"] / 60,
        broken or tuple(played.violations), curve, seconds, words=words,
    )  # fmt: skip


def by_whole_week(week: Week, effort: Effort) -> Outcome:
    """Plan by one model of the whole week."""
    return _by_peer(week, effort, plan_week)


def by_job_shop(week: Week, effort: Effort) -> Outcome:
    """Plan by PyJobShop what it can express."""
    return _by_peer(week, effort, plan_jobs)


def _by_peer(week: Week, effort: Effort, plan: Callable[..., Attempt]) -> Outcome:
    assert effort.seconds is not None
    work = week.work()
    started = monotonic()
    attempt = plan(work, effort.seconds)
    took = monotonic() - started
    if attempt.visits is None:
        return Outcome(seconds=took, words=attempt.words)
    roster: Roster = as_roster(work, attempt.visits, "peer")
    played = simulate(work, roster)
    return _outcome(played, len(roster.visits), took, words=attempt.words)


def alone(planner: Planner, week: Week, effort: Effort) -> Outcome:
    """Run a planner in a fresh process and watch its memory."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=_run, args=(planner, week, effort, theirs))
    process.start()
    theirs.close()
    most = 0.0
    try:
        while not ours.poll(_LOOK_S):
            most = max(most, _held_mb(process.pid))
        outcome = ours.recv()
    except EOFError:
        process.join()
        words = f"its process ended with {process.exitcode}"
        return Outcome(words=words, memory_mb=most)
    process.join()
    return Outcome(**(vars(outcome) | {"memory_mb": most}))


def _run(planner: Planner, week: Week, effort: Effort, answer: Connection) -> None:
    answer.send(planner(week, effort))


def _held_mb(pid: int | None) -> float:
    """Memory of a process and its children now; 0 if it is gone already."""
    try:
        first = psutil.Process(pid)
        family = [first, *first.children(recursive=True)]
        return float(sum(one.memory_full_info().pss for one in family)) / 2**20
    except psutil.Error:
        return 0.0
