"""What is wrong in a rule's file, in words, with its line and the nearest word."""

import re
import tomllib
from collections.abc import Sequence
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError

from models.errors import Place, Problem
from models.records.base import RulesBrokenError
from models.records.criterion import (
    DaysRow,
    DegreeDaysRow,
    Mark,
    StrengthRow,
    TableRow,
)
from models.records.profile import (
    FlowingWaterRow,
    PlacingRow,
    Profile,
    SectionRow,
    SlowRow,
)
from models.wording import did_you_mean, one_of, say

_ROWS: dict[str, type[BaseModel]] = {
    "days": DaysRow,
    "table": TableRow,
    "degree_days": DegreeDaysRow,
    "strength": StrengthRow,
    "slow": SlowRow,
    "sections": SectionRow,
    "placing": PlacingRow,
    "flowing_water": FlowingWaterRow,
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
_KINDS = ("days", "table", "degree_days", "strength")
_BOUNDS = (
    ("gt", "above"),
    ("ge", "of at least"),
    ("lt", "below"),
    ("le", "of at most"),
)
_Path = tuple[str | int, ...]


def not_toml(error: tomllib.TOMLDecodeError, file: str) -> Problem:
    """Say where a file stops being TOML."""
    words = str(error)
    line = re.search(r"at line (\d+)", words)
    place = Place(file, int(line[1])) if line else Place(file)
    return Problem(place, "", words.split(" (at ")[0].lower(), "valid TOML")


def no_base(base: object, known: Sequence[str], text: str, file: str) -> Problem:
    """Say that a rule builds on one that does not exist."""
    place = Place(file, _line(text, ("base",)))
    hint = did_you_mean(str(base), known)
    return Problem(place, "base", say(base), one_of(known), hint)


def problems_of(error: ValidationError, text: str, file: str) -> list[Problem]:
    """Turn what the record refuses into problems of the file."""
    found = []
    for detail in error.errors():
        path: _Path = detail["loc"]
        broken = detail.get("ctx", {}).get("error")
        if isinstance(broken, RulesBrokenError):
            for field, wanted in broken.rules:
                own = path if path[-1:] == (field,) else (*path, field)
                given = detail["input"]
                value = given.get(field) if isinstance(given, dict) else given
                place = Place(file, _line(text, own))
                found.append(Problem(place, _field(own), say(value), wanted))
        else:
            place = Place(file, _line(text, path))
            found.append(_problem(dict(detail), path, place))
    return found


def _problem(detail: dict[str, Any], path: _Path, place: Place) -> Problem:
    """Name one refused value and what is expected in its place."""
    field, given = _field(path), say(detail["input"])
    context = detail.get("ctx", {})
    match detail["type"]:
        case "extra_forbidden":
            known = set(_record(path).model_fields) - {"marks"}
            known |= {"base"} if len(path) == 1 else set()
            hint = did_you_mean(str(path[-1]), sorted(known))
            hint = hint or f"Keys: {one_of(sorted(known))}"
            return Problem(place, field, "unknown key", hint=hint)
        case "missing":
            return Problem(place, field, "", "a value")
        case "union_tag_not_found" | "union_tag_invalid":
            kind = context.get("tag")
            hint = did_you_mean(kind, _KINDS) if kind else ""
            return Problem(place, f"kind of {field}", say(kind), one_of(_KINDS), hint)
        case "literal_error":
            words = _words(_record(path).model_fields[_key(path)].annotation)
            hint = did_you_mean(str(detail["input"]), words)
            return Problem(place, field, given, one_of(words), hint)
        case kind if kind in _WANTED:
            return Problem(place, field, given, _WANTED[kind])
        case _:
            bounds = (f"{word} {context[b]:g}" for b, word in _BOUNDS if b in context)
            wanted = next(bounds, "that is finite")
            return Problem(place, field, given, f"a number {wanted}")


def _words(annotation: object) -> tuple[str, ...]:
    """Words that a field takes, itself or in a list."""
    if get_origin(annotation) is Literal:
        return tuple(str(word) for word in get_args(annotation))
    return tuple(word for part in get_args(annotation) for word in _words(part))


def _key(path: _Path) -> str:
    """Key of the record that a path leads to, whatever its place in a list."""
    return str(next(part for part in reversed(path) if isinstance(part, str)))


def _field(path: _Path) -> str:
    """Say a path as it stands in the file: ``days of [[ends]] 2``."""
    match path:
        case ("marks", key, part):
            return f"{part} of {key}"
        case (str(rows), int(index), *rest) if rows in (*_ROWS, "ends"):
            words = [str(part) for part in (rest[1:] if rows == "ends" else rest)]
            row = f"[[{rows}]] {index + 1}"
            return f"{words[0]} of {row}" if words else row
        case _:
            return str(path[0])


def _record(path: _Path) -> type[BaseModel]:
    """Find the record whose key the path ends in."""
    name = str(path[2] if path[0] == "ends" and len(path) > 2 else path[0])
    return _ROWS.get(name, Profile) if len(path) > 1 else Profile


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
