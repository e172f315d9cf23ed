"""Water points: what flows, what a day allows, what a tank holds."""

from datetime import datetime, time
from typing import Literal

from pydantic import Field

from models.quantities import Instant
from models.records.base import Record


class Delivery(Record):
    """A load tipped into the tank.

    It may come ``late_by_h`` after ``at``; the plan counts on its water only from then.
    """

    at: Instant
    litres_l: float = Field(gt=0)
    late_by_h: float = Field(0, ge=0, le=48)


class CompetingUse(Record):
    """Water that others draw every day between two local clock times."""

    starts: time
    ends: time
    flow_l_min: float = Field(gt=0)


class Outage(Record):
    """Nothing flows; ``ends_at`` is None where nobody knows when it does again."""

    starts_at: Instant
    ends_at: Instant | None = None

    def is_over(self, at: datetime) -> bool:
        """Whether it has ended by an instant."""
        return self.ends_at is not None and self.ends_at <= at


class WaterPoint(Record):
    """A tap, a tank or a tanker's stand.

    Attributes
    ----------
    flow_l_min : float
        What all hoses on it draw together at most. [L/min]
    daily_allotment_l : float or None
        Most that may be drawn from midnight to midnight, local time. [L]
    capacity_l, level_l, refill_l_min : float or None
        Of a tank: full content, content at the start of the week, steady inflow.
    x_m, y_m, reach_m : float or None
        Where it stands, and how far its hose reaches; None for the zones that name it,
        wherever they are. [m]
    outages : tuple of Outage
        From the site's ledger; a tank keeps what it holds.
    temperature_c : float or None
        Of the water; warned about where it is much colder than the concrete. [°C]
    """

    id: str
    name: str
    kind: Literal["mains", "tank", "tanker"]
    x_m: float | None = None
    y_m: float | None = None
    reach_m: float | None = Field(None, gt=0)
    flow_l_min: float = Field(ge=0.1, le=2000)
    daily_allotment_l: float | None = Field(None, gt=0)
    capacity_l: float | None = Field(None, gt=0)
    level_l: float | None = Field(None, ge=0)
    refill_l_min: float = Field(0, ge=0)
    deliveries: tuple[Delivery, ...] = ()
    competing: tuple[CompetingUse, ...] = ()
    outages: tuple[Outage, ...] = ()
    temperature_c: float | None = Field(None, ge=0, le=40)
