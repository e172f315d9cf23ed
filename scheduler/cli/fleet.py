"""``keepdamp fleet``: many sites planned at once."""

import os
from contextlib import closing
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table

from exports.breaches import outside_words
from exports.notices import PLANNING_AID, dry_gaps_words
from models.quantities import duration
from scheduler.cli import screen
from scheduler.cli.arguments import DrySide, Json
from scheduler.cli.ledgers import database
from scheduler.fleet.cluster import Cluster
from scheduler.fleet.fleet import plan_sites
from scheduler.fleet.mapper import Mapper
from scheduler.fleet.outcome import Outcome, Planned, exit_code, worst_first
from scheduler.fleet.processes import Processes
from scheduler.workflow import PlanOptions


def fleet(
    sites: Annotated[
        list[Path],
        typer.Argument(metavar="SITE", help="Site folders.", show_default=False),
    ],
    workers: Annotated[
        int | None,
        typer.Option(
            min=1,
            help="Sites planned in parallel (default: one per core).",
            show_default=False,
        ),
    ] = None,
    scheduler: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="Plan on the cluster of this dask scheduler instead; its workers need "
            "the folders at the same path and one thread each.",
            show_default=False,
        ),
    ] = None,
    seconds: Annotated[
        float | None,
        typer.Option(
            min=1,
            help="Time limit of the search for each site. Without it a fixed amount of "
            "work, so that the same folder gives the same roster.",
            show_default=False,
        ),
    ] = None,
    seed: Annotated[int, typer.Option(min=0, help="Random seed.")] = 1,
    on_dry_side: DrySide = False,
    as_json: Json = False,
) -> None:
    """Plan many sites at once, each with the same result as planned alone."""
    if scheduler is not None and workers is not None:
        raise typer.BadParameter("either --workers or --scheduler, not both")
    mapper: Mapper = (
        Processes(workers or os.cpu_count() or 1)
        if scheduler is None
        else Cluster(scheduler)
    )
    outcomes = []
    options = PlanOptions(
        seconds=seconds, seed=seed, on_dry_side=on_dry_side, database=database()
    )
    planning = plan_sites(sites, mapper, options)
    with closing(planning) as arriving:
        for outcome in arriving:
            outcomes.append(outcome)
            if not as_json:
                _say(outcome)
    ranked = worst_first(outcomes)
    if as_json:
        screen.say_json({"sites": [_as_json(outcome) for outcome in ranked]})
    else:
        _say_all(ranked)
    raise typer.Exit(exit_code(ranked))


def _say(outcome: Outcome) -> None:
    if isinstance(outcome, Planned):
        outside = outside_words(outcome.breached)
        screen.say(
            f"{outcome.folder}: {outcome.site}, {outcome.surfaces} surfaces, "
            f"{outcome.visits} visits; {outside}{'; ' if outside else ''}"
            f"{dry_gaps_words(outcome.gaps, outcome.dry_min)}; "
            f"cost {outcome.cost:,.0f}, {outcome.took_s:.1f} s"
        )
        return
    screen.say(f"{outcome.folder}: not planned, nothing written", "bold")
    for words in [str(problem) for problem in outcome.problems] or [outcome.fault]:
        for line in words.splitlines():
            screen.say(f"  {line}")


def _say_all(ranked: list[Outcome]) -> None:
    planned = sum(1 for outcome in ranked if isinstance(outcome, Planned))
    screen.say(f"\n{planned} of {len(ranked)} sites planned, worst first", "bold")
    table = Table(box=None, pad_edge=False)
    table.add_column("Site")
    for name in (
        "Surfaces",
        "Visits",
        "Breaches",
        "Dry gaps",
        "Dry",
        "Cost",
        "Seconds",
    ):
        table.add_column(name, justify="right")
    for outcome in ranked:
        table.add_row(str(outcome.folder), *_cells(outcome))
    screen.say_table(table)
    screen.say(PLANNING_AID, "italic")


def _cells(outcome: Outcome) -> list[str]:
    if not isinstance(outcome, Planned):
        return ["", "", "", "", "not planned"]
    return [
        str(outcome.surfaces),
        str(outcome.visits),
        str(outcome.breached),
        str(outcome.gaps),
        duration(outcome.dry_min),
        f"{outcome.cost:,.0f}",
        f"{outcome.took_s:.1f}",
    ]


def _as_json(outcome: Outcome) -> dict[str, Any]:
    values = {**asdict(outcome), "folder": str(outcome.folder)}
    if not isinstance(outcome, Planned):
        values["problems"] = [problem.facts() for problem in outcome.problems]
    return {"planned": isinstance(outcome, Planned), **values}
