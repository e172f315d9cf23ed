"""A curing-period rule with its limits, as data: how long, how warm, how checked."""

from typing import Literal

from pydantic import Field

from models.records.base import Record


class Profile(Record):
    """One rule of a standard or an owner.

    Attributes
    ----------
    title, edition : str
        What is named on sheets and records.
    inspections_per_shift, inspections_per_non_working_day : int
        How often each surface is looked at.
    banned_methods : tuple of str
        Methods this rule does not allow.
    cover_within_min : int
        From the surface taking a cover until it must be on. [min]
    """

    id: str
    title: str
    edition: str
    maturity: Literal["nurse_saul", "arrhenius", "arrhenius_variable", "eurocode"]
    inspections_per_shift: int = Field(1, ge=0, le=4)
    inspections_per_non_working_day: int = Field(1, ge=0, le=4)
    banned_methods: tuple[str, ...] = ()
    cover_within_min: int = Field(60, ge=0)
