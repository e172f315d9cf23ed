"""Reads a roster study's instance (a JSON file of its own format) as a work list."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from models.records import (
    CrewShift,
    DryingCurve,
    Horizon,
    Link,
    Skill,
    Stretch,
    SurfaceWork,
    Task,
    WaterNeed,
    WaterSupply,
    WeightStep,
    WorkList,
)
from tests.builders import work_for_nothing

STARTS_AT = datetime(2027, 5, 3, tzinfo=UTC)
NEVER = 100_000
Part = tuple[int, tuple[int, ...]]
#: The study's kinds of work as skills here: only that they are told apart matters.
SKILL: dict[str, Skill] = {
    "cover": "fogger", "uncover": "fogger", "rewet": "labourer",
    "inspect": "steam_operator", "compound": "sprayer",
}  # fmt: skip


def read_study(path: Path) -> WorkList:
    """Turn the file into a work list; a rewet always draws a full cover's litres."""
    told = json.loads(path.read_text())
    horizon = told["horizon"]
    homes = {(crew["home"], ()) for crew in told["crews"]}
    parts = sorted(homes | {_part(pour) for pour in told["pours"]})
    return WorkList(
        site_name=path.stem,
        timezone="UTC",
        horizon=Horizon(
            starts_at=STARTS_AT, ends_at=STARTS_AT + timedelta(minutes=horizon)
        ),
        surfaces=tuple(_surface(pour, told) for pour in told["pours"]),
        shifts=tuple(
            shift
            for index, crew in enumerate(told["crews"])
            for shift in _shifts(crew, f"{index:02}")
        ),
        supplies=tuple(_supply(source, horizon) for source in told["sources"]),
        zone_ids=tuple(_zone_id(*part) for part in parts),
        travel_min=tuple(
            tuple(told["travel"][zone][other] for other, _ in parts)
            for zone, _ in parts
        ),
        walks_on_surface=True,
        lateness_capped=False,
        water_points={
            _zone_id(*part): tuple(told["sources"][s]["id"] for s in part[1])
            for part in parts
        },
        costs=work_for_nothing(
            overtime_cost_per_min=told["costs"]["overtime"],
            travel_cost_per_min=told["costs"]["travel"],
        ),
        rest_min=0,
        rewet_at_reserve_fraction=0.5,
    )


def _part(pour: dict[str, Any]) -> Part:
    """Part of a zone that reaches the same sources: the study tells them by pour."""
    return pour["zone"], tuple(pour["sources"])


def _zone_id(zone: int, sources: tuple[int, ...]) -> str:
    return "/".join([f"zone {zone}", *map(str, sources)])


def _surface(pour: dict[str, Any], told: dict[str, Any]) -> SurfaceWork:
    carried, ready, ends = pour["carried"], pour["ready"], pour["cure_end"]
    weights = [
        (ready + age if index else min(ready, 0), weight * pour["risk"])
        for index, (age, weight) in enumerate(pour["age_weights"])
    ]
    exposed = told["costs"]["exposed_mult"]
    litres = pour["area"] * pour["cap"]
    rewet = pour["rewet"]
    bare = (Stretch(from_min=pour["latest"], until_min=ends),)
    return SurfaceWork(
        surface_id=pour["id"],
        label=pour["id"],
        zone_id=_zone_id(*_part(pour)),
        area_m2=pour["area"],
        fresh=() if carried else bare,
        covered_from_min=ready if carried else None,
        reserve_at_start_l_m2=pour["cap"] - pour["initial_deficit"] if carried else 0,
        curve=DryingCurve(
            step_min=60,
            loss_l_m2_h=tuple(
                round(loss * pour["evap_factor"], 6) for loss in told["evap_l_m2_h"]
            ),
            held_l_m2=pour["cap"],
        ),
        tasks=tuple(_tasks(pour, told["costs"], litres)),
        rewet=Task(
            id=f"{pour['id']}/rewet", surface_id=pour["id"], kind="rewet",
            title="Rewet", earliest_min=ready, due_min=NEVER,
            latest_min=ends + rewet["dur"], duration_min=rewet["dur"], people=1,
            skills=(SKILL["rewet"],), effect="wet",
            water=WaterNeed(
                litres_l=litres, from_min=rewet["setup"], until_min=rewet["dur"]
            ),
        ),
        ends_min=ends,
        weights=tuple(WeightStep(from_min=m, per_min=w) for m, w in weights),
        fresh_weights=tuple(
            WeightStep(from_min=m, per_min=w * exposed) for m, w in weights
        ),
    )  # fmt: skip


def _tasks(pour: dict[str, Any], costs: dict[str, Any], litres: float) -> list[Task]:
    tasks = []

    def task(name: str, kind: str, skill: str, **fields: object) -> None:
        base: dict[str, Any] = {
            "id": f"{pour['id']}/{name}", "surface_id": pour["id"], "kind": kind,
            "title": kind, "people": 1, "skills": (SKILL[skill],),
            "due_min": NEVER, "latest_min": NEVER,
        }  # fmt: skip
        tasks.append(Task.model_validate(base | fields))

    if pour["cover"] and not pour["carried"]:
        takes, soak = pour["cover"]["dur"], pour["cover"]["soak"]
        water = WaterNeed(litres_l=litres, from_min=takes - soak, until_min=takes)
        task(
            "cover", "lay_cover", "cover", earliest_min=pour["ready"],
            duration_min=takes, effect="wet", covers=True, water=water,
        )  # fmt: skip
    for look in pour["inspect"]:
        task(
            look["id"], "inspect", "inspect", earliest_min=look["window"][0],
            due_min=look["window"][1], duration_min=look["dur"],
            missed_cost=costs["inspect_miss"], late_cost_per_min=costs["inspect_late"],
        )  # fmt: skip
    if pour["uncover"]:
        window = pour["uncover"]["window"]
        task(
            "uncover", "remove_cover", "uncover", earliest_min=window[0],
            due_min=window[1], duration_min=pour["uncover"]["dur"],
            missed_cost=costs["uncover_miss"], late_cost_per_min=costs["uncover_late"],
        )  # fmt: skip
    if pour["uncover"] and pour["compound"]:
        least, most = pour["compound"]["gap"]
        link = Link(
            task_id=f"{pour['id']}/uncover", min_gap_min=least, max_gap_min=most
        )
        task(
            "compound", "spray_compound", "compound",
            earliest_min=pour["uncover"]["window"][0], after=(link,),
            duration_min=pour["compound"]["dur"], missed_cost=costs["compound_miss"],
            late_cost_per_min=costs["compound_late"],
        )  # fmt: skip
    return tasks


def _shifts(crew: dict[str, Any], number: str) -> list[CrewShift]:
    def shift(
        kind: str, starts: int, ends: int, overtime: int, price: float
    ) -> CrewShift:
        return CrewShift.model_validate(
            {
                "id": f"{number}/{kind}/{starts}", "crew_id": crew["id"], "kind": kind,
                "people": 1, "home_zone": _zone_id(crew["home"], ()),
                "skills": _skills(crew["skills"]),
                "starts_min": starts, "ends_min": ends, "overtime_max_min": overtime,
                "call_out_cost": price,
            }
        )  # fmt: skip

    worked = [shift("shift", a, b, crew["overtime_max"], 0) for a, b in crew["shifts"]]
    return worked + [
        shift("on_call", a, b, 0, price) for a, b, price in crew["callouts"]
    ]


def _skills(kinds: list[str]) -> list[Skill]:
    """Skills of a crew that can do some kinds of work; never one it has in part."""
    lacking = {skill for kind, skill in SKILL.items() if kind not in kinds}
    return sorted(set(SKILL.values()) - lacking)


def _supply(source: dict[str, Any], horizon: int) -> WaterSupply:
    tank = source["tank"] or {}
    return WaterSupply(
        id=source["id"],
        flow_l_min=source["flow"],
        daily_allotment_l=source["daily"],
        days=tuple(
            Stretch(from_min=day, until_min=day + 1440)
            for day in range(0, horizon + 1440, 1440)
        ),
        capacity_l=tank.get("cap"),
        level_at_start_l=tank.get("init", 0),
        refill_l_min=tank.get("refill", 0),
    )
