"""What may have happened on a site: one record for each kind of ledger entry.

An entry's ``about`` names the pour, surface, crew or water point that it happened to;
here stands the rest, kind by kind. A field may be added with a default: what was
written before is read as it is. A new kind needs a new schema of the ledger.
"""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from models.quantities import AreaM2, Fraction, Instant
from models.records.base import Record, require_none
from models.records.task_kinds import TaskKind

#: How a cover and what lies under it are found by somebody who lifts a corner.
Condition = Literal["wet", "damp", "patchy", "dry", "frozen", "unknown"]

Litres = Annotated[float, Field(ge=0, le=1_000_000, description="Water [L]")]


class PlacingStarted(Record):
    """About a pour: the first concrete is in."""

    kind: Literal["placing_started"] = "placing_started"


class PlacingFinished(Record):
    """About a pour: the last concrete is in."""

    kind: Literal["placing_finished"] = "placing_finished"


class Slipped(Record):
    """About a pour: it starts at another time; it happened when that became known."""

    kind: Literal["slipped"] = "slipped"
    starts_at: Instant = Field(description="when placing is to start now")


class Cancelled(Record):
    """About a pour: it is not placed at all."""

    kind: Literal["cancelled"] = "cancelled"


class TakesCover(Record):
    """About a surface: it bears being covered."""

    kind: Literal["takes_cover"] = "takes_cover"


class Struck(Record):
    """About a surface: its forms are off."""

    kind: Literal["struck"] = "struck"


class _Work(Record):
    """About a surface: work on it, planned or not.

    Attributes
    ----------
    work : TaskKind
        What sort of work it was.
    task_id : str
        The task, ``P1-top/rewet``; "" for work that nobody had planned.
    visit_id, issue_number : str, int or None
        The visit as the sheet of that issue names it; "" and None where no sheet does.
    identity_id : str
        The same visit as people's calendars know it; "" where they do not.
    """

    work: TaskKind
    task_id: str = ""
    visit_id: str = ""
    issue_number: int | None = Field(None, ge=1)
    identity_id: str = ""


class WorkStarted(_Work):
    """About a surface: somebody has begun."""

    kind: Literal["work_started"] = "work_started"


class WorkDone(_Work):
    """About a surface: work was finished at that time.

    ``found`` is how it was before, ``litres_l`` what refilled the cover.
    """

    kind: Literal["work_done"] = "work_done"
    started_at: Instant | None = None
    found: Condition | None = None
    litres_l: Litres | None = None
    area_m2: AreaM2 | None = None


class WorkFailed(_Work):
    """About a surface: somebody came and could not do it, or nobody came."""

    kind: Literal["work_failed"] = "work_failed"
    why: str = ""
    found: Condition | None = None


class Found(Record):
    """About a surface: how its cover was found; litres are what refilled it then."""

    kind: Literal["found"] = "found"
    condition: Condition
    litres_l: Litres | None = None
    area_m2: AreaM2 | None = None


class WeatherObserved(Record):
    """About the site: the weather as measured there, in the hour from that time on.

    What was not measured is None; the wind is that at the weather's own height.
    """

    kind: Literal["weather_observed"] = "weather_observed"
    air_temperature_c: float | None = Field(None, ge=-40, le=60)
    humidity_fraction: Fraction | None = None
    wind_m_s: float | None = Field(None, ge=0, le=40)
    solar_w_m2: float | None = Field(None, ge=0, le=1500)
    cloud_fraction: Fraction | None = None
    rain_mm: float | None = Field(None, ge=0, le=300)

    @model_validator(mode="after")
    def _something(self) -> "WeatherObserved":
        measured = self.model_dump(exclude={"kind"}).values()
        if all(value is None for value in measured):
            require_none([("air_temperature_c", "at least one value of the weather")])
        return self


class CrewOut(Record):
    """About a crew: so many of it, or all, are not there; it may lie ahead.

    ``ends_at`` is None where nobody knows when they are back.
    """

    kind: Literal["crew_out"] = "crew_out"
    starts_at: Instant
    ends_at: Instant | None = None
    people: int | None = Field(None, ge=1, le=50, description="None for all of it")

    @model_validator(mode="after")
    def _in_order(self) -> "CrewOut":
        _require_order(self.starts_at, self.ends_at)
        return self


class WaterOut(Record):
    """About a water point: nothing flows from it; of a tanker, it is late.

    ``ends_at`` is None where nobody knows when it flows again.
    """

    kind: Literal["water_out"] = "water_out"
    starts_at: Instant
    ends_at: Instant | None = None

    @model_validator(mode="after")
    def _in_order(self) -> "WaterOut":
        _require_order(self.starts_at, self.ends_at)
        return self


class CoversTaken(Record):
    """About a surface: its covers were taken off for other trades.

    ``back_at`` is when they were or will be put back; ``area_m2`` None for all of it.
    """

    kind: Literal["covers_taken"] = "covers_taken"
    back_at: Instant | None = None
    area_m2: AreaM2 | None = None


class ConcreteReading(Record):
    """About a surface: a measured concrete temperature."""

    kind: Literal["reading"] = "reading"
    place: Literal["surface", "core"]
    temperature_c: float = Field(ge=-20, le=100)


class Signed(Record):
    """About a surface: its curing record was signed, as it stood then.

    Attributes
    ----------
    name, role : str
        Who signs, and as what.
    record_digest : str
        SHA-256 of the record's text, in hexadecimal digits.
    record : str
        That text: what was signed can be shown for ever, whatever becomes of the
        folder.
    """

    kind: Literal["signed"] = "signed"
    name: str = Field(min_length=1)
    role: str = ""
    record_digest: str = Field(pattern="^[0-9a-f]{64}$")
    record: str = Field(min_length=1)


class Withdrawn(Record):
    """A correction alone: what the older entry says did not happen."""

    kind: Literal["withdrawn"] = "withdrawn"


Happening = Annotated[
    PlacingStarted
    | PlacingFinished
    | Slipped
    | Cancelled
    | TakesCover
    | Struck
    | WorkStarted
    | WorkDone
    | WorkFailed
    | Found
    | WeatherObserved
    | CrewOut
    | WaterOut
    | CoversTaken
    | ConcreteReading
    | Signed
    | Withdrawn,
    Field(discriminator="kind"),
]
#: What may be logged; records are signed elsewhere, where they can be read first.
LogWord = Literal[
    "placing_started",
    "placing_finished",
    "slipped",
    "cancelled",
    "takes_cover",
    "struck",
    "work_started",
    "work_done",
    "work_failed",
    "found",
    "weather_observed",
    "crew_out",
    "water_out",
    "covers_taken",
    "reading",
    "withdrawn",
]
EntryKind = Literal[LogWord, "signed"]


def _require_order(starts_at: Instant, ends_at: Instant | None) -> None:
    if ends_at is not None and ends_at <= starts_at:
        require_none([("ends_at", "a time after the start")])
