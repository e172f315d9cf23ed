"""Where a site's ledger is and what time it is: read here, at the door alone.

A firm that keeps the ledgers of all its sites in PostgreSQL names the database in the
environment, where a password is not in a file of the site.
"""

import os
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from models.errors import InputError, Place, Problem
from models.files.published import read_instant
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ValueRefused
from models.files.site_folder import read_folder
from models.ledger.store import Store
from models.ledger.where import find_ledger, open_ledger
from models.records import SiteInput
from models.wording import say
from scheduler.happened.ledgered import so_far_in
from scheduler.happened.so_far import SoFar
from scheduler.logbook.spoken_time import read_spoken

DATABASE = "KEEPDAMP_LEDGER"
#: Files without which nobody knows what an entry is about.
_NEEDED = ("site.toml", "pours.csv", "pours.xlsx")

Now = Annotated[
    str,
    typer.Option(metavar="TIME", hidden=True, help="Take this for now, in a script."),
]


def database() -> str:
    """Give the connection string of the firm's database; "" where it has none."""
    return os.environ.get(DATABASE, "")


def now_of(words: str, timezone: str) -> datetime:
    """Give the time to write down: the clock's, or the one that a script names."""
    if words:
        return read_instant(words, timezone, "--now")
    return datetime.now(UTC).replace(microsecond=0)


def site_of(folder: Path) -> SiteInput:
    """Read what of a site an entry may be about; its weather may be out of order.

    Raises
    ------
    InputError
        With the problems of its site.toml and its pours.
    """
    files = read_folder(folder)
    found = files.problems.in_order()
    needed = [problem for problem in found if problem.place.file in _NEEDED]
    if needed or files.site_input is None:
        raise InputError(needed or found)
    return files.site_input


def ledger_if_any(folder: Path, site_name: str) -> Store | None:
    """Open a site's ledger; None where nothing has been written yet."""
    return find_ledger(folder, site_name, database())


def ledger(folder: Path, site_name: str) -> Store:
    """Open a site's ledger, or begin one."""
    return open_ledger(folder, site_name, database())


def published_so_far(folder: Path, at_words: str = "") -> SoFar | None:
    """Give what the site's ledger knows; None where nothing was published.

    Parameters
    ----------
    at_words : str
        What starts before has begun, as people say times; "" for as far as anybody
        has written.

    Raises
    ------
    InputError
        If the ledger or the instant cannot be read. What is wrong with the site folder
        is left to whoever plans it.
    """
    known = so_far_in(folder, database())
    if known is None or not at_words:
        return known
    written = (entry.written_at for entry in known.entries)
    near = max([known.published_at or known.at, *written])
    return replace(known, at=spoken_at(at_words, known.issue.timezone, near))


def spoken_at(words: str, timezone: str, near: datetime) -> datetime:
    """Read ``--at`` as people say times, near the last one that the ledger knows of.

    Raises
    ------
    InputError
        With what is expected instead.
    """
    try:
        return read_spoken(words, LocalTime(timezone), near, "near")
    except ValueRefused as no:
        problem = Problem(Place("--at"), "", say(words), no.wanted, no.hint)
        raise InputError([problem]) from None
