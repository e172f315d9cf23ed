"""A surface: the unit of control, with a method and clocks of its own."""

from typing import Literal

from pydantic import Field, model_validator

from models.quantities import AreaM2, Instant
from models.records.base import Record
from models.records.cover import CoverProperties
from models.records.pour import Element, MethodKey, Receives
from models.records.rule_family import RuleKind

Face = Literal["top", "edges", "formed"]
#: What the label of a face ends in.
PARTS: dict[Face, str] = {"top": "top", "edges": "edges", "formed": "faces"}
EventName = Literal["sheen_gone", "takes_cover", "bears_people"]


class CoverStage(Record):
    """A planned change to another method at an instant known beforehand.

    ``reason`` says why in words for people, such as "before the weekend".
    """

    method: MethodKey
    cover: CoverProperties
    starts_at: Instant
    reason: str


class SteamCycle(Record):
    """Air in a steam enclosure: straight up from the weather's, even, and down again.

    Attributes
    ----------
    starts_at, hold_from_at, hold_until_at, ends_at : Instant
        Steam on; hold reached; hold over; as warm as the weather again.
    hold_c : float
        Of the air in the enclosure. [°C]
    """

    starts_at: Instant
    hold_from_at: Instant
    hold_until_at: Instant
    ends_at: Instant
    hold_c: float = Field(ge=20, le=70)

    @model_validator(mode="after")
    def _in_order(self) -> "SteamCycle":
        times = (self.starts_at, self.hold_from_at, self.hold_until_at, self.ends_at)
        if not times[0] < times[1] <= times[2] < times[3]:
            raise ValueError("starts_at, hold_from_at, hold_until_at, ends_at in order")
        return self


class LossFactor(Record):
    """What was found of a cover's loss: from one instant to another so much faster.

    ``ends_at`` is None where it holds from then on.
    """

    starts_at: Instant
    ends_at: Instant | None = None
    factor: float = Field(ge=0, le=1e6)


class Surface(Record):
    """The top, the edges or the formed faces of a pour.

    Attributes
    ----------
    exposed_at : Instant
        From when it needs care: end of placing, or striking for what was in forms.
    rule_kind : RuleKind
        What rules call its method.
    cover : CoverProperties
        What its method puts on it first.
    cover_from : EventName
        The event from which that cover may go on; what was in forms takes it at
        striking.
    at_once : bool
        Frost comes before that event: the cover goes on as soon as it is placed.
    covered_at, wetted_at : Instant or None
        Reported times of a surface already under its cover.
    took_cover_at : Instant or None
        When it was seen to take the cover that it waits for; all its setting is as
        much sooner or later than the clock would have it.
    loss_factors : tuple of LossFactor
        In order of time; how fast its covers were found to dry, against the clock.
    later : tuple of CoverStage
        Planned changes of the cover, in order of time.
    steam : SteamCycle or None
        What stands in for the weather while it runs.
    """

    id: str
    label: str
    pour_id: str
    zone_id: str
    face: Face
    element: Element
    area_m2: AreaM2
    thickness_mm: float = Field(gt=0)
    vertical: bool
    exposure: Literal["open", "sheltered", "indoors"]
    method: MethodKey
    rule_kind: RuleKind
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
    at_once: bool = False
    covered_at: Instant | None = None
    wetted_at: Instant | None = None
    took_cover_at: Instant | None = None
    loss_factors: tuple[LossFactor, ...] = ()
    later: tuple[CoverStage, ...] = ()
    steam: SteamCycle | None = None

    @property
    def part(self) -> str:
        """What its label ends in, and all that tells it from others of its pour."""
        return PARTS[self.face]

    @property
    def covers(self) -> tuple[CoverProperties, ...]:
        """The first cover and those of the later stages."""
        return (self.cover, *(stage.cover for stage in self.later))

    @property
    def held_l_m2(self) -> float:
        """What the first of its covers that holds water holds when full.

        The reserve of a surface is a share of what the cover in place holds; it is
        counted in this cover's litres, whichever lies there. [L/m²]
        """
        return next((c.held_l_m2 for c in self.covers if c.held_l_m2 > 0), 0.0)

    @model_validator(mode="after")
    def _stages_in_order(self) -> "Surface":
        starts = [stage.starts_at for stage in self.later]
        if starts != sorted(set(starts)):
            raise ValueError("later stages in order of time, each at its own")
        return self
