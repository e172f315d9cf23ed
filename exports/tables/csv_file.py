"""A table as CSV, RFC 4180, that a spreadsheet opens without running anything.

UTF-8 with a byte order mark: without it common spreadsheet programs read the squares
and degrees of the headers in an old code page.
"""

import csv
from datetime import UTC, datetime
from io import StringIO

from exports.tables.table import Cell, Column, Table
from exports.text import one_line

#: A cell that begins so may be run as a formula (OWASP, "CSV Injection", from memory).
FORMULA_STARTS = ("=", "+", "-", "@")


def csv_file(table: Table) -> bytes:
    """Write a table; instants in ISO 8601, local ones with their offset."""
    text = StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([column.header for column in table.columns])
    for row in table.rows:
        pairs = zip(row, table.columns, strict=True)
        writer.writerow([_text(cell, column) for cell, column in pairs])
    return text.getvalue().encode("utf-8-sig")


def _text(cell: Cell, column: Column) -> str:
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return _instant(cell, column)
    if isinstance(cell, str):
        return harmless(cell)
    return str(cell)


def _instant(at: datetime, column: Column) -> str:
    if column.sort == "utc":
        return f"{at.astimezone(UTC):%Y-%m-%dT%H:%M}Z"
    return at.isoformat(timespec="minutes")


def harmless(text: str) -> str:
    """Put a text on one line, with an apostrophe first if it could be a formula."""
    line = one_line(text)
    return f"'{line}" if line.startswith(FORMULA_STARTS) else line
