"""From a shift sheet to a page: one compile a sheet, fonts of our own, PDF/UA-1.

Under PDF/UA-1 the compiler refuses a sign its font lacks; without it an empty box
would be printed and nobody told. Fonts of the machine are left out, so a sheet has
the same bytes on every machine.
"""

from functools import cache
from importlib.resources import files

import typst

from exports.sheets.shift_sheet import ShiftSheet
from models.errors import InputError, Problem


def render(sheet: ShiftSheet) -> bytes:
    """Set a sheet as a tagged PDF; the same sheet gives the same bytes.

    Raises
    ------
    InputError
        If a name holds a sign that the font of the sheets lacks.
    """
    try:
        pdf = typst.compile(
            _template(),
            format="pdf",
            font_paths=_fonts(),
            sys_inputs={"sheet": sheet.model_dump_json()},
            pdf_standards=["ua-1"],
            timestamp=int(sheet.published_at.timestamp()),
        )
    except typst.TypstError as error:
        if "could not be displayed" not in str(error):
            raise  # the template's fault, not the input's
        problem = Problem(
            place=sheet.title,
            field="",
            found=str(error).removeprefix("PDF/UA-1 error: "),
            wanted="names in Latin, Greek, Cyrillic or Devanagari letters",
        )
        raise InputError([problem]) from error
    assert isinstance(pdf, bytes)
    return pdf


def render_png(sheet: ShiftSheet, ppi: float = 100) -> list[bytes]:
    """Draw a sheet as pictures, one a page, for documents and for looking at."""
    pictures = typst.compile(
        _template(),
        format="png",
        ppi=ppi,
        font_paths=_fonts(),
        sys_inputs={"sheet": sheet.model_dump_json()},
    )
    return [pictures] if isinstance(pictures, bytes) else pictures


@cache
def _template() -> bytes:
    return files("exports.sheets").joinpath("shift_sheet.typ").read_bytes()


@cache
def _fonts() -> typst.Fonts:
    folder = str(files("fontpkg_noto_sans").joinpath("files"))
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder]
    )
