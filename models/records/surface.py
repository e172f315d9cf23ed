"""A surface: the unit of control, with a method and clocks of its own."""

from typing import Literal

from pydantic import Field

from models.quantities import AreaM2, Instant
from models.records.base import Record
from models.records.cover import CoverProperties
from models.records.pour import Element, MethodKey, Receives

EventName = Literal["sheen_gone", "takes_cover", "bears_people"]


class Surface(Record):
    """The top or the formed faces of a pour.

    Attributes
    ----------
    exposed_at : Instant
        From when it needs care: end of placing, or striking for formed faces.
    cover : CoverProperties
        What its method puts on it.
    cover_from : EventName
        The event from which that cover may go on; formed faces take it at striking.
    covered_at, wetted_at : Instant or None
        Reported times of a surface already under its cover.
    """

    id: str
    label: str
    pour_id: str
    zone_id: str
    face: Literal["top", "formed"]
    element: Element
    area_m2: AreaM2
    thickness_mm: float = Field(gt=0)
    vertical: bool
    exposure: Literal["open", "sheltered", "indoors"]
    method: MethodKey
    cover: CoverProperties
    cover_from: EventName
    mix_id: str
    profile_id: str
    receives: Receives
    risk: int = Field(ge=1, le=3)
    placing_temperature_c: float
    placing_starts_at: Instant
    placing_ends_at: Instant
    exposed_at: Instant
    covered_at: Instant | None = None
    wetted_at: Instant | None = None
