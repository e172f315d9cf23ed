"""From site folders to outcomes: each planned and written as if it were alone."""

from collections.abc import Generator, Iterable
from contextlib import closing
from dataclasses import replace
from functools import partial
from pathlib import Path
from time import perf_counter
from traceback import format_exc

from exports.breaches import surfaces_outside
from models.errors import InputError, KeepdampError
from scheduler.fleet.mapper import Mapper
from scheduler.fleet.outcome import Outcome, Planned, Unplanned
from scheduler.hand_out import hand_out
from scheduler.happened.ledgered import so_far_in
from scheduler.workflow import BY_DEFAULT, PlanOptions


def plan_sites(
    folders: Iterable[Path], mapper: Mapper, options: PlanOptions = BY_DEFAULT
) -> Generator[Outcome, None, None]:
    """Plan every folder once, however often it is named; outcomes as they arrive."""
    # Two workers at one out folder would get into each other's way. Whole paths,
    # since a worker may sit in another directory.
    named: dict[Path, Path] = {}
    for folder in folders:
        named.setdefault(folder.resolve(), folder)
    planner = partial(plan_site, options=replace(options, single_process=True))
    with closing(mapper.map(planner, list(named))) as arriving:
        for outcome in arriving:
            yield replace(outcome, folder=named[outcome.folder])


def plan_site(folder: Path, options: PlanOptions) -> Outcome:
    """Plan a site and write its out folder; a failure is an outcome, not an error.

    A bug that one site meets is no reason to leave the others without a plan, so any
    error ends here and is told with its traceback.
    """
    started = perf_counter()
    try:
        so_far = so_far_in(folder, options.database)
        made = hand_out(folder, options, so_far=so_far).plan
    except InputError as error:
        return Unplanned(folder, error.exit_code, problems=error.problems)
    except KeepdampError as error:
        return Unplanned(folder, error.exit_code, fault=str(error))
    except Exception:
        return Unplanned(folder, 1, fault=format_exc())
    return Planned(
        folder=folder,
        site=made.roster.site_name,
        surfaces=len(made.roster.surfaces),
        visits=len(made.roster.visits),
        breached=surfaces_outside(made.report.findings),
        gaps=len(made.report.gaps),
        dry_min=made.report.dry_min,
        cost=made.roster.cost,
        took_s=perf_counter() - started,
    )
