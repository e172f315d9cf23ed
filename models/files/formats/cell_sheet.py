"""A sheet of cells, from CSV or a workbook, read row by row into records."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from models.errors import Place
from models.files.reading.columns import R, Table
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry, read_entry
from models.files.reading.values import is_blank
from models.wording import did_you_mean, nearest, one_of, say, tidy


@dataclass(frozen=True)
class CellRow:
    """A row that is not blank, with its number in the file."""

    number: int
    cells: tuple[object, ...]


@dataclass(frozen=True)
class CellSheet:
    """Rows of a file, the header first.

    ``sheet`` is the name of a workbook's sheet; "" for a text file, whose ``comments``
    are its lines before the header that begin with ``#``.
    """

    file: str
    rows: tuple[CellRow, ...]
    sheet: str = ""
    comments: tuple[str, ...] = ()

    def place(self, row: int, column: int = 0) -> Place:
        """Return the place of a cell; columns count from 0."""
        cell = f"{self.sheet}!{column_letters(column)}{row}" if self.sheet else ""
        return Place(self.file, row, column + 1, cell)


def column_letters(column: int) -> str:
    """Name a column as spreadsheets do: 0 is A, 26 is AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def read_rows(
    sheet: CellSheet, table: Table[R], local: LocalTime, problems: ProblemCollector
) -> tuple[RawEntry[R], ...]:
    """Read every row under the header, keeping every problem."""
    if not sheet.rows:
        hint = f"The first row holds the column names: {', '.join(table.keys)}"
        problems.add(Place(sheet.file), "", "empty table", hint=hint)
        return ()
    header = sheet.rows[0]
    columns, meant = _columns(sheet, header, table, problems)
    absent = frozenset(
        c.key for c in table.readings if c.required and c.key not in columns
    )
    for key in (k for k in table.keys if k in absent and k not in meant):
        problems.add(sheet.place(header.number), key, "column missing")
    entries = []
    for row in sheet.rows[1:]:
        raw = {
            key: row.cells[index]
            for key, index in columns.items()
            if index < len(row.cells)
        }
        place = _placing(sheet, row.number, columns)
        if _overflows(sheet, row, header, problems):
            # The cells have slipped; whatever is said about them would mislead.
            continue
        entries.append(read_entry(table, raw, place, local, problems, absent=absent))
    return tuple(entries)


def _placing(
    sheet: CellSheet, row: int, columns: dict[str, int]
) -> Callable[[str], Place]:
    return lambda key: sheet.place(row, columns.get(key, 0))


def _columns(
    sheet: CellSheet, header: CellRow, table: Table[R], problems: ProblemCollector
) -> tuple[dict[str, int], set[str]]:
    """Map each known column name to its position; refuse unknown and repeated ones.

    The second part are the columns that misspelt ones seem to mean: their absence needs
    no word of its own.
    """
    columns: dict[str, int] = {}
    meant = set()
    for index, cell in enumerate(header.cells):
        if is_blank(cell):
            continue
        name = tidy(str(cell))
        where = sheet.place(header.number, index)
        if name not in table.keys:
            hint = did_you_mean(name, table.keys) or f"Columns: {one_of(table.keys)}"
            problems.add(where, str(cell).strip()[:60], "unknown column", hint=hint)
            meant.add(nearest(name, table.keys))
        elif name in columns:
            problems.add(where, name, "duplicate column")
        else:
            columns[name] = index
    return columns, meant


def _overflows(
    sheet: CellSheet, row: CellRow, header: CellRow, problems: ProblemCollector
) -> bool:
    """Say whether a row has values outside the named columns, as slipped rows have."""
    if not sheet.sheet and len(row.cells) > len(header.cells):
        problems.add(
            sheet.place(row.number), "", f"{len(row.cells)} values",
            f"at most {len(header.cells)}, one for each column name",
            "A comma inside a value? Put the value in quotes",
        )  # fmt: skip
        return True
    for index, cell in enumerate(row.cells):
        unnamed = index >= len(header.cells) or is_blank(header.cells[index])
        if unnamed and not is_blank(cell):
            problems.add(
                sheet.place(row.number, index), "",
                f"{say(cell)} in a column without a name",
            )  # fmt: skip
            return True
    return False


def drop_blank(sheet: CellSheet) -> CellSheet:
    """Leave out rows without any value."""
    rows = (row for row in sheet.rows if not all(map(is_blank, row.cells)))
    return replace(sheet, rows=tuple(rows))
