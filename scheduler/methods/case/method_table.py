"""What each method is: its family, its covers, the event it waits for, where it fits.

Its figures are in the same table and read by ``figures.py``; what a cover is called and
made of stands in ``models/drying/covers.toml``. A method is an entry in each.
"""

from collections.abc import Mapping
from functools import cache
from typing import Literal, get_args

from pydantic import Field, model_validator

from models.drying.covers import cover_properties, seam_loss_l_m_d
from models.records import (
    CoverKind,
    CoverProperties,
    CoverStock,
    Element,
    EventName,
    MethodKey,
    Site,
    Skill,
)
from models.records.base import Record
from models.records.rule_family import RuleKind
from scheduler.methods.case.figures import How, raw_table

#: Methods that share a chain of work; each is a file of ``families``.
Family = Literal[
    "wet_covers",
    "sheeting",
    "compound",
    "ponding",
    "sprinkling",
    "soaker",
    "blankets",
    "steam",
    "forms",
]


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


class MethodFacts(Record):
    """What a method is, besides its figures.

    Attributes
    ----------
    like : str or None
        Method whose figures it takes where it has none of its own.
    family : str or None
        Whose chain of work it has; None for what is no use on any site.
    cover : str
        Kind of cover that it puts on first.
    waits_for : str
        Event from which a top bears that; what was in forms takes it at striking.
    rule_kind : str
        What rules call it.
    open : bool
        Its cover dries like open water and does not last a weekend on its own.
    then_cover : str or None
        Kind of cover that the method itself puts on next.
    then_method : str or None
        Method that always follows it.
    """

    like: MethodKey | None = None
    family: Family | None = None
    cover: CoverKind
    waits_for: EventName
    rule_kind: RuleKind
    open: bool = False
    then_cover: CoverKind | None = None
    then_method: MethodKey | None = None
    fits: Fits

    @model_validator(mode="after")
    def _served_or_refused(self) -> "MethodFacts":
        if (self.family is None) != bool(self.fits.never):
            raise ValueError("either a family, or fits.never")
        return self

    @property
    def is_film(self) -> bool:
        """Whether it is sprayed and sealed, and wants no water on it."""
        return cover_properties(self.cover).form == "film"


@cache
def methods() -> Mapping[MethodKey, MethodFacts]:
    """Give every method; one without an entry is an error of the table."""
    raw = raw_table()
    keys: tuple[MethodKey, ...] = get_args(MethodKey)
    return {
        key: MethodFacts.model_validate(
            {
                name: value
                for name, value in raw[key].items()
                if name == "fits" or not isinstance(value, dict)  # else a figure
            }
        )
        for key in keys
    }


def first_cover(method: MethodKey, site: Site) -> CoverProperties:
    """Cover that a method puts on first."""
    return cover_of(methods()[method].cover, site)


def cover_of(kind: CoverKind, site: Site) -> CoverProperties:
    """Cover of a kind; the site's stock may say what it holds and how it is closed."""
    own = {
        name: value
        for stock in site.covers
        if stock.kind == kind
        for name, value in _of_the_site(stock).items()
        if value is not None
    }
    usual = cover_properties(kind)
    if usual.form == "pond":
        deeper = own.get("held_l_m2", usual.held_l_m2) / usual.held_l_m2
        own["resistance_m2k_w"] = usual.resistance_m2k_w * deeper
        own["capacity_kj_m2k"] = usual.capacity_kj_m2k * deeper
    return usual.model_copy(update=own)


def _of_the_site(stock: CoverStock) -> dict[str, float | None]:
    laps = None if stock.laps is None else seam_loss_l_m_d(stock.laps)
    seams = laps if stock.seam_loss_l_m_d is None else stock.seam_loss_l_m_d
    return {"held_l_m2": stock.held_l_m2, "seam_loss_l_m_d": seams}
