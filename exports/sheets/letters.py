"""Which names a shift sheet can print: those whose every sign its font has.

Under PDF/UA-1 the compiler refuses any other; without it an empty box would be printed
and nobody told. So names are tried before anything is planned.
"""

import json
from collections.abc import Iterable, Mapping

import typst

from exports.sheets.fonts import fonts
from exports.text import one_line, visible_signs
from models.records import Crew, Party, Pour, Site, WaterPoint, Zone
from models.records.base import Record

#: What people write that stands on a sheet.
PRINTED: Mapping[type[Record], tuple[str, ...]] = {
    Site: ("name",),
    Zone: ("name", "level", "grid"),
    Crew: ("name", "lead", "phone"),
    Party: ("name", "lead", "phone"),
    WaterPoint: ("name",),
    Pour: ("id",),
}
PRINTABLE = "letters that shift sheets print: Latin, Greek, Cyrillic or Devanagari"
_TRIAL = b"""
#set document(title: "letters")
#set text(font: "Noto Sans")
#for line in json(bytes(sys.inputs.lines)) [#par(line)]
"""


def without_letters(texts: Iterable[str]) -> dict[str, str]:
    """Give each text that cannot be printed, with the first sign that is at fault."""
    return {text: _sign(text) for text in _failing(sorted(set(texts)))}


def _failing(texts: list[str]) -> list[str]:
    """Halve the texts until those at fault are alone: most sites have none."""
    if _prints(texts):
        return []
    if len(texts) == 1:
        return texts
    half = len(texts) // 2
    return [*_failing(texts[:half]), *_failing(texts[half:])]


def _sign(text: str) -> str:
    signs = visible_signs(one_line(text))
    return next((sign for sign in signs if not _prints([sign])), one_line(text))


def _prints(texts: list[str]) -> bool:
    lines = json.dumps([one_line(text) for text in texts])
    try:
        typst.compile(
            _TRIAL,
            format="pdf",
            font_paths=fonts(),
            sys_inputs={"lines": lines},
            pdf_standards=["ua-1"],
        )
    except typst.TypstError:
        return False
    return True
