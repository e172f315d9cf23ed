"""Text that may travel: no control characters, cut only where a reader would cut."""

import re
import unicodedata
from urllib.parse import quote

_LINE_ENDS = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
_JOINERS = frozenset("\u200c\u200d")  # wanted inside Persian, Devanagari and emoji
_MARKS = frozenset({"Mn", "Mc", "Me"})
_EMOJI_SKINS = frozenset(chr(code) for code in range(0x1F3FB, 0x1F400))


def clean(text: str) -> str:
    r"""Return the text in composed form, with ``\n`` as its only control character.

    Names and notes come from files of other programs. A lone surrogate cannot be
    written as UTF-8 and a NUL stops many a reader, so both go; so do the signs that
    turn the direction of writing, which could make a line read as another.
    """
    lined = _LINE_ENDS.sub("\n", text).replace("\t", " ")
    kept = (
        sign
        for sign in lined
        if sign == "\n"
        or sign in _JOINERS
        or unicodedata.category(sign) not in {"Cc", "Cf", "Cs"}
    )
    return unicodedata.normalize("NFC", "".join(kept))


def one_line(text: str) -> str:
    """Clean a text and put it on one line, single-spaced."""
    return " ".join(clean(text).split())


def visible_signs(text: str) -> list[str]:
    """Split into what a reader counts as one sign each.

    A close reading of Unicode's grapheme clusters, not the whole of its Annex 29:
    marks, joined emoji and skin tones stay with their base; flags count as two.
    """
    signs: list[str] = []
    for sign in text:
        joins = (
            sign in _JOINERS
            or sign in _EMOJI_SKINS
            or unicodedata.category(sign) in _MARKS
        )
        if signs and (joins or signs[-1].endswith("\u200d")):
            signs[-1] += sign
        else:
            signs.append(sign)
    return signs


def shorten(text: str, most: int, ending: str = "") -> str:
    """Cut to at most ``most`` visible signs, an ellipsis where some are missing.

    They are missing before ``ending``, unless it leaves less than half of the room.
    """
    signs, room = visible_signs(text), most - len(visible_signs(ending))
    if len(signs) <= most:
        return text
    if room < most // 2:
        return shorten(text, most)
    return "".join(signs[: room - 1]).rstrip() + "…" + ending


def shorten_label(label: str, part: str, most: int) -> str:
    """Cut a surface's label before its part: top and faces of a pour differ there."""
    return shorten(label, most, f", {part}" if part else "")


def file_name(identity: str) -> str:
    """Turn an id into the stem of a file's name, its own on every system.

    Slashes and letters beyond ASCII become percent codes, so that two ids never share
    a file and none leaves its folder. Spaces stay: their code would be coded once more
    in a web address.
    """
    return quote(identity, safe=" ")
