"""A site folder planned and everything of it written: what each way to plan shares."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from exports.handed import Handed
from exports.out_folder import unwritable, write_out
from exports.sheets.letters import PRINTABLE, PRINTED, without_letters
from models.errors import Problem
from models.files.digest import input_digest
from models.files.reading.record_reader import every
from models.files.site_folder import SiteFiles, read_folder
from models.records import Draft
from models.wording import say
from scheduler.clocked import spread
from scheduler.happened.so_far import SoFar
from scheduler.workflow import (
    BY_DEFAULT,
    Listener,
    Plan,
    PlanOptions,
    Prepared,
    prepare,
    solved,
)

#: Beside a roster that is not published yet: what it was planned from.
DRAFT_NAME = "draft.json"


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
    so_far: SoFar | None = None,
) -> Prepared:
    """Do all that a plan does before it searches, so that it refuses the same.

    Parameters are those of :func:`hand_out`.

    Raises
    ------
    InputError
        With every problem: of the folder, of what its pours ask for, of the published
        roster, and of what could not be printed or written.
    """
    files = read_folder(folder)
    files.problems.keep(*_unprintable(files), *unwritable(folder / "out"))
    return prepare(files, options, listener, so_far)


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
    so_far: SoFar | None = None,
) -> HandedOut:
    """Plan a site folder's week and write its ``out`` folder, whole or not at all.

    It is a draft until it is published. Parameters are those of
    :func:`scheduler.workflow.plan`, errors those of :func:`check` as well.

    Parameters
    ----------
    so_far : SoFar or None
        What has happened of the newest issue, where the site has published one.
    """
    digest = input_digest(folder) if folder.is_dir() else ""
    made = solved(check(folder, options, listener, so_far), options, listener)
    listener("Writing calendars, sheets, board and tables", 0)
    draft = Draft(input_digest=digest)
    if so_far is not None:
        draft = Draft(
            input_digest=digest,
            since_issue=so_far.issue_number,
            entries_up_to=so_far.entries_up_to,
            from_at=so_far.at,
        )
    text = draft.model_dump_json(indent=1)
    return write(folder, made, beside={DRAFT_NAME: text.encode()})


def write(
    folder: Path,
    made: Plan,
    handed: Handed | None = None,
    beside: Mapping[str, bytes] | None = None,
    ready: Callable[[], None] = lambda: None,
) -> HandedOut:
    """Write all that is handed out of a planned week, see :func:`write_out`."""
    out, clocked = folder / "out", made.clocked
    written = write_out(
        out,
        clocked.site_input,
        (clocked.hydration, clocked.drying),
        made.roster,
        made.report,
        made.warnings,
        spread(clocked),
        handed,
        beside,
        ready,
    )
    return HandedOut(made, out, written)
