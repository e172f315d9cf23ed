"""One criterion of the end of curing: its figure, whom it is for, where it is from."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field, model_validator

from models.records.base import Record, require_none
from models.records.pour import Element
from models.records.rule_family import RuleFamily

How = Literal[
    "read",
    "read in a secondary copy",
    "from memory",
    "common practice",
    "assumption",
    "site",
]


class Mark(Record):
    """How a figure came here and where it stands; a site's own says "site"."""

    how: How = "site"
    clause: str = ""


Addition = Literal["slag", "fly_ash", "silica_fume"]


class Row(Mark):
    """A marked row and the surfaces it holds for; what is left out does not matter.

    Attributes
    ----------
    cement_class, families, exposure, elements : tuple
        Holds for these only; empty for all.
    scm_above_fraction : float or None
        Holds for a share of supplementary cementitious material above this. [-]
    added : tuple of str
        Holds where something is added to the cement, and nothing but these.
    ground_in : bool
        Holds for blended cements only: slag or pozzolan ground in at the works.
    """

    cement_class: tuple[Literal["R", "N", "S"], ...] = ()
    scm_above_fraction: float | None = Field(None, ge=0, lt=1)
    added: tuple[Addition, ...] = ()
    ground_in: bool = False
    families: tuple[RuleFamily, ...] = ()
    exposure: tuple[Literal["open", "sheltered", "indoors"], ...] = ()
    elements: tuple[Element, ...] = ()


class DaysRow(Row):
    """So many days, counted while the surface is warm enough.

    Attributes
    ----------
    at_or_above_c : float or None
        Colder time does not count; None where the rule names no temperature. [°C]
    """

    kind: Literal["days"] = "days"
    days: float = Field(gt=0, le=90)
    at_or_above_c: float | None = Field(None, ge=-10, le=40)


class TableRow(Row):
    """Days by surface temperature and by strength development of the concrete.

    Attributes
    ----------
    bands_c : tuple of float
        Lower edges of the temperature bands, warmest first; below the last one time
        does not count. [°C]
    ratios : tuple of float
        Lower edges of the strength ratio bands, quickest first. [-]
    days : tuple of tuple
        A row a temperature band, a column a ratio band. [d]
    interpolate : bool
        Straight line between the lower edges of the temperature bands, instead of
        the printed figure for the whole band.
    """

    kind: Literal["table"] = "table"
    bands_c: tuple[float, ...]
    ratios: tuple[float, ...]
    days: tuple[tuple[float, ...], ...]
    interpolate: bool = False

    @model_validator(mode="after")
    def _fits_together(self) -> "TableRow":
        require_none(self._broken())
        return self

    def _broken(self) -> Iterator[tuple[str, str]]:
        for field, edges in (("bands_c", self.bands_c), ("ratios", self.ratios)):
            if not edges or list(edges) != sorted(set(edges), reverse=True):
                yield field, "falling figures, none twice"
        if len(self.days) != len(self.bands_c):
            yield "days", "one row for each of bands_c"
        elif any(len(row) != len(self.ratios) for row in self.days):
            yield "days", "in each row one figure for each of ratios"
        elif any(figure <= 0 for row in self.days for figure in row):
            yield "days", "figures above 0"


class DegreeDaysRow(Row):
    """A sum of temperature over a datum, as of days times (t + 10).

    Attributes
    ----------
    at_or_above_c, at_most_c : float
        Colder time does not count, warmer time counts as if it were this warm. [°C]
    """

    kind: Literal["degree_days"] = "degree_days"
    degree_days: float = Field(gt=0, le=5000)
    datum_c: float = Field(ge=-20, le=10)
    at_or_above_c: float = Field(ge=-10, le=20)
    at_most_c: float = Field(ge=10, le=60)

    @model_validator(mode="after")
    def _above_datum(self) -> "DegreeDaysRow":
        if not self.datum_c < self.at_or_above_c < self.at_most_c:
            wanted = "a temperature above datum_c and below at_most_c"
            require_none([("at_or_above_c", wanted)])
        return self


class StrengthRow(Row):
    """A strength, as a share of the specified one or in MPa."""

    kind: Literal["strength"] = "strength"
    strength_fraction: float | None = Field(None, gt=0, le=1)
    strength_mpa: float | None = Field(None, gt=0, le=150)

    @model_validator(mode="after")
    def _one_of_two(self) -> "StrengthRow":
        if (self.strength_fraction is None) == (self.strength_mpa is None):
            wanted = "either strength_fraction or strength_mpa"
            require_none([("strength_fraction", wanted)])
        return self


Criterion = Annotated[
    DaysRow | TableRow | DegreeDaysRow | StrengthRow, Field(discriminator="kind")
]
