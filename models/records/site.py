"""The site: where it is, who and what it has, and its own rules and prices."""

import re
from datetime import time

from pydantic import Field

from models.quantities import Instant, Units
from models.records.base import Record
from models.records.cover import CoverStock
from models.records.crew import Busy, Crew, HeatBan, Party, ShiftPattern, Team
from models.records.mix import Mix
from models.records.pour import MethodKey
from models.records.water import WaterPoint

#: A storey, where a level is written as its number (assumption). [m]
STOREY_M = 3.5


class Zone(Record):
    """A part of the site that people walk to, with the water it can reach.

    Attributes
    ----------
    level : str
        As people call it: ``"4"`` for the fourth floor, ``"+6.5"`` or ``"-3"`` for its
        height in metres, or any words.
    height_m : float or None
        Of its surfaces above the ground; None for what the level says. [m]
    """

    id: str
    name: str
    level: str = ""
    height_m: float | None = Field(
        None, ge=0, le=300, description="of its surfaces above the ground [m]"
    )
    grid: str = ""
    x_m: float
    y_m: float
    water_points: tuple[str, ...] = Field(
        (),
        min_length=1,
        description="ids of [[water]], nearest first; by their reach if left out",
    )

    @property
    def above_ground_m(self) -> float:
        """Height of its surfaces above the ground, 0 in a pit. [m]."""
        if self.height_m is not None:
            return self.height_m
        return min(300.0, max(0.0, self.level_m or 0.0))

    @property
    def level_m(self) -> float | None:
        """Height that its level says, else its own; None if neither says any. [m]."""
        if re.fullmatch(r"\d{1,2}", self.level.strip()):
            return STOREY_M * int(self.level)
        metres = re.fullmatch(r"([+-]\d{1,3}(\.\d+)?)( ?m)?", self.level.strip())
        return float(metres[1]) if metres else self.height_m


class Rules(Record):
    """The site's own working rules; every value is a default to be edited."""

    rewet_at_reserve_fraction: float = Field(
        0.25,
        ge=0,
        le=0.8,
        description="share of a cover's water below which time costs a little [-]",
    )
    fog_from_kg_m2_h: float = Field(
        0.5,
        ge=0.01,
        le=20,
        description="evaporation that asks for fog on a fresh surface",
    )
    rest_h: float = Field(11, ge=0, le=24, description="daily rest between work [h]")
    day_hours_max_h: float = Field(
        12,
        gt=0,
        le=16,
        description="work of a crew on a day: shifts, overtime and call-outs [h]",
    )
    week_hours_max_h: float | None = Field(
        None,
        gt=0,
        le=168,
        description="work of a crew in a calendar week, Monday to Sunday [h]",
    )
    call_out_max_h: float = Field(8, gt=0, le=16, description="of one call-out [h]")
    break_after_h: float = Field(
        6, gt=0, le=16, description="overtime or a call-out without a break [h]"
    )
    break_length_min: int = Field(
        30, ge=0, le=240, description="that break, in overtime and call-outs"
    )
    walking_speed_m_s: float = Field(0.5, gt=0, le=3, description="loaded [m/s]")
    level_change_min: int = Field(
        5, ge=0, le=60, description="to the next level, up or down [min]"
    )
    level_more_min: int = Field(1, ge=0, le=60, description="each level further [min]")
    move_in_zone_min: int = Field(3, ge=0, le=60, description="next job, same zone")
    uncovered_grace_min: int = Field(
        30, ge=0, le=240, description="from 'takes a cover' until lateness counts"
    )
    weekend_cover: MethodKey | None = Field(
        None, description="what open wet covers become before unworked days"
    )


class Costs(Record):
    """What a roster is judged by: a dry minute of 100 m², old and plain, costs 1."""

    dry_cost_per_min: float = Field(
        1, gt=0, description="per dry minute of 100 m² × risk × age weight"
    )
    area_power: float = Field(
        1, ge=0, le=1, description="a dry minute weighs (area / 100 m²) to this power"
    )
    area_floor_factor: float = Field(
        0.1, gt=0, le=1, description="small surfaces weigh this at least"
    )
    young_24h_factor: float = Field(4, ge=1, description="age weight, first 24 h")
    young_72h_factor: float = Field(2, ge=1, description="age weight, 24 to 72 h")
    uncovered_factor: float = Field(3, ge=1, description="while no cover is on yet")
    low_water_factor: float = Field(
        0.03, ge=0, le=1, description="of a dry minute, below rewet_at_reserve"
    )
    late_cost_per_min: float = Field(1, ge=0, description="per minute a duty ends late")
    missed_inspection: float = Field(150, ge=0)
    missed_work: float = Field(600, ge=0, description="any other duty not done")
    overtime_cost_per_min: float = Field(2, ge=0)
    call_out: float = Field(40, ge=0, description="per call-out")
    call_out_hour: float = Field(120, ge=0, description="per hour paid of a call-out")
    call_out_min_h: float = Field(
        3, ge=0, le=24, description="hours paid of a call-out at the least [h]"
    )
    travel_cost_per_min: float = Field(0.2, ge=0)
    worker_minute_cost: float = Field(
        0.02, ge=0, description="per person and minute of a visit, so that each pays"
    )
    litre_cost: float = Field(0.001, ge=0, description="per litre that a visit draws")
    change_cost: float = Field(
        15, ge=0, description="per visit that a new roster changes"
    )
    change_beyond_min: int = Field(
        15, ge=0, le=720, description="a visit moved by more is changed [min]"
    )


class Site(Record):
    """Everything of ``site.toml``.

    Attributes
    ----------
    timezone : str
        IANA name; all local times of the folder are of this zone.
    week_starts_at : Instant
        First planned minute.
    days : int
        Length of the plan, 1 to 14.
    night_starts, night_ends : time
        Local clock times between which it counts as night.
    ground_temperature_c : float
        Temperature of the ground at depth. [°C]
    roughness_mm : float
        Aerodynamic roughness of the site for the wind profile. [mm]
    rates : dict
        The site's own productivity figures, ``"burlap_double.lay" = 25.0``: m² per
        worker-hour, over the defaults of the method table.
    """

    name: str
    timezone: str
    latitude_deg: float = Field(ge=-90, le=90)
    longitude_deg: float = Field(ge=-180, le=180)
    elevation_m: float = Field(0, ge=-500, le=6000)
    units: Units = "si"
    profile: str
    week_starts_at: Instant
    days: int = Field(7, ge=1, le=14)
    night_starts: time = time(20)
    night_ends: time = time(6)
    ground_temperature_c: float = Field(12, ge=-10, le=40)
    roughness_mm: float = Field(10, ge=0.1, le=100)
    zones: tuple[Zone, ...] = Field(min_length=1)
    shifts: tuple[ShiftPattern, ...] = Field(min_length=1)
    heat_bans: tuple[HeatBan, ...] = ()
    crews: tuple[Crew, ...] = Field(min_length=1)
    water_points: tuple[WaterPoint, ...] = Field(min_length=1)
    covers: tuple[CoverStock, ...] = ()
    mixes: tuple[Mix, ...] = Field(min_length=1)
    rules: Rules = Rules()
    costs: Costs = Costs()
    rates: dict[str, float] = Field(default_factory=dict)

    @property
    def teams(self) -> tuple[Team, ...]:
        """Each gang as a whole, followed by its parties.

        Parties work the shifts of their gang; on call it comes as a whole. It is busy
        when its gang is, and the whole gang is when a party is.
        """
        called = {pattern.id for pattern in self.shifts if pattern.on_call}
        return tuple(
            team
            for crew in self.crews
            for team in (
                Team(**dict(crew) | {"busy": _all_busy(crew)}, gang_id=crew.id),
                *(_by_itself(party, crew, called) for party in crew.parties),
            )
        )


def _all_busy(crew: Crew) -> tuple[Busy, ...]:
    return (*crew.busy, *(busy for party in crew.parties for busy in party.busy))


def _by_itself(party: Party, crew: Crew, called: set[str]) -> Team:
    own = {
        "id": party.id,
        "name": f"{crew.name}, {party.name}",
        "people": party.people,
        "skills": party.skills or crew.skills,
        "shifts": tuple(name for name in crew.shifts if name not in called),
        "lead": party.lead or crew.lead,
        "phone": party.phone or ("" if party.lead else crew.phone),
        "parties": (),
        "party_name": party.name,
        "by_default": party.by_default,
        "busy": (*crew.busy, *party.busy),
    }
    return Team(**(dict(crew) | own), gang_id=crew.id)
