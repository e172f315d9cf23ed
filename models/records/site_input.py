"""A whole site folder, read and checked: what the pipeline starts from."""

from typing import Literal

from pydantic import Field

from models.quantities import Instant
from models.records.base import Record
from models.records.horizon import Horizon
from models.records.places import Places
from models.records.pour import Pour
from models.records.profile import Profile
from models.records.site import Site
from models.records.surface import LossFactor
from models.records.weather import Weather


class Reading(Record):
    """One measured concrete temperature."""

    surface_id: str
    at: Instant
    place: Literal["surface", "core"]
    temperature_c: float = Field(ge=-20, le=100)


class Reported(Record):
    """What was seen of one surface, in the place of what the clocks would have it.

    Fields are those of :class:`models.records.Surface`; ``covered_at`` and
    ``wetted_at`` are those of edges and faces, a top's stand in its pour.
    """

    surface_id: str
    covered_at: Instant | None = None
    wetted_at: Instant | None = None
    took_cover_at: Instant | None = None
    loss_factors: tuple[LossFactor, ...] = ()


class PlannedPours(Record):
    """What a week was planned with, for a later week to go on from.

    Each pour names its profile; ``reported`` is of edges and faces that were covered.
    """

    pours: tuple[Pour, ...] = ()
    reported: tuple[Reported, ...] = ()


class SiteInput(Record):
    """The site, its pours, the weather, the readings and the profiles they name.

    ``reported`` is from the site's ledger: no file of the folder has it.
    """

    site: Site
    horizon: Horizon
    pours: tuple[Pour, ...] = Field(min_length=1)
    weather: Weather
    readings: tuple[Reading, ...] = ()
    reported: tuple[Reported, ...] = ()
    profiles: dict[str, Profile]
    places: Places = Field(Places(), exclude=True, repr=False)
