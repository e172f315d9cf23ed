"""A workbook's sheet as a sheet of cells, with the names its cells have there."""

import io
import zipfile
from datetime import date, datetime, time, timedelta
from pathlib import Path

from python_calamine import CalamineError, CalamineSheet, CalamineWorkbook

from models.errors import Place
from models.files.formats.cell_sheet import CellRow, CellSheet, drop_blank
from models.files.formats.open_file import read_bytes
from models.files.formats.xlsx_notes import UNREADABLE, CellNotes, read_notes
from models.files.reading.problems import ProblemCollector
from models.files.reading.values import BadCell

#: A workbook is a zip archive; this is what it may unfold to.
LARGEST_UNPACKED_MB = 60
#: Cells are held in full from the first to the last, blank ones too.
MOST_CELLS = 1_000_000
_MB = 1_000_000
_UNCALCULATED = BadCell(
    "an empty cell (a formula that was never calculated?)",
    "Open the workbook, let it calculate, save",
)


def read_xlsx(
    path: Path, sheet_name: str, problems: ProblemCollector
) -> CellSheet | None:
    """Read the named sheet, or the first; None, with the problem kept, if it fails."""
    data = read_bytes(path, problems)
    if data is None:
        return None
    if _unpacked_mb(data) > LARGEST_UNPACKED_MB:
        problems.add(
            Place(path.name), "",
            f"a workbook larger than {LARGEST_UNPACKED_MB} MB when unpacked",
        )  # fmt: skip
        return None
    try:
        workbook = CalamineWorkbook.from_filelike(io.BytesIO(data))
        names = workbook.sheet_names
        name = sheet_name if sheet_name in names else names[0]
        notes = read_notes(data, name)
        if notes.rows * notes.columns > MOST_CELLS:
            problems.add(
                Place(path.name), "", f"{notes.rows} rows by {notes.columns} columns",
                f"at most {MOST_CELLS} cells",
                "Is there a stray value far below or beside the table?",
            )  # fmt: skip
            return None
        sheet = workbook.get_sheet_by_name(name)
    except (CalamineError, IndexError, OSError, ValueError):
        problems.add(
            Place(path.name), "", "not a readable workbook",
            hint="Open it in a spreadsheet program and save it as .xlsx, without a "
            "password",
        )  # fmt: skip
        return None
    return drop_blank(CellSheet(path.name, _rows(sheet, notes), sheet=name))


def _unpacked_mb(data: bytes) -> float:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return sum(entry.file_size for entry in archive.infolist()) / _MB
    except UNREADABLE:
        return 0.0  # the reader of workbooks will say so in its own way


def _rows(sheet: CalamineSheet, notes: CellNotes) -> tuple[CellRow, ...]:
    # Leading blank rows and columns must be kept, or every cell name is wrong.
    values = sheet.to_python(skip_empty_area=False)
    return tuple(
        CellRow(
            row + 1,
            tuple(_cell(value, (row, col), notes) for col, value in enumerate(cells)),
        )
        for row, cells in enumerate(values)
    )


def _cell(value: object, at: tuple[int, int], notes: CellNotes) -> object:
    if at in notes.uncalculated:
        return _UNCALCULATED
    if notes.errors and at in notes.errors:
        return BadCell(f"the error {notes.errors[at]}", "Mend the formula in the cell")
    if at in notes.percents and isinstance(value, int | float):
        return f"{round(value * 100, 10):g} %"
    if isinstance(value, datetime):
        # Workbooks count in parts of a day, which do not meet the minute exactly.
        return _to_second(value)
    if isinstance(value, date) and at in notes.timed:
        return datetime.combine(value, time())
    return value


def _to_second(moment: datetime) -> datetime:
    return (moment + timedelta(milliseconds=500)).replace(microsecond=0)
