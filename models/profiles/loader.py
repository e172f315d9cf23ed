"""Curing rules from TOML: the built-in ones of this folder, or a site's own.

A figure stands as ``key = { value = 7, how = "read", clause = "..." }`` or, in a row of
``[[ends]]``, ``[[slow]]`` or ``[[sections]]``, with the row's ``how`` and ``clause``.
A site may write bare values; they count as its own.
"""

import json
import tomllib
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from pydantic import ValidationError

from models.errors import InputError, Problem
from models.profiles.problems import nearest, not_toml, problems_of
from models.records.profile import Profile

#: Keys that carry no mark: names, and the rows, which carry their own.
UNMARKED = ("id", "title", "edition", "ends", "slow", "sections")


def profile_ids() -> tuple[str, ...]:
    """Ids of the built-in rules, in alphabetical order."""
    found = (entry.name for entry in files(__package__).iterdir())
    return tuple(sorted(n.removesuffix(".toml") for n in found if n.endswith(".toml")))


def builtin_profile(
    profile_id: str,
    overrides: Mapping[str, object] | None = None,
    overrides_place: str = "site.toml",
) -> Profile:
    """Load a built-in rule, with the site's own values over it.

    Raises
    ------
    InputError
        If there is no such rule, or an override does not fit.
    """
    known = profile_ids()
    if profile_id not in known:
        wanted = f"a file of the site or one of: {', '.join(known)}"
        hint = nearest(profile_id, known)
        raise InputError(
            [Problem(overrides_place, "profile", repr(profile_id), wanted, hint)]
        )
    name = f"{profile_id}.toml"
    text = files(__package__).joinpath(name).read_text("utf-8")
    return load_profile(text, name, overrides, overrides_place)


def load_profile(
    text: str,
    place: str,
    overrides: Mapping[str, object] | None = None,
    overrides_place: str = "site.toml",
) -> Profile:
    """Read a rule from TOML.

    Parameters
    ----------
    text : str
        The whole file.
    place : str
        What the file is called in messages.
    overrides : mapping, optional
        Keys of the file, in the same shape, that replace its values.
    overrides_place : str
        Where the overrides were written.

    Raises
    ------
    InputError
        With every problem found, each with its line.
    """
    try:
        document = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise InputError([not_toml(error, place)]) from error
    own = dict(overrides or {})
    whole = _unwrapped({"ends": []} | document | own)
    try:
        # A TOML document has the shapes of JSON, whose strict reading takes arrays
        # for tuples but neither "7" nor true for a number.
        return Profile.model_validate_json(json.dumps(whole, default=str), strict=True)
    except ValidationError as error:
        found = problems_of(error, text, place, own, overrides_place)
        raise InputError(found) from error


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
