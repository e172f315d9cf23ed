"""Random work lists in which much stands in the way: a strategy for what is said of it.

A day and a night with few people, some of them without the skill, with breaks, rest,
heat bans and full weeks; covers of which there are too few, a weak tap, a small tank.
"""

from typing import Literal

from hypothesis import strategies as st

from models.records import (
    CoverNeed,
    CoverSupply,
    CrewShift,
    DryingCurve,
    HoursLimit,
    Link,
    Skill,
    Stretch,
    SurfaceWork,
    Task,
    WeightStep,
    WorkList,
)
from tests.scheduler.solver.solver_builders import (
    duty,
    rewet,
    shift,
    surface,
    tap,
    work_list,
)

MINUTES = 1200
DAY = Stretch(from_min=-360, until_min=1080)
ALL: tuple[Skill, ...] = ("labourer", "fogger", "sprayer")


@st.composite
def tasks_of(draw: st.DrawFn, name: str, first: int) -> list[Task]:
    """Fog, then a cover in one or two parts that is lifted again; or compound."""
    fog = duty(
        f"{name}/fog", kind="fog", title="Fog", effect="protect", skills=("fogger",),
        earliest_min=first, latest_min=first + 40, due_min=first + 40, duration_min=40,
    )  # fmt: skip
    if draw(st.integers(0, 3)) == 0:
        spray = duty(
            f"{name}/spray", kind="spray_compound", title="Spray", effect="seal",
            skills=("sprayer",), earliest_min=first + 40, missed_cost=300,
            duration_min=draw(st.sampled_from((30, 90))),
            people=draw(st.integers(1, 2)),
        )  # fmt: skip
        return [fog, spray]
    takes, people = draw(st.sampled_from((20, 60, 130))), draw(st.integers(1, 3))
    fields: dict[str, object] = {
        "kind": "lay_cover", "effect": "wet", "earliest_min": first + 40,
        "duration_min": takes, "people": people, "missed_cost": 300,
        "late_cost_per_min": 1, "due_min": first + 200,
    }  # fmt: skip
    lay = duty(f"{name}/lay", title="Lay burlap", covers=True, **fields)
    tasks = [fog, lay]
    if draw(st.booleans()):
        part = duty(f"{name}/part", title="Lay burlap", part=1, parts=2, **fields)
        link = Link(task_id=part.id)
        lay = lay.model_copy(update={"after": (link,), "part": 2, "parts": 2})
        tasks = [fog, part, lay]
    lift = duty(
        f"{name}/lift", kind="remove_cover", title="Lift burlap", missed_cost=100,
        earliest_min=draw(st.integers(300, 900)), people=draw(st.integers(1, 2)),
        after=(Link(task_id=lay.id),),
    )  # fmt: skip
    return [*tasks, lift]


@st.composite
def surfaces(draw: st.DrawFn, name: str) -> SurfaceWork:
    """Covered and wet for some hours, or bare; covered with burlap of the stock."""
    rate = draw(st.sampled_from((0.2, 0.5, 1.0)))
    fields: dict[str, object] = {
        "zone_id": draw(st.sampled_from("AB")),
        "area_m2": draw(st.sampled_from((80, 200, 390))),
        "curve": DryingCurve(step_min=60, loss_l_m2_h=(rate,) * 30, held_l_m2=1.0),
        "rewet": rewet(
            name, duration_min=draw(st.sampled_from((15, 35))),
            people=draw(st.integers(1, 3)),
        ),
        "weights": (WeightStep(from_min=0, per_min=draw(st.integers(1, 4))),),
        "ends_min": draw(st.sampled_from((900, 100_000))),
    }  # fmt: skip
    if draw(st.integers(0, 2)) == 0:
        fields["reserve_at_start_l_m2"] = draw(st.sampled_from((0.0, 0.5, 1.0)))
        return surface(name, **fields)
    first = draw(st.integers(0, 500))
    tasks = draw(tasks_of(name, first))
    fields |= {
        "tasks": tuple(tasks), "covered_from_min": None,
        "fresh": (Stretch(from_min=first, until_min=MINUTES),),
    }  # fmt: skip
    known = {task.id for task in tasks}
    if f"{name}/lay" in known:
        laid_by = f"{name}/part" if f"{name}/part" in known else f"{name}/lay"
        lead = draw(st.sampled_from((0, 120)))
        visit = lead > 0 and draw(st.booleans())
        soak = duty(
            f"{name}/soak", kind="soak_ahead", title="Put burlap into water",
            duration_min=15,
        )  # fmt: skip
        need = CoverNeed(
            kind="burlap_double", area_m2=float(str(fields["area_m2"])),
            laid_by=laid_by, lifted_by=(f"{name}/lift",), turnaround_min=60,
            soak_lead_min=lead, soaked_by=soak.id if visit else None,
            in_water_until_min=draw(st.sampled_from((0, 200))),
        )  # fmt: skip
        fields["tasks"] = (*((soak,) if visit else ()), *tasks)
        fields["cover_needs"] = (need,)
    else:
        fields |= {"curve": None, "rewet": None}
    return surface(name, **fields)


@st.composite
def crews(draw: st.DrawFn, name: str) -> list[CrewShift]:
    """A gang that works by day or by night, some of it in parties, or is on call."""
    starts = draw(st.sampled_from((-60, 0, 30, 400, 700)))
    ends = starts + draw(st.sampled_from((240, 480, 540)))
    pause = Stretch(from_min=starts + 120, until_min=starts + 150)
    fields: dict[str, object] = {
        "starts_min": starts, "ends_min": ends, "people": draw(st.integers(1, 4)),
        "skills": draw(st.sampled_from((("labourer",), ALL, ("labourer", "fogger")))),
        "home_zone": draw(st.sampled_from("AB")),
        "overtime_max_min": draw(st.sampled_from((0, 30))),
    }  # fmt: skip
    kind = draw(st.sampled_from(("shift", "shift", "parties", "on call")))
    if kind == "on call":
        cost = draw(st.sampled_from((20.0, 400.0)))
        return [shift(name, kind="on_call", call_out_cost=cost, **fields)]
    fields["breaks"] = draw(st.sampled_from(((), (pause,))))
    if kind == "shift":
        return [shift(name, **fields)]
    fields["people"] = 4
    parties = (f"{name} 1", f"{name} 2")
    whole = shift(name, hands=parties, **fields)
    fields |= {"people": 2, "part_of": whole.id}
    return [whole, *(shift(party, hands=(party,), **fields) for party in parties)]


@st.composite
def hard_weeks(draw: st.DrawFn) -> WorkList:
    """Two to four surfaces in two zones, two or three gangs, water that is scarce."""
    gangs = [draw(crews(f"crew{n}")) for n in range(draw(st.integers(2, 3)))]
    again = [
        one.model_copy(
            update={
                "id": f"{one.id} 2",
                "starts_min": one.starts_min + 700,
                "ends_min": one.ends_min + 700,
                "breaks": (),
                "part_of": f"{one.part_of} 2" if one.part_of else "",
            }
        )
        for one in gangs[0]
    ]
    shifts = (*(one for gang in gangs for one in gang), *again)
    kind: Literal["week", "day"] = draw(st.sampled_from(("week", "day")))
    full = tuple(
        HoursLimit(
            kind=kind, crew_id=hand,
            starts_min=-360, regular_min=2400, most_min=2400 + 30,
            shift_ids=tuple(s.id for s in shifts if hand in (s.hands or (s.crew_id,))),
        )
        for hand in dict.fromkeys(h for s in shifts for h in (s.hands or (s.crew_id,)))
    )  # fmt: skip
    main = tap(
        id="tap", flow_l_min=draw(st.sampled_from((15, 20, 1000))),
        daily_allotment_l=draw(st.sampled_from((None, 500.0))), days=(DAY,),
    )  # fmt: skip
    tank = tap(
        id="tank", flow_l_min=60, capacity_l=800, level_at_start_l=300,
        refill_l_min=draw(st.sampled_from((0.0, 0.5))),
    )  # fmt: skip
    ban = Stretch(from_min=300, until_min=480)
    stock_m2 = draw(st.sampled_from((150.0, 400.0, 5000.0)))
    names = [f"S{n}" for n in range(draw(st.integers(2, 4)))]
    return work_list(
        *(draw(surfaces(name)) for name in names),
        minutes=MINUTES,
        shifts=shifts,
        hours_limits=draw(st.sampled_from(((), (), full))),
        supplies=(main, tank),
        covers=(
            CoverSupply(
                kind="burlap_double",
                title="Burlap",
                stock_m2=stock_m2,
                stays_wet_min=600,
            ),
        ),
        heat_bans=draw(st.sampled_from(((), (), (ban,)))),
        rest_min=draw(st.sampled_from((0, 300))),
        zone_ids=("A", "B"),
        travel_min=((3, 8), (8, 3)),
        water_points={"A": ("tap",), "B": ("tank", "tap")},
    )
