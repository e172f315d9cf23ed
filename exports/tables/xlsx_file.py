"""Tables as one workbook, a sheet each; the same tables give the same bytes.

Texts are written as texts, whatever they begin with: no formula, no link, no number
is made of them. Local times stand as the wall clock shows them, with the offset beside
them, because a workbook knows no zones.
"""

from collections.abc import Sequence
from datetime import UTC, datetime
from io import BytesIO

import xlsxwriter

from exports.tables.table import Cell, Column, Table
from exports.text import one_line, shorten

_OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_numbers": False,
    "strings_to_urls": False,
}
_DATE_FORMAT = "ddd yyyy-mm-dd hh:mm"
_MOST_SIGNS = 32_000  # a cell takes 32 767 UTF-16 units
_WIDEST = 60


def xlsx_file(
    about: Sequence[tuple[str, str]], tables: Sequence[Table], made_at: datetime
) -> bytes:
    """Write a workbook.

    Parameters
    ----------
    about : sequence of (str, str)
        Names and texts of the first sheet.
    tables : sequence of Table
        A sheet each, in this order.
    made_at : datetime
        What the file says of its making; the same for the same roster.
    """
    buffer = BytesIO()
    with xlsxwriter.Workbook(buffer, _OPTIONS) as book:
        stamp = made_at.astimezone(UTC).replace(tzinfo=None)
        book.set_properties({"created": stamp})
        bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
        dates = book.add_format({"num_format": _DATE_FORMAT, "align": "left"})
        _about(book.add_worksheet("about"), about, bold)
        for table in tables:
            _sheet(book.add_worksheet(table.name), table, bold, dates)
    return buffer.getvalue()


def _about(
    sheet: xlsxwriter.worksheet.Worksheet,
    about: Sequence[tuple[str, str]],
    bold: xlsxwriter.format.Format,
) -> None:
    sheet.set_column(0, 0, 16)
    sheet.set_column(1, 1, 2 * _WIDEST)
    for row, (name, text) in enumerate(about):
        sheet.write_string(row, 0, name, bold)
        sheet.write_string(row, 1, one_line(text))


def _sheet(
    sheet: xlsxwriter.worksheet.Worksheet,
    table: Table,
    bold: xlsxwriter.format.Format,
    dates: xlsxwriter.format.Format,
) -> None:
    sheet.freeze_panes(1, 0)
    sheet.autofilter(0, 0, len(table.rows), len(table.columns) - 1)
    for index, column in enumerate(table.columns):
        sheet.write_string(0, index, column.header, bold)
        cells = [row[index] for row in table.rows]
        sheet.set_column(index, index, _width(column, cells))
        for row, cell in enumerate(cells, start=1):
            _write(sheet, row, index, cell, column, dates)
        if column.choices and cells:
            listed = {"validate": "list", "source": list(column.choices)}
            sheet.data_validation(1, index, len(cells), index, listed)


def _write(
    sheet: xlsxwriter.worksheet.Worksheet,
    row: int,
    index: int,
    cell: Cell,
    column: Column,
    dates: xlsxwriter.format.Format,
) -> None:
    if isinstance(cell, datetime):
        shown = cell.astimezone(UTC) if column.sort == "utc" else cell
        sheet.write_datetime(row, index, shown.replace(tzinfo=None), dates)
    elif isinstance(cell, str):
        sheet.write_string(row, index, shorten(one_line(cell), _MOST_SIGNS))
    elif cell is not None:
        sheet.write_number(row, index, cell)


def _width(column: Column, cells: Sequence[Cell]) -> int:
    if column.sort in {"local", "utc"}:
        return 21
    longest = max((len(str(cell)) for cell in cells if cell is not None), default=0)
    return min(_WIDEST, max(longest, len(column.header)) + 2)
