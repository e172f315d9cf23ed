"""Everything that is handed out, written as one folder or not at all."""

from collections.abc import Callable, Iterator, Mapping
from errno import ENOTDIR
from os import W_OK, access
from pathlib import Path

from exports.board.board import page, render
from exports.calendar.feeds import calendars
from exports.clocks.page import clock_page
from exports.entries import entries
from exports.handed import Handed, draft
from exports.in_place import beside, put_in_place
from exports.sheets.shift_sheets import shift_sheet_files
from exports.tables.tables import table_files
from models.errors import InputError, Place, Problem
from models.records import (
    AuditReport,
    DryingHistory,
    Finding,
    HydrationHistory,
    Roster,
    SiteInput,
    Spread,
)


def write_out(
    folder: Path,
    site_input: SiteInput,
    clocks: tuple[HydrationHistory, DryingHistory],
    roster: Roster,
    report: AuditReport,
    warnings: tuple[Finding, ...],
    spread: Spread | None = None,
    handed: Handed | None = None,
    beside: Mapping[str, bytes] | None = None,
    ready: Callable[[], None] = lambda: None,
) -> tuple[Path, ...]:
    """Write roster, audit, calendars, shift sheets, board, clocks and tables.

    All of it is made beside the folder and put in its place at the end, so that a
    fault on the way leaves the earlier output as it was.

    Parameters
    ----------
    folder : Path
        The output folder; an earlier one is replaced whole.
    site_input, clocks, roster, report, warnings
        What is written; the clocks are that of hydration and that of drying.
    spread : Spread or None
        Early and late drying clocks, drawn on the page of the clocks.
    handed : Handed or None
        Which issue it is; None for a draft.
    beside : mapping or None
        More files, by name.
    ready : callable
        Called when all is on the disk and only has to be put in its place; what it
        raises leaves the earlier output there.

    Returns
    -------
    tuple of Path
        The files, sorted.

    Raises
    ------
    InputError
        If the disk does not take it.
    """
    made = _contents(
        site_input,
        clocks,
        roster,
        report,
        warnings,
        spread or Spread(),
        handed or draft(roster),
    )
    made |= beside or {}
    try:
        _write(folder, made, ready)
    except OSError as error:
        found = error.strerror or str(error)
        problem = Problem(Place(str(folder)), "", f"cannot be written: {found.lower()}")
        raise InputError([problem]) from error
    return tuple(sorted(folder / name for name in made))


def unwritable(folder: Path) -> Iterator[Problem]:
    """Refuse an output folder that can be seen not to take files."""
    if folder.exists() and not folder.is_dir():
        found = "a file where the output folder goes"
        yield Problem(Place(str(folder)), "", found, hint="Move or delete it")
    elif folder.parent.is_dir() and not access(folder.parent, W_OK):
        yield Problem(Place(str(folder.parent)), "", "folder cannot be written to")


def _write(folder: Path, made: Mapping[str, bytes], ready: Callable[[], None]) -> None:
    if folder.exists() and not folder.is_dir():
        raise NotADirectoryError(ENOTDIR, "a file of that name")
    with beside(folder) as fresh:
        for name, content in made.items():
            path = fresh / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        ready()
        put_in_place(fresh, folder)


def _contents(
    site_input: SiteInput,
    clocks: tuple[HydrationHistory, DryingHistory],
    roster: Roster,
    report: AuditReport,
    warnings: tuple[Finding, ...],
    spread: Spread,
    handed: Handed,
) -> dict[str, bytes]:
    site, weather = site_input.site, site_input.weather
    words = entries(site, roster, report)
    feeds = calendars(site, roster, report, words, handed)
    sheets = shift_sheet_files(site, roster, report, words, weather, handed)
    charts = clock_page(site, roster, report, weather, *clocks, handed, spread=spread)
    board = render(page(site, roster, report, warnings, handed))
    return {
        "audit.json": report.model_dump_json(indent=1).encode(),
        "board.html": board.encode(),
        "clocks.html": charts.encode(),
        **{f"calendars/{name}": content for name, content in feeds.items()},
        **{f"sheets/{name}": content for name, content in sheets.items()},
        **table_files(site, roster, report, handed),
    }
