"""A pour: one placement of concrete, as the programme gives it."""

from collections.abc import Iterator
from typing import Literal

from pydantic import Field, field_validator, model_validator

from models.quantities import (
    AreaM2,
    Instant,
    UnreadableQuantityError,
    read_quantity,
)
from models.records.base import Record, RulesBrokenError, require_none

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
    "plastic_sheet_clear",
    "plastic_sheet_black",
    "impervious_paper",
    "wet_sand",
    "ponding",
    "hand_sprinkling",
    "sprinklers",
    "soaker_under_sheet",
    "insulated_blankets",
    "live_steam",
    "autoclave",
    "forms_in_place",
]
#: When the cover is changed, other than after a time from the end of placing.
THEN_WORDS = ("weekend", "frost")
Receives = Literal["none", "topping", "paint", "tile", "membrane", "next_lift"]
_THEN_AT_MOST_H = 60 * 24
_THEN = "a time such as 3 d or 60 h, weekend, or frost"


class Pour(Record):
    """One placement; its top, edges and formed faces become surfaces of their own.

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
    edge_area_m2 : float
        Edges that appear when the edge form comes off; 0 for none. [m²]
    edge_strike_at : Instant or None
        When it does.
    then_method : str or None
        What follows the first method of the top.
    then_after : str or None
        When: a time from the end of placing such as "3 d", before the first unworked
        night of a "weekend", or before the first night of "frost".
    crew_id : str or None
        The gang that places and finishes it, and does nothing else until then.
    shoring_checked : bool
        Somebody competent has said that what carries a suspended slab carries a pond.
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
    edge_area_m2: float = Field(0, ge=0, le=50_000)
    edge_strike_at: Instant | None = None
    edge_method: MethodKey | None = None
    then_method: MethodKey | None = None
    then_after: str | None = None
    crew_id: str | None = None
    shoring_checked: bool = False

    @field_validator("then_after")
    @classmethod
    def _then(cls, text: str | None) -> str | None:
        """Keep one of the words, or a time that can be read."""
        if text is None:
            return None
        if (word := text.strip().lower()) in THEN_WORDS:
            return word
        try:
            after_h = read_quantity(text, "duration in hours")
        except UnreadableQuantityError:
            after_h = 0.0
        if not 0 < after_h <= _THEN_AT_MOST_H:
            raise RulesBrokenError([("then_after", _THEN)])
        return text

    @property
    def then_after_h(self) -> float | None:
        """Hours from the end of placing to the next method; None for the words."""
        if self.then_after is None or self.then_after in THEN_WORDS:
            return None
        return read_quantity(self.then_after, "duration in hours")

    @model_validator(mode="after")
    def _fits_together(self) -> "Pour":
        require_none(self._broken())
        return self

    def _broken(self) -> Iterator[tuple[str, str]]:
        if self.placing_ends_at <= self.placing_starts_at:
            yield "placing_ends_at", "a time after placing_start"
        if self.formed_area_m2 and self.strike_at is None:
            yield "strike_at", "when the forms come off, as formed_area is given"
        if self.formed_area_m2 and self.formed_method is None:
            yield "formed_method", "a method for the faces, as formed_area is given"
        if self.strike_at and self.strike_at <= self.placing_ends_at:
            yield "strike_at", "a time after placing_end"
        if self.edge_area_m2 and self.edge_strike_at is None:
            yield (
                "edge_strike_at",
                "when the edge form comes off, as edge_area is given",
            )
        if self.edge_area_m2 and self.edge_method is None:
            yield "edge_method", "a method for the edges, as edge_area is given"
        if self.edge_strike_at and self.edge_strike_at <= self.placing_ends_at:
            yield "edge_strike_at", "a time after placing_end"
        if self.then_after and self.then_method is None:
            yield "then_method", "the method that follows, as then_after is given"
        if self.then_method and self.then_after is None:
            yield "then_after", f"{_THEN}, as then_method is given"
