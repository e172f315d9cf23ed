"""The figures of ``methods.toml`` with the site's own on top."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import isfinite
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, model_validator

from models.errors import Problem
from models.records import SiteInput
from models.records.base import Record
from models.wording import did_you_mean

How = Literal["read", "from memory", "common practice, no source", "assumption"]
TABLE = Path(__file__).with_name("methods.toml")


class Figure(Record):
    """One figure of practice: its range, its unit and what it rests on.

    A site's own figure may lie beyond the range, but not below ``least``.
    """

    low: float = Field(gt=0)
    typical: float = Field(gt=0)
    high: float = Field(gt=0)
    least: float | None = Field(None, gt=0)
    unit: str
    how: How
    source: str = Field(min_length=1)

    @model_validator(mode="after")
    def _in_order(self) -> "Figure":
        if not self.low <= self.typical <= self.high:
            raise ValueError("low <= typical <= high")
        return self


@dataclass(frozen=True)
class Figures:
    """The figures of one method."""

    method: str
    by_name: Mapping[str, Figure]

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
def raw_table() -> Mapping[str, Mapping[str, Any]]:
    """Give ``methods.toml`` as it stands."""
    return tomllib.loads(TABLE.read_text("utf-8"))


@cache
def table() -> Mapping[str, Figures]:
    """Every method of ``methods.toml``, what it takes from another filled in."""
    raw = raw_table()

    def figures(method: str) -> dict[str, Figure]:
        own = {
            name: Figure.model_validate(value)
            for name, value in raw[method].items()
            if isinstance(value, dict) and name != "fits"
        }
        other = raw[method].get("like")
        return (figures(other) if other else {}) | own

    return {method: Figures(method, figures(method)) for method in raw}


def figures_for(rates: Mapping[str, float]) -> Mapping[str, Figures]:
    """Put the site's own figures over the table.

    Parameters
    ----------
    rates : mapping
        ``"method.figure"`` to a value in the unit of the table; what is no figure of it
        is left to :func:`refused_rates`.
    """
    return {method: _own(of, rates) for method, of in table().items()}


#: How far a site's own figure may lie beyond the range of the table: a slip of a unit
#: is farther off. An assumption. [-]
_BEYOND = 10.0
_RATE_KEY = "A key is method.figure, such as burlap_double.lay"


def refused_rates(site_input: SiteInput) -> list[Problem]:
    """Refuse every rate that the table does not know and every value that is a slip."""
    known = {
        f"{method}.{name}": figure
        for method, of in table().items()
        for name, figure in of.by_name.items()
    }
    problems = []
    largest = max(crew.people for crew in site_input.site.crews)
    for key, value in sorted(site_input.site.rates.items()):
        place, field = site_input.places.of("rates", "", key), f"[rates] {key}"
        if key not in known:
            hint = did_you_mean(key, sorted(known)) or _RATE_KEY
            problems.append(Problem(place, field, "unknown rate", hint=hint))
        elif wanted := _instead(value, known[key], largest):
            problems.append(Problem(place, field, f"{value:g}", wanted))
    return problems


def _instead(value: float, figure: Figure, largest: int) -> str:
    """Say what is expected in the place of a value; "" if it will do."""
    low, high = figure.least or figure.low / _BEYOND, figure.high * _BEYOND
    if figure.unit == "people":
        whole = isfinite(value) and value == round(value)
        fits = whole and 1 <= value <= largest
        wanted = f"a whole number from 1 to {largest}, the people of the largest crew"
        return "" if fits else wanted
    return "" if low <= value <= high else f"a number from {low:g} to {high:g}"


def _own(figures: Figures, rates: Mapping[str, float]) -> Figures:
    """Figures with the site's own values, which have no range."""

    def own(name: str, figure: Figure) -> Figure:
        value = rates.get(f"{figures.method}.{name}")
        if value is None:
            return figure
        exact = {"low": value, "typical": value, "high": value}
        return figure.model_copy(update=exact | {"source": "the site's own figure"})

    by_name = {name: own(name, figure) for name, figure in figures.by_name.items()}
    return Figures(figures.method, by_name)
