"""A sheet of cells, from CSV or a workbook, read row by row into records."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from models.files.reading.columns import R, Table
from models.files.reading.gather import Gatherer, Place
from models.files.reading.local_time import LocalTime
from models.files.reading.record_reader import Entry, read_entry
from models.files.reading.values import is_blank
from models.files.reading.words import did_you_mean, nearest, one_of, say, tidy


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
    sheet: CellSheet, table: Table[R], local: LocalTime, gather: Gatherer
) -> tuple[Entry[R], ...]:
    """Read every row under the header, keeping every problem."""
    if not sheet.rows:
        wanted = f"a row of column names: {', '.join(table.keys)}"
        gather.add(Place(sheet.file), "", "an empty table", wanted)
        return ()
    header = sheet.rows[0]
    columns, meant = _columns(sheet, header, table, gather)
    absent = frozenset(
        c.key for c in table.readings if c.required and c.key not in columns
    )
    for key in (k for k in table.keys if k in absent and k not in meant):
        gather.add(sheet.place(header.number), key, "no such column", f"a column {key}")
    entries = []
    for row in sheet.rows[1:]:
        raw = {
            key: row.cells[index]
            for key, index in columns.items()
            if index < len(row.cells)
        }
        place = _placing(sheet, row.number, columns)
        if _overflows(sheet, row, header, gather):
            # The cells have slipped; whatever is said about them would mislead.
            continue
        entries.append(read_entry(table, raw, place, local, gather, absent=absent))
    return tuple(entries)


def _placing(
    sheet: CellSheet, row: int, columns: dict[str, int]
) -> Callable[[str], Place]:
    return lambda key: sheet.place(row, columns.get(key, 0))


def _columns(
    sheet: CellSheet, header: CellRow, table: Table[R], gather: Gatherer
) -> tuple[dict[str, int], set[str]]:
    """Map each known column name to its place; keep unknown and repeated ones.

    The second part are the names that unknown ones seem to mean, so that those are not
    missed as well.
    """
    columns: dict[str, int] = {}
    meant = set()
    for index, cell in enumerate(header.cells):
        if is_blank(cell):
            continue
        name = tidy(str(cell))
        where = sheet.place(header.number, index)
        if name not in table.keys:
            gather.add(
                where, str(cell).strip()[:60], "an unknown column",
                one_of(table.keys), did_you_mean(name, table.keys),
            )  # fmt: skip
            meant.add(nearest(name, table.keys))
        elif name in columns:
            gather.add(where, name, "the column again", "each column once")
        else:
            columns[name] = index
    return columns, meant


def _overflows(
    sheet: CellSheet, row: CellRow, header: CellRow, gather: Gatherer
) -> bool:
    """Say whether a row has values outside the named columns, as slipped rows have."""
    if not sheet.sheet and len(row.cells) > len(header.cells):
        gather.add(
            sheet.place(row.number), "", f"{len(row.cells)} values",
            f"at most {len(header.cells)}, as many as the header",
            "a comma inside a value? Put the value in quotes",
        )  # fmt: skip
        return True
    for index, cell in enumerate(row.cells):
        unnamed = index >= len(header.cells) or is_blank(header.cells[index])
        if unnamed and not is_blank(cell):
            gather.add(
                sheet.place(row.number, index), "", f"{say(cell)} under no column name",
                "values under the names of the header",
            )  # fmt: skip
            return True
    return False


def drop_blank(sheet: CellSheet) -> CellSheet:
    """Leave out rows without any value."""
    rows = (row for row in sheet.rows if not all(map(is_blank, row.cells)))
    return replace(sheet, rows=tuple(rows))
