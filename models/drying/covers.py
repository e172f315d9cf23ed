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


def cover_sources(kind: CoverKind) -> dict[str, str]:
    """Say how each default figure of a kind is known, by the name of its field."""
    return dict(_table()["source"][kind])


def burlap_dry_mass_g_m2(m182_class: int) -> float:
    """Give the dry mass of burlap of a class of AASHTO M 182, 1 to 4, in g/m²."""
    return float(_table()["burlap_dry_mass_g_m2"][f"class_{m182_class}"])
