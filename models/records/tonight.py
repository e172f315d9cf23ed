"""The coming night at a glance: temperatures, what is open and dry, who is there."""

from typing import Literal

from pydantic import Field

from models.quantities import Fraction, Instant
from models.records.base import Record
from models.records.report import Finding
from models.records.roster import Gap

NightState = Literal[
    "bare", "fogged", "covered", "ponded", "in steam", "on a timer", "being re-wetted"
]  # fmt: skip


class OpenSurface(Record):
    """A surface that is bare or under a cover in the night.

    Attributes
    ----------
    part : str
        What the label ends in, for those who have to shorten it.
    state : str
        At the beginning, or when it is placed.
    reserve_l_m2, reserve_fraction : float or None
        Water in the cover at the beginning; None while no cover is on. [L/m², -]
    lowest_l_m2, lowest_fraction, lowest_at
        The least there will be under the cover, and when first.
    dry_min : int
        Dry minutes of the night.
    next_wet_at : Instant or None
        When the next visit that wets or keeps it wet begins.
    """

    surface_id: str
    label: str
    part: str = Field("", exclude=True)
    zone_name: str
    state: NightState
    reserve_l_m2: float | None = None
    reserve_fraction: Fraction | None = None
    lowest_l_m2: float | None = None
    lowest_fraction: Fraction | None = None
    lowest_at: Instant | None = None
    dry_min: int = Field(ge=0)
    next_wet_at: Instant | None = None


class NightCrew(Record):
    """A crew that is on shift or can be called in the night."""

    crew_id: str
    name: str
    lead: str
    phone: str
    people: int
    on_call: bool
    starts_at: Instant
    ends_at: Instant
    visits: int = Field(ge=0, description="planned for it in the night")


class NightWater(Record):
    """A water point at dusk, and what the night will draw from it."""

    water_point_id: str
    name: str
    level_l: float | None = None
    allotment_left_l: float | None = None
    drawn_l: float = Field(ge=0, description="from dusk to the end of the night")


class Tonight(Record):
    """From an instant to the next morning on which somebody works.

    Attributes
    ----------
    until_at : Instant
        Beginning of the first morning shift after the night, Monday's after a free
        weekend; the end of the plan if there is none.
    days_off : int
        Whole local days in between on which nobody works.
    dusk_at : Instant
        Beginning of the site's night, or the first instant if that is later.
    breaches : tuple of Finding
        Temperatures outside their limits at any time of the night, whole.
    surfaces : tuple of OpenSurface
        Worst first: most dry minutes, then least water.
    gaps : tuple of Gap
        Cut to the night, in order of time.
    sealed : int
        Surfaces that need no water, sealed or under blankets; not listed.
    """

    site_name: str
    from_at: Instant
    until_at: Instant
    dusk_at: Instant
    days_off: int = Field(ge=0)
    breaches: tuple[Finding, ...] = ()
    surfaces: tuple[OpenSurface, ...]
    sealed: int = Field(ge=0)
    gaps: tuple[Gap, ...]
    crews: tuple[NightCrew, ...]
    water: tuple[NightWater, ...]
