"""A TOML file with places: values as parsed, and where each of them stands."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath

from models.errors import Place
from models.files.formats.open_file import read_text
from models.files.formats.toml_positions import Path, Position, positions
from models.files.reading.problems import ProblemCollector

_AT_LINE = re.compile(r"\(at line (\d+), column (\d+)\)")


@dataclass(frozen=True)
class TomlFile:
    """A parsed document that can say where each value stands."""

    name: str
    document: Mapping[str, object]
    _positions: Mapping[Path, Position]

    def place(self, *path: str | int) -> Place:
        """Return the place of a path, or of the nearest thing around it."""
        if path and path[-1] == "":  # the table itself is meant
            path = path[:-1]
        while path and path not in self._positions:
            path = path[:-1]
        at = self._positions.get(path, Position(0, 0))
        return Place(self.name, at.line, at.column)


def read_toml(path: FilePath, problems: ProblemCollector) -> TomlFile | None:
    """Read and parse; None, with the problem kept, if that fails."""
    text = read_text(path, problems)
    if text is None:
        return None
    try:
        document = tomllib.loads(text)
        return TomlFile(path.name, document, positions(text))
    except RecursionError:
        problems.add(Place(path.name), "", "nested too deeply")
    except ValueError as error:
        _refuse_syntax(path.name, text, str(error), problems)
    return None


def _refuse_syntax(
    name: str, text: str, message: str, problems: ProblemCollector
) -> None:
    lines = text.replace("\r\n", "\n").split("\n")
    match = _AT_LINE.search(message)
    line, column = (int(match[1]), int(match[2])) if match else (len(lines), 1)
    written = lines[line - 1].strip() if line <= len(lines) else ""
    found = repr(written[:60]) if written else "an unfinished line"
    problems.add(
        Place(name, line, column), "", found, "valid TOML", _hint(written, message)
    )


def _hint(line: str, message: str) -> str:
    """Guess from the line how to mend it."""
    key, equals, value = (part.strip() for part in line.partition("="))
    if any(word in message for word in ("overwrite", "twice", "Duplicate")):
        return "This key or table is in the file already"
    if not equals and re.match(r"[\w.-]+\s*:", line):
        return "Write key = value, with an equals sign"
    if re.match(r"\d+,\d", value):
        return "Write a decimal point, not a comma"
    if value.count('"') % 2 or value.count("'") % 2:
        return "A closing quote is missing"
    if re.match(r"[^\"'\[{]", value) and re.search(r"[^\d.eE+-]", value):
        bare = value.partition("#")[0].strip()
        return f'Put text, times and numbers with a unit in quotes: {key} = "{bare}"'
    return ""
