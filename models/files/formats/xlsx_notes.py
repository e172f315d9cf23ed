"""What a workbook knows about its cells beyond their values.

The reader of values gives an empty text for a formula that was never calculated, 0.02
for 2 %, and a date for midnight. This looks into the sheet's own XML for the three.
Reads Office Open XML (ECMA-376) as far as that needs.
"""

import io
import re
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

#: Built-in number formats, ECMA-376-1 18.8.30 (from memory): percent; date with time.
_PERCENT_IDS, _DATE_TIME_IDS = frozenset({9, 10}), frozenset({22})
_NOT_CODE = re.compile(r'"[^"]*"|\[(?![hH]+\])[^\]]*\]|\\.')
_CELL = re.compile(r"([A-Z]{1,3})(\d+)")


#: What a damaged or foreign archive makes the standard library raise, tried out by
#: damaging bytes: bad parts and names, newer zip versions, passwords, bad encodings.
UNREADABLE = (
    zipfile.BadZipFile,
    zlib.error,
    ElementTree.ParseError,
    EOFError,
    LookupError,
    OSError,
    RuntimeError,
    StopIteration,
    ValueError,
)


@dataclass(frozen=True)
class CellNotes:
    """Cells by row and column, both from 0, that need more than their value.

    Attributes
    ----------
    uncalculated : frozenset
        Formulas without a result one may trust.
    errors : dict
        Formulas that failed, with their error, such as ``#DIV/0!``.
    percents, timed : frozenset
        Shown as percent; shown with a clock time.
    rows, columns : int
        How far the values reach from the first cell.
    """

    uncalculated: frozenset[tuple[int, int]] = frozenset()
    errors: dict[tuple[int, int], str] | None = None
    percents: frozenset[tuple[int, int]] = frozenset()
    timed: frozenset[tuple[int, int]] = frozenset()
    rows: int = 0
    columns: int = 0


def read_notes(data: bytes, sheet_name: str) -> CellNotes:
    """Read the notes of one sheet; none if the workbook is of another make."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return _read(archive, sheet_name)
    except UNREADABLE:
        return CellNotes()


def _read(archive: zipfile.ZipFile, sheet_name: str) -> CellNotes:
    workbook = ElementTree.fromstring(archive.read("xl/workbook.xml"))
    # A program that writes formulas without working them out asks for it this way.
    stale = any(
        element.get("fullCalcOnLoad") in ("1", "true")
        for element in _each(workbook, "calcPr")
    )
    percent_styles, timed_styles = _styles(archive)
    sheet = ElementTree.fromstring(archive.read(_part(archive, workbook, sheet_name)))
    uncalculated, percents, timed = set(), set(), set()
    errors: dict[tuple[int, int], str] = {}
    rows = columns = 0
    for cell in _each(sheet, "c"):
        at = _row_and_column(cell.get("r", ""))
        if len(cell):
            rows, columns = max(rows, at[0] + 1), max(columns, at[1] + 1)
        values = [element.text or "" for element in _each(cell, "v")]
        value = "".join(values)
        # An empty result of type text is one: formulas give it to look blank.
        done = value or (values and cell.get("t") == "str")
        if any(True for _ in _each(cell, "f")) and (stale or not done):
            uncalculated.add(at)
        elif cell.get("t") == "e":
            errors[at] = value
        style = int(cell.get("s", "0"))
        if style in percent_styles:
            percents.add(at)
        if style in timed_styles:
            timed.add(at)
    return CellNotes(
        frozenset(uncalculated), errors, frozenset(percents), frozenset(timed),
        rows, columns,
    )  # fmt: skip


def _part(
    archive: zipfile.ZipFile, workbook: ElementTree.Element, sheet_name: str
) -> str:
    """Name the part of the archive that holds a sheet."""
    relation = next(
        value
        for sheet in _each(workbook, "sheet")
        if sheet.get("name") == sheet_name
        for key, value in sheet.attrib.items()
        if key.endswith("}id")
    )
    relations = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    target = next(
        element.get("Target", "")
        for element in _each(relations, "Relationship")
        if element.get("Id") == relation
    )
    return target.lstrip("/") if target.startswith("/") else f"xl/{target}"


def _styles(archive: zipfile.ZipFile) -> tuple[frozenset[int], frozenset[int]]:
    """Return the cell styles that show percents and those that show a clock time."""
    if "xl/styles.xml" not in archive.namelist():
        return frozenset(), frozenset()
    styles = ElementTree.fromstring(archive.read("xl/styles.xml"))
    codes = {
        int(element.get("numFmtId", "0")): element.get("formatCode", "")
        for element in _each(styles, "numFmt")
    }
    percent, timed = set(), set()
    cell_formats = next(_each(styles, "cellXfs"), ElementTree.Element("none"))
    for style, element in enumerate(_each(cell_formats, "xf")):
        number_format = int(element.get("numFmtId", "0"))
        code = _NOT_CODE.sub("", codes.get(number_format, "")).lower()
        if number_format in _PERCENT_IDS or "%" in code:
            percent.add(style)
        if number_format in _DATE_TIME_IDS or "h" in code:
            timed.add(style)
    return frozenset(percent), frozenset(timed)


def _each(element: ElementTree.Element, name: str) -> Iterator[ElementTree.Element]:
    """Walk descendants by name, whichever of its two namespaces the file uses."""
    return (e for e in element.iter() if e.tag.rpartition("}")[2] == name)


def _row_and_column(reference: str) -> tuple[int, int]:
    match = _CELL.fullmatch(reference)
    if not match:
        raise ValueError(f"a cell without a usable reference: {reference!r}")
    column = 0
    for letter in match[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(match[2]) - 1, column - 1
