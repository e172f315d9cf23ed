"""Where in a TOML text each key and value stands.

The parser of the standard library keeps no positions. This scanner runs after it, over
text known to be valid, so it only has to find its way, not to judge.
"""

import re
import tomllib
from bisect import bisect_right
from typing import NamedTuple

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}\n#]*")


class Position(NamedTuple):
    """Line and column, both from 1."""

    line: int
    column: int


def positions(text: str) -> dict[Path, Position]:
    """Map each path of a valid document to the place of its key or value.

    Parameters
    ----------
    text : str
        A document :mod:`tomllib` has parsed.

    Returns
    -------
    dict
        ``("crew", 1, "shifts", 0)`` to the place of the first shift of the second
        crew. Tables stand at their header, items of arrays at their value.
    """
    scanner = _Scanner(text.replace("\r\n", "\n"))
    scanner.document()
    starts = [0, *(m.end() for m in re.finditer("\n", scanner.text))]

    def position(offset: int) -> Position:
        line = bisect_right(starts, offset)
        return Position(line, offset - starts[line - 1] + 1)

    return {path: position(offset) for path, offset in scanner.found.items()}


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[Path, int] = {}
        self._last: dict[Path, int] = {}  # array of tables -> index of its last one

    def document(self) -> None:
        prefix: Path = ()
        while self._next():
            start = self.at
            if self.text.startswith("[[", self.at):
                self.at += 2
                prefix = self._another(self._key(), start)
                self.at += 2
            elif self.text.startswith("[", self.at):
                self.at += 1
                prefix = self._resolve(self._key(), start)
                self.found[prefix] = start
                self.at += 1
            else:
                self._pair(prefix)

    def _next(self) -> bool:
        self._skip(_BLANK)
        return self.at < len(self.text)

    def _skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        if match:
            self.at = match.end()
        return match[0] if match else ""

    def _another(self, keys: list[str], start: int) -> Path:
        array = (*self._resolve(keys[:-1], start), keys[-1])
        self._last[array] = self._last.get(array, -1) + 1
        self.found.setdefault(array, start)
        path = (*array, self._last[array])
        self.found[path] = start
        return path

    def _resolve(self, keys: list[str], start: int) -> Path:
        """Follow header keys into the last table of each array on the way."""
        path: Path = ()
        for key in keys:
            path = (*path, key)
            self.found.setdefault(path, start)
            if path in self._last:
                path = (*path, self._last[path])
        return path

    def _key(self) -> list[str]:
        keys = []
        while True:
            self._skip(_SPACE)
            start = self.at
            if self.text[self.at] in "\"'":
                self._string()
                quoted = self.text[start : self.at]
                keys.append(next(iter(tomllib.loads(f"{quoted} = 0"))))
            else:
                keys.append(self._skip(_BARE))
            self._skip(_SPACE)
            if self.text[self.at] != ".":
                return keys
            self.at += 1

    def _pair(self, prefix: Path) -> None:
        start, path = self.at, prefix
        for key in self._key():
            path = (*path, key)
            self.found.setdefault(path, start)
        self.at += 1  # the equals sign
        self._skip(_SPACE)
        self._value(path)

    def _value(self, path: Path) -> None:
        match self.text[self.at]:
            case '"' | "'":
                self._string()
            case "[":
                self._array(path)
            case "{":
                self._inline(path)
            case _:
                self._skip(_SCALAR)

    def _array(self, path: Path) -> None:
        self.at += 1
        index = 0
        while self._next() and self.text[self.at] != "]":
            self.found[(*path, index)] = self.at
            self._value((*path, index))
            self._comma()
            index += 1
        self.at += 1

    def _inline(self, path: Path) -> None:
        self.at += 1
        while self._next() and self.text[self.at] != "}":
            self._pair(path)
            self._comma()
        self.at += 1

    def _comma(self) -> None:
        if self._next() and self.text[self.at] == ",":
            self.at += 1

    def _string(self) -> None:
        quote = self.text[self.at]
        escapes = quote == '"'
        fence = quote * 3 if self.text.startswith(quote * 3, self.at) else quote
        self.at += len(fence)
        while not self.text.startswith(fence, self.at):
            self.at += 2 if escapes and self.text[self.at] == "\\" else 1
        self.at += len(fence)
        # A multi-line string may end in one or two quotes of its own.
        while len(fence) == 3 and self.text.startswith(quote, self.at):
            self.at += 1
