"""What ``covers.toml`` says of itself: how each figure is known, and what bears it out.

The program reads the figures alone.
"""

import tomllib
from importlib.resources import files
from typing import Any

from models.records import CoverKind


def cover_sources(kind: CoverKind) -> dict[str, str]:
    """Say how each default figure of a kind is known, by the name of its field."""
    return dict(_table()["source"][kind])


def burlap_dry_mass_g_m2(m182_class: int) -> float:
    """Give the dry mass of burlap of a class of AASHTO M 182, 1 to 4, in g/m²."""
    return float(_table()["burlap_dry_mass_g_m2"][f"class_{m182_class}"])


def _table() -> dict[str, Any]:
    return tomllib.loads(files("models.drying").joinpath("covers.toml").read_text())
