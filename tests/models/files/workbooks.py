"""Small workbooks: sheets of rows; a text that begins with "=" becomes a formula."""

import io
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime

import xlsxwriter

Rows = Sequence[Sequence[object]]

HEADER = (
    "pour", "zone", "element", "placing_start", "placing_end", "area", "thickness",
    "mix", "method", "slope",
)  # fmt: skip


def pour_row(pour: object = "P1", **cells: object) -> list[object]:
    """A sound row under HEADER, with some cells changed."""
    row: dict[str, object] = {
        "pour": pour, "zone": "A", "element": "deck",
        "placing_start": datetime(2027, 5, 3, 7, 10),  # noqa: DTZ001 - workbooks have no zone
        "placing_end": datetime(2027, 5, 3, 11, 50),  # noqa: DTZ001
        "area": 300, "thickness": 250, "mix": "C30", "method": "burlap_double",
        "slope": 1.5,
    }  # fmt: skip
    return list((row | cells).values())


def workbook(
    sheets: Mapping[str, Rows], corner: tuple[int, int] = (0, 0), result: object = ""
) -> bytes:
    """Write the sheets, each with its first cell at a row and column from 0.

    Formulas carry ``result`` as their cached value. Floats below 1 are shown as
    percent, which is what people do to a slope.
    """
    data = io.BytesIO()
    book = xlsxwriter.Workbook(data, {"in_memory": True})
    timed = book.add_format({"num_format": "yyyy-mm-dd hh:mm"})
    dated = book.add_format({"num_format": "yyyy-mm-dd"})
    percent = book.add_format({"num_format": "0.0 %"})
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        for down, row in enumerate(rows, start=corner[0]):
            for across, value in enumerate(row, start=corner[1]):
                match value:
                    case datetime():
                        sheet.write_datetime(down, across, value, timed)
                    case date():
                        sheet.write_datetime(down, across, value, dated)
                    case str() if value.startswith("="):
                        sheet.write_formula(down, across, value, None, result)
                    case float() if value < 1:
                        sheet.write_number(down, across, value, percent)
                    case _:
                        sheet.write(down, across, value)
    book.close()
    return data.getvalue()


def edited(data: bytes, part: str, old: str, new: str) -> bytes:
    """Replace text in one part of a workbook, which must be there."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(out, "w") as to:
        for entry in source.infolist():
            content = source.read(entry)
            if entry.filename == part:
                assert old.encode() in content, content
                content = content.replace(old.encode(), new.encode())
            to.writestr(entry, content)
    return out.getvalue()
