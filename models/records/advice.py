"""Advice: which curing methods suit a surface here this week, and which are refused."""

from typing import Literal

from pydantic import Field

from models.quantities import AreaM2, Instant
from models.records.base import Record
from models.records.pour import Element, MethodKey
from models.records.surface import Face


class Supply(Record):
    """What a method puts on a surface; both amounts None where only words are known."""

    name: str
    area_m2: float | None = None
    volume_l: float | None = None


class WholeSite(Record):
    """The week of the whole site with a method on one of its surfaces, solved.

    Attributes
    ----------
    cost : float
        Of the roster, by the site's weights.
    dry_min : int
        Dry minutes of all surfaces.
    own_dry_min : int
        Dry minutes of the surface itself.
    """

    cost: float
    dry_min: int = Field(ge=0)
    own_dry_min: int = Field(ge=0)


class Candidate(Record):
    """A method that may be used on a surface, judged as if the crews had only that.

    Attributes
    ----------
    keeps_then : bool
        With what the pour plans to follow its own method, where it plans something.
    changes : tuple of str
        Planned changes of the cover: when, to what, why.
    cost : float
        Sum of ``cost_by_part``, by the site's own weights; walking is left out, as it
        depends on what else a round takes in.
    dry_min : int
        Dry minutes expected, bare and under the cover.
    longest_dry_from_at, longest_dry_until_at : Instant or None
        Longest dry stretch; None if there is none.
    rewets, night_rewets : int
        Re-wettings in the plan, and how many of them begin at night.
    lasts_day_h, lasts_night_h : float or None
        Shortest time a full cover lasts, filled by day and by night; None where none
        runs dry before the plan ends, and where there is nothing to fill. [h]
    outside_h : int
        Hours in which the forecast leaves the method's own limits. [h]
    off_limits_h : int
        Hours in which the concrete is too cold, frozen too young, or too much warmer
        inside than at its face, by the rule it is cured by. [h]
    visits_per_shift : int
        How often in a shift somebody must come at worst, to fill or to read.
    needs_added_water : bool
        It adds no water to a mix that has none to spare.
    in_stock : bool
        The site owns covers of every kind it lays, or lists none at all.
    hottest_c : float
        Highest temperature of the concrete's surface under it. [°C]
    words : str
        The same in one sentence.
    cautions : tuple of str
        What to mind: forecast, stock, cold water, hands.
    """

    rank: int = Field(ge=1)
    method: MethodKey
    title: str
    planned: bool
    keeps_then: bool = False
    changes: tuple[str, ...] = ()
    cost: float = Field(ge=0)
    cost_by_part: dict[str, float]
    dry_min: int = Field(ge=0)
    longest_dry_from_at: Instant | None = None
    longest_dry_until_at: Instant | None = None
    visits: int = Field(ge=0)
    rewets: int = Field(ge=0)
    night_rewets: int = Field(ge=0)
    missed: tuple[str, ...] = ()
    crew_h: float = Field(ge=0)
    water_l: float = Field(ge=0)
    supplies: tuple[Supply, ...] = ()
    lasts_day_h: float | None = None
    lasts_night_h: float | None = None
    outside_h: int = Field(ge=0)
    off_limits_h: int = Field(0, ge=0)
    visits_per_shift: int = Field(1, ge=1)
    needs_added_water: bool = False
    in_stock: bool = True
    hottest_c: float
    words: str
    cautions: tuple[str, ...] = ()
    whole_site: WholeSite | None = None


class Refusal(Record):
    """A method that may not be used on a surface.

    Attributes
    ----------
    reason : str
        What is wanted instead, by which rule, and how that is known.
    nearest : MethodKey or None
        The method nearest to it that may.
    """

    method: MethodKey
    title: str
    planned: bool
    reason: str
    nearest: MethodKey | None = None


class Advice(Record):
    """Every method for one surface: ranked, or refused.

    Attributes
    ----------
    settled : str
        Why nothing is left to choose, in words; empty where the choice is open.
    """

    surface_id: str
    label: str
    face: Face
    element: Element
    area_m2: AreaM2
    exposure: Literal["open", "sheltered", "indoors"]
    risk: int = Field(ge=1, le=3)
    planned: MethodKey
    settled: str = ""
    ranked: tuple[Candidate, ...]
    refused: tuple[Refusal, ...]
