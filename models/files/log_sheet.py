"""A filled sheet, CSV or workbook: rows of a log, or the visits table with its ticks.

Times are left as they were written: what "03:10" means depends on what it is about.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import datetime, time
from pathlib import Path

from models.errors import Place
from models.files.formats.cell_sheet import CellRow, CellSheet, read_rows
from models.files.formats.csv_file import read_csv
from models.files.formats.xlsx_file import read_xlsx
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry, read_entry
from models.files.reading.row_tables import LOG
from models.files.reading.values import is_blank
from models.records import LogRow
from models.wording import say, tidy

SHEET_NAME = "visits"
_TIMES = ("at", "from", "to")
_DONE: Mapping[str, str] = {
    "yes": "work_done", "x": "work_done", "done": "work_done", "no": "work_failed",
}  # fmt: skip
#: Columns of the visits table that people fill in -> column of a log.
FILLED = {
    "done": "what", "found": "found", "time": "at", "initials": "by",
    "water_used": "litres", "remark": "note",
}  # fmt: skip
_VISIT, _ISSUE = "visit_id", "issue"
_KNOWN = {"visit": _VISIT, "issue": _ISSUE}

LogEntries = tuple[RawEntry[LogRow], ...]


def read_log_row(
    raw: Mapping[str, object], place: Place, problems: ProblemCollector
) -> RawEntry[LogRow]:
    """Read one row that was typed on the command line."""
    return read_entry(LOG, raw, lambda _key: place, LocalTime(), problems)


def read_log_sheet(path: Path, problems: ProblemCollector) -> LogEntries:
    """Read every row of a filled sheet; rows that nobody filled in are left out."""
    is_book = path.suffix.casefold() in {".xlsx", ".xlsm", ".xls", ".ods"}
    sheet = (
        read_xlsx(path, SHEET_NAME, problems) if is_book else read_csv(path, problems)
    )
    if sheet is None:
        return ()
    names = [tidy(str(cell)) for cell in sheet.rows[0].cells] if sheet.rows else []
    if _VISIT in names:
        return tuple(_ticked(sheet, names, problems))
    return read_rows(_times_as_text(sheet, names), LOG, LocalTime(), problems)


def _times_as_text(sheet: CellSheet, names: list[str]) -> CellSheet:
    at = {index for index, name in enumerate(names) if name in _TIMES}
    rows = (
        CellRow(
            row.number,
            tuple(
                as_written(cell) if index in at else cell
                for index, cell in enumerate(row.cells)
            ),
        )
        for row in sheet.rows
    )
    return replace(sheet, rows=tuple(rows))


def as_written(cell: object) -> object:
    """Give a workbook's date or time as somebody would have typed it."""
    if isinstance(cell, datetime):
        return cell.isoformat(" ", "minutes")
    if isinstance(cell, time):
        return cell.isoformat("minutes")
    return cell


def _ticked(
    sheet: CellSheet, names: list[str], problems: ProblemCollector
) -> Iterator[RawEntry[LogRow]]:
    """Read the rows of the visits table in which somebody has written."""
    columns = {_plain(name): index for index, name in enumerate(names)}
    absent = [name for name in FILLED if name not in columns]
    for name in absent:
        problems.add(sheet.place(sheet.rows[0].number), name, "column missing")
    if absent:
        return
    for row in sheet.rows[1:]:
        cells = dict(_cells(row, columns))
        if all(is_blank(cells.get(name)) for name in FILLED):
            continue
        raw: dict[str, object] = {
            FILLED[name]: as_written(cells[name]) for name in FILLED if name in cells
        }
        raw |= {"visit": cells.get(_VISIT), "issue": cells.get(_ISSUE)}
        spots = {FILLED[name]: columns[name] for name in FILLED}
        spots |= {key: columns[key_] for key, key_ in _KNOWN.items() if key_ in columns}
        if tidy(str(raw["issue"])) == "draft":
            hint = "Publish the roster and hand out the sheets of that issue"
            place, wanted = sheet.place(row.number, spots["issue"]), "an issue's number"
            problems.add(place, "issue", say(raw["issue"]), wanted, hint)
            continue
        if not _has_word(raw, sheet.place(row.number, spots["what"]), problems):
            continue
        if unit := _unit(sheet.rows[0], columns["water_used"], raw.get("litres")):
            raw["litres"] = f"{raw['litres']} {unit}"
        yield read_entry(
            LOG, raw, _placing(sheet, row.number, spots), LocalTime(), problems
        )


def _placing(
    sheet: CellSheet, row: int, spots: Mapping[str, int]
) -> Callable[[str], Place]:
    return lambda key: sheet.place(row, spots.get(key, 0))


def _has_word(raw: dict[str, object], place: Place, problems: ProblemCollector) -> bool:
    """Turn the tick into what happened; without one somebody only looked."""
    tick = raw.get("what")
    if is_blank(tick):
        if is_blank(raw.get("found")):
            problems.add(place, "done", "", "yes or no, as the row is filled in")
            return False
        raw["what"] = "found"
        return True
    word = _DONE.get(tidy(str(tick)))
    if word is None:
        problems.add(place, "done", say(tick), "yes, no or x")
        return False
    raw["what"] = word
    if word == "work_failed":
        raw["why"] = raw.pop("note", None)
    return True


def _cells(row: CellRow, columns: Mapping[str, int]) -> Iterable[tuple[str, object]]:
    return (
        (name, row.cells[index])
        for name, index in columns.items()
        if index < len(row.cells)
    )


def _plain(name: str) -> str:
    """Leave the unit out of a header."""
    return name.split("_[")[0]


def _unit(header: CellRow, index: int, value: object) -> str:
    """Give the unit in a header where the value under it has none."""
    text = str(value).strip()
    if (
        is_blank(value)
        or not text[-1:].isdigit()
        or "[" not in str(header.cells[index])
    ):
        return ""
    return str(header.cells[index]).split("[")[1].rstrip("] ")
