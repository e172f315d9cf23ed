"""Measures the solver against its peers: ``python -m tests.bench.roster_bench``.

For each week a table of cost by seconds: the solver, the best dispatch rule, covers
wetted every few hours as people do today, one CP-SAT model of the whole week, PyJobShop
on what it can express, and for the files of a roster study what that reached. One run
of the solver to the longest time serves the shorter ones; a second run to one of them
shows whether that is fair, and each run, in a process of its own, is played by the
simulator. ``--growth`` plans sites of all sizes.
"""

import argparse
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from scheduler.solver.search.effort import Effort
from tests.bench.contest import (
    Outcome,
    Planner,
    alone,
    by_dispatcher,
    by_interval,
    by_job_shop,
    by_solver,
    by_whole_week,
)
from tests.bench.fixed_interval import INTERVALS_H
from tests.bench.instances import Size
from tests.bench.published import REFERENCE_COST, REFERENCE_DISPATCH
from tests.bench.weeks import Invented, SiteFolder, Study, Week

HEAD = (
    f"{'planner':<26}{'visits':>7}{'seconds':>9}{'cost':>10}{'dry min':>9}"
    f"{'worker-h':>10}{'ratio':>7}{'broken':>7}{'MB':>6}"
)
GROWTH = (10, 30, 60, 120, 240, 1000)
PEERS: dict[str, Planner] = {
    "one model of the week": by_whole_week,
    "PyJobShop": by_job_shop,
}


def row(name: str, outcome: Outcome, dispatched: float) -> str:
    """One run in the table."""
    if outcome.cost is None or outcome.dry_min is None:
        return f"{name:<26}{'–':>7}{outcome.seconds:>9.1f}  {outcome.words}"
    return (
        f"{name:<26}{outcome.visits:>7}{outcome.seconds:>9.1f}{outcome.cost:>10.0f}"
        f"{outcome.dry_min:>9}{outcome.worker_h:>10.1f}"
        f"{_ratio(outcome.cost, dispatched):>7}"
        f"{len(outcome.broken):>7}{outcome.memory_mb:>6.0f}"
    )


def cost_row(name: str, seconds: float, cost: float, dispatched: float) -> str:
    """A cost of which no more is known."""
    return f"{name:<33}{seconds:>9.1f}{cost:>10.0f}{_ratio(cost, dispatched):>26}"


def _ratio(cost: float, dispatched: float) -> str:
    return f"{cost / dispatched:.2f}" if dispatched else "–"


def table(
    week: Week, marks: Sequence[float], again: float | None, peers: Sequence[str]
) -> Iterator[str]:
    """Plan a week by everybody."""
    dispatcher = alone(by_dispatcher, week, Effort())
    dispatched = dispatcher.cost or 0.0
    yield f"\n{week.name}\n{HEAD}"
    yield row(f"dispatcher, {dispatcher.words}", dispatcher, dispatched)
    for hours in INTERVALS_H:
        outcome = alone(partial(by_interval, hours=hours), week, Effort())
        yield row(f"wetted every {hours} h", outcome, dispatched)
    longest = alone(by_solver, week, Effort(seconds=max(marks)))
    for mark in sorted(marks)[:-1]:
        cost = longest.cost_at(mark)
        if cost is not None:
            yield cost_row("solver on the way", mark, cost, dispatched)
    yield row(f"solver, {max(marks):g} s", longest, dispatched)
    if again is not None:
        outcome = alone(by_solver, week, Effort(seconds=again))
        yield row(f"solver, {again:g} s alone", outcome, dispatched)
    for name in peers:
        outcome = alone(PEERS[name], week, Effort(seconds=max(marks)))
        yield row(name, outcome, dispatched)
    yield from _published(week.name, dispatched)


def _published(name: str, dispatched: float) -> Iterator[str]:
    for seconds, cost in REFERENCE_COST.get(name, {}).items():
        yield cost_row("reference planner", seconds, cost, dispatched)
    if name in REFERENCE_DISPATCH:
        yield cost_row("reference dispatcher", 2, REFERENCE_DISPATCH[name], dispatched)


def each_alone(week: Week, efforts: Sequence[Effort]) -> Iterator[str]:
    """Plan a week by the dispatcher, then by the solver with each effort afresh."""
    dispatcher = alone(by_dispatcher, week, Effort())
    dispatched = dispatcher.cost or 0.0
    yield f"\n{week.name}\n{HEAD}"
    yield row(f"dispatcher, {dispatcher.words}", dispatcher, dispatched)
    for effort in efforts:
        yield row(f"solver, {effort.words}", alone(by_solver, week, effort), dispatched)


def _told() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    add = parser.add_argument
    add("--surfaces", type=int, nargs="*", default=[20, 60], help="invented weeks")
    add("--seeds", type=int, nargs="*", default=[1])
    add("--tightness", type=float, default=0.7, help="work against daytime crews")
    add("--days", type=int, default=7)
    add("--crews", type=int)
    add("--rain", action="store_true")
    add("--study", type=Path, nargs="*", default=[], help="files of the roster study")
    add("--sites", type=Path, nargs="*", default=[], help="site folders")
    add("--seconds", type=float, nargs="*", default=[2, 5, 10, 30, 60])
    add(
        "--again",
        type=float,
        default=10,
        help="seconds of the run that checks; 0: none",
    )
    add("--each", action="store_true", help="a run for each of the seconds; no peers")
    add("--work", type=float, nargs="*", help="deterministic work instead of seconds")
    add("--no-peers", action="store_true")
    add("--growth", action="store_true", help=f"sites of {GROWTH} surfaces, no peers")
    return parser.parse_args()


def main() -> None:
    """Read the command line and print the tables."""
    told = _told()
    sizes = GROWTH if told.growth else told.surfaces
    if told.study or told.sites:
        sizes = ()
    weeks: list[Week] = [*map(Study, told.study), *map(SiteFolder, told.sites)]
    weeks += [
        Invented(Size(n, told.days, told.tightness, told.crews, told.rain), seed)
        for n in sizes
        for seed in told.seeds
    ]
    for week in weeks:
        if told.work:
            lines = each_alone(week, [Effort(work=work) for work in told.work])
        elif told.growth:
            lines = each_alone(week, [Effort()])
        elif told.each:
            lines = each_alone(week, [Effort(seconds=s) for s in told.seconds])
        else:
            peers = () if told.no_peers else tuple(PEERS)
            lines = table(week, told.seconds, told.again or None, peers)
        for line in lines:
            print(line, flush=True)


if __name__ == "__main__":
    main()
