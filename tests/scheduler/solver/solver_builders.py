"""Tiny work lists whose answers can be worked out by hand.

A cover holds 1 L/m² and loses 0.5 L/(m² h): wet for 120 minutes, less the one in which
the last millionth goes; it is dry at the 120th minute after a wetting ends. Minute 0 is
06:00 UTC.
"""

from datetime import UTC, datetime, timedelta

from models.records import (
    CrewShift,
    DryingCurve,
    Horizon,
    HoursLimit,
    SurfaceWork,
    Task,
    WaterNeed,
    WaterSupply,
    WeightStep,
    WorkList,
)
from tests.builders import work_for_nothing

STARTS_AT = datetime(2027, 5, 3, 6, tzinfo=UTC)
WET_FOR_MIN = 120


def rewet(surface_id: str, **fields: object) -> Task:
    """Twenty minutes, ten of them with the hose at 20 L/min."""
    base: dict[str, object] = {
        "id": f"{surface_id}/rewet", "surface_id": surface_id, "kind": "rewet",
        "title": "Re-wet", "earliest_min": 0, "due_min": 10_000, "latest_min": 10_000,
        "duration_min": 20, "people": 1, "effect": "wet",
        "water": WaterNeed(litres_l=200, from_min=10, until_min=20),
    }  # fmt: skip
    return Task.model_validate(base | fields)


def duty(task_id: str, **fields: object) -> Task:
    """Half an hour that has to be done some time."""
    base: dict[str, object] = {
        "id": task_id, "surface_id": task_id.split("/")[0], "kind": "inspect",
        "title": "Look under the cover", "earliest_min": 0, "due_min": 10_000,
        "latest_min": 10_000, "duration_min": 30, "people": 1,
    }  # fmt: skip
    return Task.model_validate(base | fields)


def surface(surface_id: str = "S", **fields: object) -> SurfaceWork:
    """A covered surface, dry from the start, where a dry minute costs 1."""
    base: dict[str, object] = {
        "surface_id": surface_id, "label": f"Slab {surface_id}", "zone_id": "A",
        "area_m2": 200, "covered_from_min": -60, "reserve_at_start_l_m2": 0,
        "curve": DryingCurve(step_min=60, loss_l_m2_h=(0.5,) * 48, held_l_m2=1.0),
        "tasks": (), "rewet": rewet(surface_id), "ends_min": 100_000,
        "weights": (WeightStep(from_min=0, per_min=1),),
        "fresh_weights": (WeightStep(from_min=0, per_min=3),),
    }  # fmt: skip
    return SurfaceWork.model_validate(base | fields)


def shift(crew_id: str = "red", **fields: object) -> CrewShift:
    """Ten hours from minute 0, in zone A, no overtime."""
    base: dict[str, object] = {
        "id": f"{crew_id}/day", "crew_id": crew_id, "kind": "shift", "people": 2,
        "skills": ("labourer",), "home_zone": "A", "starts_min": 0, "ends_min": 600,
    }  # fmt: skip
    return CrewShift.model_validate(base | fields)


def week(left_min: int, crew_id: str = "red", **fields: object) -> HoursLimit:
    """A week, or another ``kind``, that leaves a crew some minutes beyond 40 h."""
    base: dict[str, object] = {
        "kind": "week", "crew_id": crew_id, "starts_min": -360,
        "shift_ids": (f"{crew_id}/day",), "regular_min": 2400,
        "most_min": 2400 + left_min,
    }  # fmt: skip
    return HoursLimit.model_validate(base | fields)


def tap(**fields: object) -> WaterSupply:
    """All the water one could want."""
    base: dict[str, object] = {"id": "tap", "flow_l_min": 1000}
    return WaterSupply.model_validate(base | fields)


def work_list(*surfaces: SurfaceWork, minutes: int = 600, **fields: object) -> WorkList:
    """One crew, one zone, three minutes' walk to the next surface."""
    base: dict[str, object] = {
        "site_name": "Heron Wharf", "timezone": "UTC",
        "horizon": Horizon(
            starts_at=STARTS_AT, ends_at=STARTS_AT + timedelta(minutes=minutes)
        ),
        "surfaces": surfaces, "shifts": (shift(),), "supplies": (tap(),),
        "zone_ids": ("A",), "travel_min": ((3,),), "water_points": {"A": ("tap",)},
        "costs": work_for_nothing(travel_cost_per_min=0), "rest_min": 0,
        "rewet_at_reserve_fraction": 0.5,
    }  # fmt: skip
    return WorkList.model_validate(base | fields)
