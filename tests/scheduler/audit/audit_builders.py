"""A site of one or two surfaces with round figures, to be audited by hand.

Minute 0 is Monday 06:00 in Berlin. The day shift runs from minute 60 to 660 with a
break from 360 to 390, the night shift from 960 to 1440, call-outs at the weekend.
Covers hold 0.8 L/m²; at 0.1 L/(m² h) a full one lasts 480 minutes.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import zip_longest

import numpy as np

from models.drying.surroundings import Surroundings
from models.records import (
    AuditReport,
    Costs,
    DryingCurve,
    EventWindow,
    Floats,
    Grid,
    Horizon,
    HydrationHistory,
    ObjectivePart,
    Profile,
    Roster,
    Site,
    SiteInput,
    Stretch,
    Surface,
    SurfaceEvents,
    SurfaceWork,
    Task,
    Visit,
    WaterNeed,
    WeightStep,
)
from scheduler.audit.replay import replay
from tests.builders import (
    MONDAY,
    pour,
    profile,
    site,
    site_input,
    surface,
    work_for_nothing,
)

DAYS = 3
LENGTH = DAYS * 1440
HORIZON = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=DAYS))
STEP_MIN = 10
#: A dry minute costs 1 at any age, on any area, bare 3; the risk is 1.
FLAT = work_for_nothing(
    area_power=0, young_24h_factor=1, young_72h_factor=1, uncovered_factor=3
)


def at(minute: int, horizon: Horizon = HORIZON) -> datetime:
    """Instant of a minute."""
    return horizon.at(minute)


def task(name: str, surface_id: str = "P1-top", **fields: object) -> Task:
    """Ten minutes' work of one person that needs no cover, open all week."""
    base: dict[str, object] = {
        "id": f"{surface_id}/{name}", "surface_id": surface_id, "kind": "ease_forms",
        "title": name, "earliest_min": 0, "due_min": LENGTH, "latest_min": LENGTH,
        "duration_min": 10, "people": 1,
    }  # fmt: skip
    return Task.model_validate(base | fields)


def lay(surface_id: str = "P1-top", **fields: object) -> Task:
    """Two people, an hour, 240 L: the cover is on and full."""
    base: dict[str, object] = {
        "kind": "lay_cover", "earliest_min": 300, "due_min": 480, "latest_min": 1500,
        "duration_min": 60, "people": 2, "effect": "wet", "covers": True,
        "water": WaterNeed(litres_l=240, until_min=60), "missed_cost": 600,
        "late_cost_per_min": 1,
    }  # fmt: skip
    return task("lay", surface_id, **(base | fields))


def rewet(surface_id: str = "P1-top", **fields: object) -> Task:
    """One person, twenty minutes, 200 L at 10 L/min."""
    base: dict[str, object] = {
        "kind": "rewet", "duration_min": 20, "effect": "wet",
        "water": WaterNeed(litres_l=200, until_min=20),
    }  # fmt: skip
    return task("rewet", surface_id, **(base | fields))


def work(surface_id: str = "P1-top", **fields: object) -> SurfaceWork:
    """A top that dries from minute 420 on while bare; 1 a minute, bare 3."""
    base: dict[str, object] = {
        "surface_id": surface_id, "label": surface_id.replace("-", " "),
        "zone_id": "A", "area_m2": 300,
        "fresh": (Stretch(from_min=420, until_min=LENGTH),),
        "curve": curve(0.1), "tasks": (lay(surface_id),),
        "rewet": rewet(surface_id), "ends_min": 20_000,
        "weights": (WeightStep(from_min=0, per_min=1),),
        "fresh_weights": (WeightStep(from_min=0, per_min=3),),
    }  # fmt: skip
    return SurfaceWork.model_validate(base | fields)


def curve(rate_l_m2_h: float, held_l_m2: float = 0.8) -> DryingCurve:
    """The same loss all week."""
    return DryingCurve(
        step_min=STEP_MIN,
        loss_l_m2_h=(rate_l_m2_h,) * (LENGTH // STEP_MIN),
        held_l_m2=held_l_m2,
    )


def visit(
    name: str, start: int, minutes: int, crew: str = "red", **fields: object
) -> Visit:
    """A visit to P1-top; its shift is the crew's of that day unless it is named."""
    local_day = (MONDAY + timedelta(hours=2, minutes=start)).date()
    pattern = "day" if crew == "red" else "night"
    base: dict[str, object] = {
        "id": f"P1-top/{name}/{start}", "task_id": f"P1-top/{name}",
        "surface_id": "P1-top", "crew_id": crew,
        "shift_id": f"{crew}/{pattern}/{local_day}", "starts_at": at(start),
        "ends_at": at(start + minutes),
        "water_point_id": "tap" if name in {"lay", "rewet"} else None,
    }  # fmt: skip
    return Visit.model_validate(base | fields)


def roster(
    visits: Sequence[Visit],
    works: Sequence[SurfaceWork] | None = None,
    horizon: Horizon = HORIZON,
    **fields: object,
) -> Roster:
    """A roster that claims nothing about gaps and costs."""
    base: dict[str, object] = {
        "site_name": "Heron Wharf", "timezone": "Europe/Berlin", "horizon": horizon,
        "surfaces": tuple(works or (work(),)), "visits": tuple(visits),
        "objective": tuple(
            ObjectivePart(name=name, amount=0, unit="", cost=0)
            for name in ("dry", "late", "missed", "call_out", "overtime", "travel")
        ),
        "cost": 0, "seed": 1,
        "solver_words": "by hand",
    }  # fmt: skip
    return Roster.model_validate(base | fields)


def grid(horizon: Horizon = HORIZON, lead_h: int = 0) -> Grid:
    """Ten-minute steps over the horizon, and some hours before it."""
    starts_at = horizon.starts_at - timedelta(hours=lead_h)
    steps = (horizon.length_min + 60 * lead_h) // STEP_MIN
    return Grid(starts_at=starts_at, step_min=STEP_MIN, steps=steps)


def surroundings(on: Grid, rain_l_m2_h: Floats | None = None) -> Surroundings:
    """Air of 20 °C, half saturated, a breeze, a grey sky."""

    def column(value: float) -> Floats:
        return np.full((on.steps, 1), value)

    return Surroundings(
        grid=on, air_temperature_c=column(20), humidity_fraction=column(0.5),
        wind_m_s=column(2), solar_w_m2=column(0), sky_temperature_c=column(15),
        rain_l_m2_h=column(0) if rain_l_m2_h is None else rain_l_m2_h[:, None],
        air_pressure_kpa=101.3,
    )  # fmt: skip


def hydration(
    on: Grid,
    surfaces: Sequence[Surface],
    face_c: float = 25,
    core_c: float = 30,
    ends_at: Sequence[datetime] = (),
) -> HydrationHistory:
    """Concrete of one temperature all week, cured at the times given, if any."""
    shape = (on.steps, len(surfaces))
    events = tuple(
        SurfaceEvents(
            surface_id=s.id, sheen_gone=_at(s.exposed_at),
            takes_cover=_at(s.exposed_at), bears_people=_at(s.exposed_at),
            initial_set=_at(s.exposed_at), final_set=_at(s.exposed_at),
            curing_ends=_at(end) if end else None, curing_rule="",
        )
        for s, end in zip_longest(surfaces, ends_at)
    )  # fmt: skip
    return HydrationHistory(
        grid=on, surface_ids=tuple(s.id for s in surfaces),
        surface_temperature_c=np.full(shape, face_c, np.float64),
        core_temperature_c=np.full(shape, core_c, np.float64),
        mean_temperature_c=np.full(shape, face_c, np.float64),
        equivalent_age_h=np.zeros(shape), strength_fraction=np.zeros(shape),
        events=events,
    )  # fmt: skip


def _at(instant: datetime) -> EventWindow:
    return EventWindow(earliest_at=instant, expected_at=instant, latest_at=instant)


def second() -> Surface:
    """A surface like the first, in the zone 120 m away."""
    return surface(pour("P2", zone_id="B"))


def audited(
    visits: Sequence[Visit],
    works: Sequence[SurfaceWork] | None = None,
    surfaces: Sequence[Surface] | None = None,
    where: Site | None = None,
    given: SiteInput | None = None,
    rain_l_m2_h: Floats | None = None,
    horizon: Horizon = HORIZON,
    lead_h: int = 0,
    face_c: float = 25,
    core_c: float = 30,
    prices: Costs = FLAT,
) -> AuditReport:
    """Replay visits to P1-top, or to the surfaces given."""
    on = grid(horizon, lead_h)
    tops = tuple(surfaces or (surface(),))
    base = given or site_input()
    flat = (where or base.site).model_copy(update={"costs": prices})
    plan = roster(visits, works, horizon)
    ends_at = [horizon.at(w.ends_min) for w in plan.surfaces[: len(tops)]]
    return replay(
        base.model_copy(update={"site": flat, "horizon": horizon}),
        [top.model_copy(update={"risk": 1}) for top in tops],
        surroundings(on, rain_l_m2_h),
        hydration(on, tops, face_c, core_c, ends_at),
        plan,
    )


def cured_after(days: float) -> SiteInput:
    """The builders' site under a rule of so many days from placing."""
    ends = [{"kind": "days", "days": days, "clause": "1"}]
    rule = Profile.model_validate(profile().model_dump() | {"ends": ends})
    return site_input().model_copy(update={"profiles": {"seven_days": rule}})


def site_with(**fields: object) -> Site:
    """The builders' site with fields changed."""
    return site().model_copy(update=fields)
