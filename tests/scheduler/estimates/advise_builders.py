"""A site with one crew and round figures, to be worked out by hand.

Minute 0 is Monday 06:00 in Berlin. The day shift of every day runs from minute 60 to
660 (07:00 to 17:00) with a break from 360 to 390, and an hour of overtime after it; the
crew walks five minutes to the surface. Covers hold 0.8 L/m²; at 0.1 L/(m² h) a full
one lasts 480 minutes. A dry minute costs 2, bare 6.
"""

from collections.abc import Sequence
from datetime import timedelta

from models.records import (
    CrewShift,
    DryingCurve,
    Horizon,
    Stretch,
    SurfaceWork,
    Task,
    WaterNeed,
    WaterSupply,
    WeightStep,
    WorkList,
)
from tests.builders import MONDAY, work_for_nothing

DAYS = 3
LENGTH = DAYS * 1440
HORIZON = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=DAYS))
SURFACE = "P1-top"
#: 20:00 to 06:00, in minutes from 06:00.
NIGHTS = tuple(
    Stretch(from_min=day * 1440 + 840, until_min=(day + 1) * 1440)
    for day in range(-1, DAYS)
)


def task(name: str, **fields: object) -> Task:
    """A look of ten minutes by one person, open all week."""
    base: dict[str, object] = {
        "id": f"{SURFACE}/{name}", "surface_id": SURFACE, "kind": "inspect",
        "title": name, "earliest_min": 0, "due_min": LENGTH, "latest_min": LENGTH,
        "duration_min": 10, "people": 1,
    }  # fmt: skip
    return Task.model_validate(base | fields)


def lay(**fields: object) -> Task:
    """Two people, an hour, from minute 120 on: the cover is on and full."""
    base: dict[str, object] = {
        "kind": "lay_cover", "earliest_min": 120, "due_min": 240, "duration_min": 60,
        "people": 2, "effect": "wet", "covers": True, "missed_cost": 600.0,
        "late_cost_per_min": 1.0,
    }  # fmt: skip
    return task("lay", **(base | fields))


def fog(start: int, minutes: int = 60, **fields: object) -> Task:
    """A stint by one person at a fixed time."""
    base: dict[str, object] = {
        "kind": "fog", "earliest_min": start, "due_min": start + minutes,
        "latest_min": start + minutes, "duration_min": minutes, "effect": "protect",
    }  # fmt: skip
    return task(f"fog-{start}", **(base | fields))


def rewet(minutes: int = 20, litres_l: float = 200, **fields: object) -> Task:
    """One person; water from the sixth minute on."""
    base: dict[str, object] = {
        "kind": "rewet", "duration_min": minutes, "effect": "wet",
        "water": WaterNeed(litres_l=litres_l, from_min=6, until_min=minutes),
    }  # fmt: skip
    return task("rewet", **(base | fields))


def curve(loss_l_m2_h: float = 0.1, held_l_m2: float = 0.8) -> DryingCurve:
    """An even loss."""
    return DryingCurve(
        step_min=10, loss_l_m2_h=(loss_l_m2_h,) * (LENGTH // 10), held_l_m2=held_l_m2
    )


def surface_work(*tasks: Task, **fields: object) -> SurfaceWork:
    """A surface of 200 m², bare from minute 120 on, that cures all week."""
    base: dict[str, object] = {
        "surface_id": SURFACE, "label": "P1 top", "zone_id": "A", "area_m2": 200,
        "fresh": (), "curve": curve(), "tasks": tasks, "rewet": None,
        "ends_min": LENGTH,
        "weights": (WeightStep(from_min=0, per_min=2),),
        "fresh_weights": (WeightStep(from_min=0, per_min=6),),
    }  # fmt: skip
    return SurfaceWork.model_validate(base | fields)


def shift(day: int = 0, **fields: object) -> CrewShift:
    """The day shift of a day."""
    start = day * 1440 + 60
    base: dict[str, object] = {
        "id": f"red/{day}", "crew_id": "red", "kind": "shift", "people": 4,
        "skills": ("labourer", "fogger", "sprayer"), "home_zone": "yard",
        "starts_min": start, "ends_min": start + 600, "overtime_max_min": 60,
        "breaks": (Stretch(from_min=start + 300, until_min=start + 330),),
    }  # fmt: skip
    return CrewShift.model_validate(base | fields)


def call(from_min: int, until_min: int) -> CrewShift:
    """The same crew on call, 400 a time."""
    return shift(
        id=f"red/call/{from_min}", kind="on_call", starts_min=from_min,
        ends_min=until_min, overtime_max_min=0, breaks=(), call_out_cost=400.0,
    )  # fmt: skip


def supply(**fields: object) -> WaterSupply:
    """A tap of 40 L/min."""
    return WaterSupply.model_validate({"id": "tap", "flow_l_min": 40.0} | fields)


def work_list(
    surface: SurfaceWork,
    shifts: Sequence[CrewShift] | None = None,
    supplies: Sequence[WaterSupply] | None = None,
    rest_min: int = 660,
) -> WorkList:
    """The site."""
    taps = tuple(supplies or (supply(),))
    return WorkList(
        site_name="Heron Wharf",
        timezone="Europe/Berlin",
        horizon=HORIZON,
        surfaces=(surface,),
        shifts=tuple(shifts or (shift(day) for day in range(DAYS))),
        supplies=taps,
        zone_ids=("A", "yard"),
        travel_min=((3, 5), (5, 3)),
        water_points={"A": tuple(t.id for t in taps), "yard": (taps[0].id,)},
        costs=work_for_nothing(),
        rest_min=rest_min,
        rewet_at_reserve_fraction=0.5,
    )
