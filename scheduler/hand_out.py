"""A site folder planned and everything of it written: what each way to plan shares."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from exports.out_folder import unwritable, write_out
from exports.sheets.letters import PRINTABLE, PRINTED, without_letters
from models.errors import Problem
from models.files.reading.record_reader import every
from models.files.site_folder import SiteFiles, read_folder
from models.wording import say
from scheduler.clocked import spread
from scheduler.workflow import (
    BY_DEFAULT,
    Listener,
    Plan,
    PlanOptions,
    Prepared,
    prepare,
    solved,
)


@dataclass(frozen=True)
class HandedOut:
    """A planned week and the files that say so."""

    plan: Plan
    out: Path
    written: tuple[Path, ...]


def check(
    folder: Path,
    options: PlanOptions = BY_DEFAULT,
    listener: Listener = lambda _name, _done: None,
) -> Prepared:
    """Do all that a plan does before it searches, so that it refuses the same.

    Parameters are those of :func:`scheduler.workflow.plan`.

    Raises
    ------
    InputError
        With every problem: of the folder, of what its pours ask for, of the published
        roster, and of what could not be printed or written.
    """
    files = read_folder(folder)
    files.problems.keep(*_unprintable(files), *unwritable(folder / "out"))
    return prepare(files, options, listener)


def _unprintable(files: SiteFiles) -> Iterator[Problem]:
    """Refuse names for which the sheets have no letters."""
    printed = [
        (entry, column, entry.text(column.field))
        for entry in every(files.entries)
        for column in entry.table.columns
        if column.field in PRINTED.get(entry.table.record, ())
    ]
    lacking = without_letters(text for _, _, text in printed)
    for entry, column, text in printed:
        if text in lacking:
            field = f"{entry.label}{column.key}"
            hint = f"'{lacking[text]}' cannot be printed"
            place = entry.place(column.key)
            yield Problem(place, field, say(text), PRINTABLE, hint)


def hand_out(
    folder: Path,
    options: PlanOptions = BY_DEFAULT,
    listener: Listener = lambda _name, _done: None,
) -> HandedOut:
    """Plan a site folder's week and write its ``out`` folder, whole or not at all.

    Parameters are those of :func:`scheduler.workflow.plan`, errors those of
    :func:`check` as well.
    """
    made = solved(check(folder, options, listener), options, listener)
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
        spread(clocked),
    )
    return HandedOut(made, out, written)
