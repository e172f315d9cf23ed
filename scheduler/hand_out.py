"""A site folder planned and everything of it written: what each way to plan shares."""

from dataclasses import dataclass
from pathlib import Path

from exports.out_folder import write_out
from scheduler.workflow import (
    BY_DEFAULT,
    Listener,
    Plan,
    PlanOptions,
    forecast_spread,
    plan,
)


@dataclass(frozen=True)
class HandedOut:
    """A planned week and the files that say so."""

    plan: Plan
    out: Path
    written: tuple[Path, ...]


def hand_out(
    folder: Path,
    options: PlanOptions = BY_DEFAULT,
    listener: Listener = lambda _name, _done: None,
) -> HandedOut:
    """Plan a site folder's week and write its ``out`` folder, whole or not at all.

    Parameters and errors are those of :func:`scheduler.workflow.plan`.
    """
    made = plan(folder, options, listener)
    listener("Writing calendars, sheets, board and tables", 0)
    out = folder / "out"
    clocked = made.clocked
    written = write_out(
        out,
        clocked.site_input,
        (clocked.hydration, clocked.drying),
        made.roster,
        made.report,
        made.warnings,
        forecast_spread(clocked),
    )
    return HandedOut(made, out, written)
