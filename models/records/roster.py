"""The roster: who does what when, how good it is and what limited it."""

from typing import Literal

from pydantic import Field

from models.quantities import Instant
from models.records.base import Record
from models.records.horizon import Horizon
from models.records.objective import DryShare, ObjectivePart
from models.records.work import SurfaceWork

Limit = Literal[
    "no_crew_on_shift",
    "shift_ends",
    "no_skill",
    "crews_busy",
    "travel",
    "water_flow",
    "water_allotment",
    "tank_empty",
    "heat_ban",
    "rest",
    "week",
    "day",
    "call_out",
    "window",
    "covers",
    "price",
    "unplanned",
]


class Visit(Record):
    """A task given to a crew at a time.

    Attributes
    ----------
    id : str
        Task id, with a count where a task is done many times: ``P1-top/rewet/3``.
    task_id : str
        The task or rewet pattern in the work of the surface.
    shift_id : str
        Empty for what happened at a time at which its crew could not have come.
    """

    id: str
    task_id: str
    surface_id: str
    crew_id: str
    shift_id: str
    starts_at: Instant
    ends_at: Instant
    water_point_id: str | None = None


class Reason(Record):
    """What stood in the way in one stretch of a gap.

    ``price``: a visit was possible and would have cost more than it saves;
    ``unplanned``: one was possible and would pay, and nobody has planned it.
    """

    starts_at: Instant
    ends_at: Instant
    limit: Limit
    words: str = Field(description="the limit in site words, with amounts and times")


class Gap(Record):
    """A time in which a surface is dry, and what stood in the way."""

    surface_id: str
    starts_at: Instant
    ends_at: Instant
    covered: bool = Field(description="False while no cover is on yet")
    reasons: tuple[Reason, ...] = Field(
        (), description="stretch by stretch, all of it; empty where it is only measured"
    )

    @property
    def minutes(self) -> int:
        """Length in whole minutes."""
        return round((self.ends_at - self.starts_at).total_seconds() / 60)


class Missed(Record):
    """A duty that nobody does, and what stood in the way.

    ``fallen`` are the ids of the duties that fall away with it: nobody inspects or
    lifts a cover that is not there.
    """

    task_id: str
    surface_id: str
    limit: Limit
    words: str = Field(description="the limit in site words, with amounts and times")
    fallen: tuple[str, ...] = ()


class SurfaceFloor(Record):
    """What no roster can spare a surface, had it every crew and all water for itself.

    Attributes
    ----------
    dry_min : int
        It is dry for so many minutes or more.
    """

    surface_id: str
    dry_min: int


class Roster(Record):
    """A planned week.

    Attributes
    ----------
    schema_id : str
        Which shape of roster a file holds; a new number when the shape changes.
    surfaces : tuple of SurfaceWork
        The work as it was given to the solver: every visit's task is found here.
    visits : tuple of Visit
        In order of start, then crew, then id.
    missed : tuple of Missed
        Priced tasks that nobody could do, and those that others fall away with.
    forecast_side : str
        Which weather it was planned on: ``expected``, or the ``dry`` side of the
        forecast's spread (warmer, windier, no rain).
    dry_shares : tuple of DryShare
        The dry minutes of the objective by state, age and price; dearest first.
    floors : tuple of SurfaceFloor
        The dry minutes of each surface that no roster for this work can avoid; empty
        where part of the week has happened.
    begun_until : Instant or None
        What starts before has happened, whatever rules it broke.
    """

    schema_id: Literal["keepdamp/roster/7"] = "keepdamp/roster/7"
    site_name: str
    timezone: str
    horizon: Horizon
    forecast_side: Literal["expected", "dry"] = "expected"
    surfaces: tuple[SurfaceWork, ...]
    visits: tuple[Visit, ...]
    missed: tuple[Missed, ...] = ()
    gaps: tuple[Gap, ...] = ()
    objective: tuple[ObjectivePart, ...]
    dry_shares: tuple[DryShare, ...] = ()
    cost: float
    floors: tuple[SurfaceFloor, ...] = ()
    begun_until: Instant | None = None
    seed: int
    solver_words: str = Field(description="solver and effort, for the record")
