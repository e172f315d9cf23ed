"""What is wrong in a rule's file, in words, with its line and the nearest word."""

import re
import tomllib
from collections.abc import Collection, Sequence
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError

from models.errors import Problem
from models.records.criterion import (
    DaysRow,
    DegreeDaysRow,
    Mark,
    StrengthRow,
    TableRow,
)
from models.records.profile import Profile, SectionRow, SlowRow

_ROWS: dict[str, type[BaseModel]] = {
    "days": DaysRow,
    "table": TableRow,
    "degree_days": DegreeDaysRow,
    "strength": StrengthRow,
    "slow": SlowRow,
    "sections": SectionRow,
    "marks": Mark,
}
_WANTED = {
    "tuple_type": "an array",
    "model_type": "a table",
    "dict_type": "a table",
    "string_type": "text",
    "float_type": "a number",
    "int_type": "a whole number",
    "int_from_float": "a whole number",
    "bool_type": "true or false",
}
_Path = tuple[str | int, ...]


def nearest(word: str, known: Collection[str]) -> str:
    """Hint at the known word that is meant, "" if none is near."""
    close = get_close_matches(word, sorted(known), 1)
    return f"Did you mean {close[0]!r}?" if close else ""


def not_toml(error: tomllib.TOMLDecodeError, place: str) -> Problem:
    """Say where a file stops being TOML."""
    words = str(error)
    line = re.search(r"at line (\d+)", words)
    where = f"{place}:{line[1]}" if line else place
    return Problem(where, "", words.split(" (at ")[0].lower(), "TOML")


def no_base(base: object, known: Sequence[str], text: str, place: str) -> Problem:
    """Say that a rule builds on one that does not exist."""
    where = f"{place}:{_line(text, ('base',))}"
    wanted = f"one of: {', '.join(known)}"
    return Problem(where, "base", repr(base), wanted, nearest(str(base), known))


def problems_of(error: ValidationError, text: str, place: str) -> list[Problem]:
    """Turn what the record refuses into problems of the file."""
    found = []
    for detail in error.errors():
        where = f"{place}:{_line(text, detail['loc'])}"
        found.append(_problem(dict(detail), detail["loc"], where))
    return found


def _problem(detail: dict[str, Any], path: _Path, where: str) -> Problem:
    """Name one refused value and what is wanted in its place."""
    field, given = _field(path), repr(detail["input"])
    context = detail.get("ctx", {})
    match detail["type"]:
        case "extra_forbidden":
            known = set(_record(path).model_fields) - {"marks"}
            known |= {"base"} if len(path) == 1 else set()
            word = str(path[-1])
            hint = nearest(word, known)
            wanted = "a known key" if hint else f"one of: {', '.join(sorted(known))}"
            return Problem(where, field, "an unknown key", wanted, hint)
        case "missing":
            return Problem(where, field, "nothing", "a value")
        case "union_tag_not_found" | "union_tag_invalid":
            kinds = ("days", "table", "degree_days", "strength")
            kind = context.get("tag")
            given, hint = (repr(kind), nearest(kind, kinds)) if kind else ("none", "")
            wanted = f"one of: {', '.join(kinds)}"
            return Problem(where, f"kind of {field}", given, wanted, hint)
        case "literal_error":
            known = set(re.findall("'([^']+)'", context["expected"]))
            hint = nearest(str(detail["input"]), known)
            return Problem(where, field, given, context["expected"], hint)
        case "value_error":
            return Problem(
                where, field, "figures that do not fit", str(context["error"])
            )
        case kind if kind in _WANTED:
            return Problem(where, field, given, _WANTED[kind])
        case _:
            wanted = detail["msg"].removeprefix("Input should be ")
            return Problem(where, field, given, f"a number {wanted}")


def _field(path: _Path) -> str:
    """Say a path as it stands in the file: ``days of [[ends]] 2``."""
    match path:
        case ("marks", key, part):
            return f"{part} of {key}"
        case (("ends" | "slow" | "sections") as rows, int(index), *rest):
            words = [str(part) for part in (rest[1:] if rows == "ends" else rest)]
            row = f"[[{rows}]] {index + 1}"
            return f"{words[0]} of {row}" if words else row
        case _:
            return str(path[0])


def _record(path: _Path) -> type[BaseModel]:
    """Find the record whose key the path ends in."""
    if len(path) == 1:
        return Profile
    return _ROWS[str(path[2] if path[0] == "ends" else path[0])]


def _line(text: str, path: _Path) -> int:
    """Line of a key, of its row or table where the key is not written, else 1."""
    lines = text.splitlines()
    top, key = str(path[0]), ""
    first, last = 0, len(lines)
    match path:
        case ("marks", str(name), *_):
            top = key = name
        case (_, int(index), *rest):
            heads = [i for i, line in enumerate(lines) if line.startswith(f"[[{top}]]")]
            if index < len(heads):
                first = heads[index]
                after = (i for i in range(first + 1, last) if lines[i].startswith("["))
                last = next(after, last)
                words = [part for part in rest if isinstance(part, str)]
                key = words[top == "ends"] if len(words) > (top == "ends") else ""
            else:
                key = top
        case _:
            key = top
    pattern = re.compile(rf"\s*\[*{re.escape(key)}\]*\s*(=|$)")
    written = (i for i in range(first, last) if key and pattern.match(lines[i]))
    return next(written, first) + 1
