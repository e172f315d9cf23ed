"""From a shift sheet to a page: one compile a sheet, fonts of our own, PDF/UA-1."""

from functools import cache
from importlib.resources import files

import typst

from exports.sheets.fonts import fonts
from exports.sheets.shift_sheet import ShiftSheet


def render(sheet: ShiftSheet) -> bytes:
    """Set a sheet as a tagged PDF; the same sheet gives the same bytes.

    Names that its font cannot print are refused before: see ``letters.py``.
    """
    pdf = typst.compile(
        _template(),
        format="pdf",
        font_paths=fonts(),
        sys_inputs={"sheet": sheet.model_dump_json()},
        pdf_standards=["ua-1"],
        timestamp=int(sheet.published_at.timestamp()),
    )
    assert isinstance(pdf, bytes)
    return pdf


@cache
def _template() -> bytes:
    return files("exports.sheets").joinpath("shift_sheet.typ").read_bytes()
