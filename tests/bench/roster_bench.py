"""Measures the solver: ``python -m tests.bench.roster_bench --surfaces 20 60``.

One line an instance: what a dispatcher reaches, what the solver reaches and in what
time, the proven bound, broken rules as the simulator finds them, memory.
"""

import argparse
import resource
import time
from pathlib import Path

from models.records import WorkList
from scheduler.solver.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.dispatched import dispatch_roster
from tests.bench.instances import Size, instance
from tests.bench.simulator import simulate
from tests.bench.study import read_study

HEAD = (
    f"{'instance':<22}{'tasks':>6}{'rewets':>7}{'time s':>8}{'CPU s':>7}"
    f"{'dry min':>9}{'(disp.)':>9}{'cost':>9}{'(disp.)':>9}{'ratio':>7}"
    f"{'dry r.':>7}{'bound':>8}{'broken':>7}{'MB':>6}"
)


def line(name: str, work: WorkList, effort: Effort, seed: int) -> str:
    """Solve one instance and say how it went."""
    baseline = simulate(work, dispatch_roster(work))
    started, used = time.monotonic(), time.process_time()
    roster = solve(work, effort, seed)
    took, used = time.monotonic() - started, time.process_time() - used
    played = simulate(work, roster)
    if abs(played.total - roster.cost) > 1e-3:
        played.violations.append("the roster's cost is not what the simulator counts")
    rewets = sum(visit.id != visit.task_id for visit in roster.visits)
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    dry, dry_base = played.cost["dry"], baseline.cost["dry"]
    return (
        f"{name:<22}{len(roster.visits):>6}{rewets:>7}{took:>8.1f}{used:>7.1f}"
        f"{played.dry_min:>9}{baseline.dry_min:>9}"
        f"{roster.cost:>9.0f}{baseline.total:>9.0f}{roster.cost / baseline.total:>7.2f}"
        f"{dry / max(dry_base, 1e-9):>7.2f}{roster.lower_bound:>8.0f}"
        f"{len(played.violations) + len(baseline.violations):>7}{memory:>6}"
    )


def main() -> None:
    """Read the command line and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surfaces", type=int, nargs="*", default=[20, 60])
    parser.add_argument("--seeds", type=int, nargs="*", default=[1])
    parser.add_argument("--tightness", type=float, default=0.7)
    parser.add_argument("--days", type=int, default=7)
    parser.add_argument("--crews", type=int, default=None)
    parser.add_argument("--rain", action="store_true")
    parser.add_argument("--work", type=float, default=None)
    parser.add_argument("--seconds", type=float, default=None)
    parser.add_argument("--study", type=Path, nargs="*", default=[])
    told = parser.parse_args()
    effort = Effort(work=told.work, seconds=told.seconds)
    print(HEAD)
    for path in told.study:
        print(line(path.stem, read_study(path), effort, 1), flush=True)
    for surfaces in told.surfaces:
        for seed in told.seeds:
            size = Size(surfaces, told.days, told.tightness, told.crews, told.rain)
            name = f"{surfaces} surfaces, seed {seed}"
            print(line(name, instance(size, seed), effort, seed), flush=True)


if __name__ == "__main__":
    main()
