"""The method table with the site's own figures on top."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from math import isfinite
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, model_validator

from models.errors import InputError, Problem
from models.records import Element, MethodKey, Skill
from models.records.base import Record

How = Literal["read", "from memory", "common practice, no source", "assumption"]
TABLE = Path(__file__).with_name("methods.toml")


class Figure(Record):
    """One figure of practice: its range, its unit and what it rests on."""

    low: float = Field(gt=0)
    typical: float = Field(gt=0)
    high: float = Field(gt=0)
    unit: str
    how: How
    source: str = Field(min_length=1)

    @model_validator(mode="after")
    def _in_order(self) -> "Figure":
        if not self.low <= self.typical <= self.high:
            raise ValueError("low <= typical <= high")
        return self


class Fits(Record):
    """Where a method may be used at all.

    Attributes
    ----------
    under_bond : bool
        What comes on top may have to bond.
    never : str
        What is wanted instead, where the method is no use on any site; "" else.
    frost : bool
        It may lie there in a night of frost.
    mottles : bool
        It leaves marks on a coloured or architectural finish.
    opens : bool
        It can only be the first of a surface's methods.
    in_forms : bool
        It is for faces that lie in forms first.
    not_after : tuple of str
        Methods it cannot follow, and why in ``not_after_why``.
    skill : str
        Without which it cannot be done.
    nearest : tuple of str
        What to try instead, nearest first.
    """

    elements: tuple[Element, ...] = Field(min_length=1)
    vertical: bool
    under_bond: bool
    never: str = ""
    frost: bool = True
    mottles: bool = False
    opens: bool = False
    in_forms: bool = False
    not_after: tuple[MethodKey, ...] = ()
    not_after_why: str = ""
    skill: Skill = "labourer"
    nearest: tuple[MethodKey, ...]
    how: How
    source: str = Field(min_length=1)


@dataclass(frozen=True)
class Figures:
    """The figures of one method."""

    method: str
    by_name: Mapping[str, Figure]
    fits: Fits | None

    def __getitem__(self, name: str) -> float:
        """Return the typical value; the site's own where it has one."""
        return self.by_name[name].typical

    def __contains__(self, name: str) -> bool:
        """Tell whether the method has such a figure."""
        return name in self.by_name

    def people(self, name: str) -> range:
        """Fewest to most people for a job."""
        figure = self.by_name[name]
        return range(round(figure.low), round(figure.high) + 1)


@cache
def table() -> Mapping[str, Figures]:
    """Every method of ``methods.toml``, what it takes from another filled in."""
    raw: dict[str, dict[str, Any]] = tomllib.loads(TABLE.read_text("utf-8"))

    def figures(method: str) -> dict[str, Figure]:
        own = {k: v for k, v in raw[method].items() if k not in ("like", "fits")}
        other = raw[method].get("like")
        base = figures(other) if other else {}
        return base | {name: Figure.model_validate(v) for name, v in own.items()}

    return {
        method: Figures(
            method,
            figures(method),
            Fits.model_validate(raw[method]["fits"]) if "fits" in raw[method] else None,
        )
        for method in raw
    }


def figures_for(rates: Mapping[str, float]) -> Mapping[str, Figures]:
    """Put the site's own figures over the table.

    Parameters
    ----------
    rates : mapping
        ``"method.figure"`` to a value in the unit of the table.

    Raises
    ------
    InputError
        For every key that the table does not know and every value not above 0.
    """
    known = {f"{m}.{name}" for m, of in table().items() for name in of.by_name}
    problems = []
    for key, value in sorted(rates.items()):
        if key not in known:
            near = get_close_matches(key, sorted(known), n=1, cutoff=0.4)
            hint = f"Nearest: {near[0]}" if near else ""
            problems.append(
                Problem(
                    "site.toml",
                    f"rates.{key}",
                    repr(key),
                    "a figure of the method table, method.figure",
                    hint,
                )
            )
        elif not (isfinite(value) and value > 0):
            problems.append(
                Problem("site.toml", f"rates.{key}", f"{value:g}", "a number above 0")
            )
    if problems:
        raise InputError(problems)
    return {method: _own(of, rates) for method, of in table().items()}


def _own(figures: Figures, rates: Mapping[str, float]) -> Figures:
    """Figures with the site's own values, which have no range."""

    def own(name: str, figure: Figure) -> Figure:
        value = rates.get(f"{figures.method}.{name}")
        if value is None:
            return figure
        exact = {"low": value, "typical": value, "high": value}
        return figure.model_copy(update=exact | {"source": "the site's own figure"})

    by_name = {name: own(name, figure) for name, figure in figures.by_name.items()}
    return Figures(figures.method, by_name, figures.fits)
