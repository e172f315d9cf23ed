"""A pour: one placement of concrete, as the programme gives it."""

from typing import Literal

from pydantic import Field, model_validator

from models.quantities import AreaM2, Instant
from models.records.base import Record

Element = Literal[
    "slab_on_ground",
    "suspended_slab",
    "deck",
    "pavement",
    "footing",
    "wall",
    "column",
    "beam",
]
MethodKey = Literal[
    "burlap_single",
    "burlap_double",
    "cotton_mats",
    "plastic_sheet",
    "sheet_over_burlap",
    "compound_clear",
    "compound_white",
]
Receives = Literal["none", "topping", "paint", "tile", "membrane", "next_lift"]


class Pour(Record):
    """One placement; its top and its formed faces become surfaces of their own.

    Attributes
    ----------
    formed_area_m2 : float
        Faces that appear when forms are struck; 0 for none. [m²]
    risk : int
        3 where drying out does most harm (decks, thin and exposed), 1 least.
    placing_temperature_c : float
        Of the fresh concrete. [°C]
    covered_at, wetted_at : Instant or None
        For a pour under way when the week starts: when its top was covered, when it
        was last wetted. Reported times, so they override the clocks.
    """

    id: str
    zone_id: str
    element: Element
    placing_starts_at: Instant
    placing_ends_at: Instant
    area_m2: AreaM2
    thickness_mm: float = Field(ge=30, le=5000)
    formed_area_m2: float = Field(0, ge=0, le=50_000)
    strike_at: Instant | None = None
    mix_id: str
    exposure: Literal["open", "sheltered", "indoors"] = "open"
    method: MethodKey
    formed_method: MethodKey | None = None
    receives: Receives = "none"
    finish: str = ""
    slope_pct: float = Field(0, ge=0, le=100)
    risk: int = Field(2, ge=1, le=3)
    profile: str | None = None
    placing_temperature_c: float = Field(20, ge=0, le=45)
    covered_at: Instant | None = None
    wetted_at: Instant | None = None

    @model_validator(mode="after")
    def _in_order(self) -> "Pour":
        if self.placing_ends_at <= self.placing_starts_at:
            raise ValueError("placing_end after placing_start")
        if self.formed_area_m2 and (self.strike_at is None or not self.formed_method):
            raise ValueError("strike_at and formed_method where formed_area is given")
        if self.strike_at and self.strike_at <= self.placing_ends_at:
            raise ValueError("strike_at after placing_end")
        return self
