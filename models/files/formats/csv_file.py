"""A CSV file as a sheet of cells: UTF-8, comma, semicolon or tab between values."""

import csv
import io
from pathlib import Path

from models.errors import Place
from models.files.formats.cell_sheet import CellRow, CellSheet, drop_blank
from models.files.formats.open_file import read_text
from models.files.reading.problems import ProblemCollector

_DELIMITERS = (",", ";", "\t")


def read_csv(path: Path, problems: ProblemCollector) -> CellSheet | None:
    """Read all rows; None, with the problem kept, if that fails."""
    text = read_text(path, problems)
    if text is None:
        return None
    lines = list(io.StringIO(text, newline=""))
    skipped = next(
        (n for n, line in enumerate(lines) if not line.startswith("#")), len(lines)
    )
    header = lines[skipped] if skipped < len(lines) else ""
    rows: list[CellRow] = []
    reader = csv.reader(lines[skipped:], delimiter=_delimiter(header), strict=True)
    begins = skipped + 1
    try:
        for cells in reader:
            rows.append(CellRow(begins, tuple(cells)))
            begins = skipped + reader.line_num + 1
    except csv.Error:
        problems.add(
            Place(path.name, begins), "", "a row that cannot be split into cells",
            hint="Is a quote never closed, or is there one inside a value?",
        )  # fmt: skip
        return None
    comments = tuple(line.lstrip("#").strip() for line in lines[:skipped])
    return drop_blank(CellSheet(path.name, tuple(rows), comments=comments))


def _delimiter(header: str) -> str:
    """Take the one that stands most often in the header, which has no free text."""
    return max(_DELIMITERS, key=header.count)
