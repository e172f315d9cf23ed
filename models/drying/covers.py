"""The covers' default properties, read from ``covers.toml`` beside this file."""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from models.records import CoverKind, CoverProperties, CoverStock, Laps


@cache
def _table() -> dict[str, Any]:
    text = files("models.drying").joinpath("covers.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def cover_properties(kind: CoverKind) -> CoverProperties:
    """Give the default properties of a kind of cover."""
    figures = dict(_table()[kind])
    if (laps := figures.pop("laps", None)) is not None:
        figures["seam_loss_l_m_d"] = seam_loss_l_m_d(laps)
    return CoverProperties(kind=kind, **figures)


def cover_ranges(
    kind: CoverKind,
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Give where nine tenths of what a cover loses and holds lie.

    Both as shares of what the clock and the table say; low and high.

    Raises
    ------
    KeyError
        If the kind holds no water that a visit could find.
    """
    stated = _table()["range"][kind]
    usual_l_m2 = _table()[kind]["held_l_m2"]
    low_l_m2, high_l_m2 = stated["held_l_m2"]
    low, high = stated["loss_fraction"]
    return (low, high), (low_l_m2 / usual_l_m2, high_l_m2 / usual_l_m2)


def seam_loss_l_m_d(laps: Laps) -> float:
    """Lost in a day by a metre of edge or lap, as in ``[laps]`` [L/(m d)]."""
    return float(_table()["laps"][laps])


def stays_wet_min() -> int:
    """Minutes after it is lifted for which fabric is wet enough to be laid again."""
    return round(60 * float(_table()["fabric"]["stays_wet_h"]))


def soak_lead_min(stock: CoverStock) -> int:
    """Minutes for which covers in stock lie in water before they are laid; 0 if never.

    They are nobody else's from then on.
    """
    soaked = cover_properties(stock.kind).soaked
    return round(60 * stock.soak_lead_h) if soaked else 0
