"""Reads back what a sheet's PDF says: pages, words, letter sizes. No more than that.

Made for the PDFs of one compiler: plain objects, one content stream a page, fonts of
two-byte codes with a ToUnicode map (ISO 32000-1, 9.10.3). A reader of our own, so the
tests ask for no program that a machine may lack.
"""

import re
import zlib
from dataclasses import dataclass

_OBJECT = re.compile(rb"(\d+) 0 obj(.*?)\nendobj", re.S)
_STREAM = re.compile(rb"stream\r?\n(.*)\r?\nendstream", re.S)
_BLOCK = re.compile(rb"BT\b(.*?)\nET", re.S)
_SHOWN = re.compile(rb"/(\w+) ([\d.]+) Tf|(\[.*?\] ?TJ|\(.*?\) ?Tj)", re.S)
_ESCAPE = re.compile(rb"\\([0-7]{1,3}|.)", re.S)
_NAMED = {b"n": 10, b"r": 13, b"t": 9, b"b": 8, b"f": 12}


@dataclass(frozen=True)
class PdfPage:
    """Words in the order of the page's stream, and the sizes of its letters."""

    text: str
    sizes_pt: frozenset[float]
    width_pt: float
    height_pt: float


def read_pdf(data: bytes) -> list[PdfPage]:
    """Every page of a PDF, in order."""
    objects = {int(m[1]): m[2] for m in _OBJECT.finditer(data)}
    (kids,) = re.findall(rb"/Type/Pages/Count \d+/Kids\[([^\]]*)\]", data)
    return [_page(objects, int(n)) for n in re.findall(rb"(\d+) 0 R", kids)]


def title(data: bytes) -> str:
    """The title of the document, as a screen reader says it."""
    (found,) = re.findall(rb"/Title<FEFF([0-9A-F]*)>", data)
    return bytes.fromhex(found.decode()).decode("utf-16-be")


def _page(objects: dict[int, bytes], number: int) -> PdfPage:
    page = objects[number]
    maps = {
        name: _unicode_map(objects, int(font)) for name, font in _fonts(objects, page)
    }
    sizes: set[float] = set()
    text = ""
    stream = _stream(objects[_reference(page, b"Contents")])
    for block in _BLOCK.findall(stream):
        current: dict[int, str] = {}
        for name, size, shown in _SHOWN.findall(block):
            if name:
                current = maps[name]
                sizes.add(round(float(size), 2))
            codes = b"".join(_unescape(part) for part in _strings(shown))
            pairs = (codes[i : i + 2] for i in range(0, len(codes), 2))
            text += "".join(current[int.from_bytes(pair, "big")] for pair in pairs)
    width, height = re.findall(rb"/MediaBox\[0 0 ([\d.]+) ([\d.]+)\]", page)[0]
    return PdfPage(
        " ".join(text.split()), frozenset(sizes), float(width), float(height)
    )


def _fonts(objects: dict[int, bytes], page: bytes) -> list[tuple[bytes, bytes]]:
    resources = objects[_reference(page, b"Resources")]
    (fonts,) = re.findall(rb"/Font<<(.*?)>>", resources)
    return re.findall(rb"/(\w+) (\d+) 0 R", fonts)


def _unicode_map(objects: dict[int, bytes], font: int) -> dict[int, str]:
    cmap = _stream(objects[_reference(objects[font], b"ToUnicode")])
    pairs = re.findall(rb"<([0-9A-F]{4})> <([0-9A-F]+)>\n", cmap)
    return {
        int(code, 16): bytes.fromhex(sign.decode()).decode("utf-16-be")
        for code, sign in pairs
    }


def _reference(of: bytes, key: bytes) -> int:
    return int(re.findall(rb"/" + key + rb" (\d+) 0 R", of)[0])


def _stream(of: bytes) -> bytes:
    found = _STREAM.search(of)
    assert found
    return zlib.decompress(found[1])


def _strings(array: bytes) -> list[bytes]:
    """The strings of an array; brackets in them need no escape while they balance."""
    found: list[bytes] = []
    depth, start, at = 0, 0, 0
    while at < len(array):
        sign = array[at : at + 1]
        if sign == b"\\":
            at += 1
        elif sign == b"(":
            start = start if depth else at + 1
            depth += 1
        elif sign == b")":
            depth -= 1
            if depth == 0:
                found.append(array[start:at])
        at += 1
    return found


def _unescape(text: bytes) -> bytes:
    def plain(match: re.Match[bytes]) -> bytes:
        escaped = match[1]
        if escaped[:1].isdigit():
            return bytes([int(escaped, 8)])
        return bytes([_NAMED.get(escaped, escaped[0])])

    return _ESCAPE.sub(plain, text)
