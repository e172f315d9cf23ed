"""The fonts of the sheets: our own alone, so that a sheet is the same everywhere."""

from functools import cache
from importlib.resources import files

import typst


@cache
def fonts() -> typst.Fonts:
    """Give Noto Sans; fonts of the machine are left out."""
    folder = str(files("fontpkg_noto_sans").joinpath("files"))
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[folder]
    )
