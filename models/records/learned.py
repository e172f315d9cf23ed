"""What finds have taught of a cover: how fast it dries here, and how much it holds."""

from pydantic import Field

from models.records.base import Record
from models.records.cover import CoverKind


class LearnedFactor(Record):
    """A factor not known for sure: its middle, and where nine tenths of it lie."""

    median_factor: float
    low_factor: float
    high_factor: float


class LearnedCover(Record):
    """A kind of cover on a site, or on one surface of it, before and after its finds.

    Attributes
    ----------
    surface_id : str or None
        None for the kind as a whole.
    finds, refills : int
        How many conditions and how many refills it was learned from.
    loss_prior, loss : LearnedFactor
        What it loses, as a share of what the drying clock says. [-]
    held_prior, held : LearnedFactor
        What it holds, as a share of what the table or the site says. [-]
    """

    cover: CoverKind
    surface_id: str | None
    finds: int = Field(ge=0)
    refills: int = Field(ge=0)
    loss_prior: LearnedFactor
    loss: LearnedFactor
    held_prior: LearnedFactor
    held: LearnedFactor
