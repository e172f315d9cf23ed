"""The covers' default properties, read from ``covers.toml`` beside this file."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from models.records import CoverKind, CoverProperties


@cache
def _table() -> dict[str, Any]:
    text = files("models.drying").joinpath("covers.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def cover_properties(kind: CoverKind) -> CoverProperties:
    """Give the default properties of a kind of cover."""
    return CoverProperties(kind=kind, **_table()[kind])
