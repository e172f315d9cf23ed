"""Curing rules from TOML: the built-in ones of this folder, or a site's own.

A figure stands as ``key = { value = 7, how = "read", clause = "..." }`` or, in a row of
:data:`ROWS` such as ``[[ends]]``, with the row's ``how`` and ``clause``.
A site may write bare values, which count as its own, and only those that differ from a
built-in rule it names as ``base``.
"""

import json
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from pydantic import ValidationError

from models.errors import InputError
from models.profiles.problems import no_base, not_toml, problems_of
from models.records.profile import Profile

#: Keys that carry no mark: names, and the rows, which carry their own.
ROWS = ("ends", "slow", "sections", "placing", "flowing_water")
UNMARKED = ("id", "title", "edition", *ROWS)


def profile_ids() -> tuple[str, ...]:
    """Ids of the built-in rules, in alphabetical order."""
    found = (entry.name for entry in files(__package__).iterdir())
    return tuple(sorted(n.removesuffix(".toml") for n in found if n.endswith(".toml")))


def builtin_profile(profile_id: str) -> Profile:
    """Load a built-in rule.

    Raises
    ------
    KeyError
        If there is no such rule; readers of files ask :func:`profile_ids` first.
    """
    if profile_id not in profile_ids():
        raise KeyError(profile_id)
    return load_profile(_text(profile_id), f"{profile_id}.toml")


def load_profile(text: str, file: str) -> Profile:
    """Read a rule from TOML.

    Parameters
    ----------
    text : str
        The whole file. With ``base = "aci_318"`` it needs to hold only what differs
        from that built-in rule; ``[[ends]]`` of its own replace all of that rule's.
    file : str
        What the file is called in messages.

    Raises
    ------
    InputError
        With every problem found, each with its line.
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError([not_toml(error, file)]) from error
    base_id = document.pop("base", None)
    if base_id is not None and base_id not in profile_ids():
        raise InputError([no_base(base_id, profile_ids(), text, file)])
    base = tomllib.loads(_text(base_id)) if base_id else {"ends": []}
    whole = _unwrapped(base | document)
    try:
        # A TOML document has the shapes of JSON, whose strict reading takes arrays
        # for tuples but neither "7" nor true for a number.
        return Profile.model_validate_json(json.dumps(whole, default=str), strict=True)
    except ValidationError as error:
        raise InputError(problems_of(error, text, file)) from error


def _text(profile_id: str) -> str:
    """Text of a built-in rule."""
    return files(__package__).joinpath(f"{profile_id}.toml").read_text("utf-8")


def _unwrapped(document: Mapping[str, Any]) -> dict[str, Any]:
    """Part every marked value from its mark; a bare one gets that of the site."""
    values, marks = dict(document), dict[str, Any]()
    for key in Profile.model_fields.keys() & document.keys() - {*UNMARKED}:
        held = document[key]
        marks[key] = {}
        if isinstance(held, dict):
            marks[key] = {name: part for name, part in held.items() if name != "value"}
            values[key] = held.get("value")
    ordered = {key: marks[key] for key in document if key in marks}
    return values | {"marks": ordered}
