"""Invented weeks of curing work, by size, tightness and seed.

Weather-like drying, young surfaces to be covered and old ones under covers, fog
before the cover, compound at the end, inspections, taps with allotments, tanks with
deliveries, night and weekend crews, call-outs, breaks and rest.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from math import pi, sin
from random import Random

from models.records import (
    CrewShift,
    DryingCurve,
    Horizon,
    Link,
    Skill,
    Stretch,
    SurfaceWork,
    TakenFlow,
    TankDelivery,
    Task,
    WaterNeed,
    WaterSupply,
    WeightStep,
    WorkList,
)
from tests.builders import work_for_nothing

MONDAY = datetime(2027, 6, 7, tzinfo=UTC)
DAY = 1440
ALL_SKILLS: tuple[Skill, ...] = ("labourer", "fogger", "sprayer")

#: Litres per m² held and share of the open evaporation: burlap, burlap under sheet,
#: mats; figures of the usual size, invented.
COVERS = ((0.8, 0.8), (1.2, 0.7), (0.8, 0.15), (2.0, 0.6), (3.0, 0.65), (3.0, 0.6))


@dataclass(frozen=True)
class Size:
    """What kind of site.

    Attributes
    ----------
    tightness : float
        Work against what the crews can do in the daytime; 1 is more than they can.
    rain : bool
        One wet night.
    """

    surfaces: int
    days: int = 7
    tightness: float = 0.7
    crews: int | None = None
    rain: bool = False


def instance(size: Size, seed: int) -> WorkList:
    """Make a work list; the same size and seed give the same."""
    rng = Random(f"{size}/{seed}")
    horizon = size.days * DAY
    zones = [f"Z{i}" for i in range(1 + min(5, size.surfaces // 8))]
    spots = [(rng.uniform(0, 250), rng.uniform(0, 180)) for _ in zones]
    travel = tuple(
        tuple(3 if a == b else max(3, round((abs(a[0] - b[0]) + abs(a[1] - b[1])) / 40))
              for b in spots)
        for a in spots
    )  # fmt: skip
    loss = _weather(rng, horizon + 2 * DAY, rain=size.rain)
    surfaces = tuple(
        _surface(rng, index, rng.choice(zones), loss, horizon)
        for index in range(size.surfaces)
    )
    per_day = sum(_work_per_day(surface) for surface in surfaces)
    count = size.crews or max(1, round(per_day / 480 / size.tightness))
    supplies = _supplies(rng, sum(map(_litres_per_day, surfaces)), horizon, size.days)
    ids = [supply.id for supply in supplies]
    return WorkList(
        site_name=f"Site of {size.surfaces}",
        timezone="UTC",
        horizon=Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(minutes=horizon)),
        surfaces=surfaces,
        shifts=tuple(_shifts(rng, count, zones, size.days)),
        supplies=supplies,
        zone_ids=tuple(zones),
        travel_min=travel,
        water_points={
            zone: tuple(rng.sample(ids, min(len(ids), 1 + index % 2)))
            for index, zone in enumerate(zones)
        },
        costs=work_for_nothing(),
        rest_min=600,
        rewet_at_reserve_fraction=0.5,
    )


def _weather(rng: Random, minutes: int, *, rain: bool) -> list[float]:
    """Evaporation in L/(m² h) by steps of ten minutes, high in windy afternoons."""
    rates: list[float] = []
    level = rng.uniform(0.45, 0.9)
    for step in range(minutes // 10):
        hour = step / 6 % 24
        if step % 144 == 0:
            level = min(1.1, max(0.3, level + rng.uniform(-0.2, 0.2)))
        sun = max(0.0, sin(pi * (hour - 6) / 15)) if 6 <= hour <= 21 else 0.0
        rates.append(0.06 + level * sun * rng.uniform(0.9, 1.1))
    if rain:
        first = rng.randrange(len(rates) // 2)
        for step in range(first, min(len(rates), first + rng.randrange(6, 40))):
            rates[step] -= rng.uniform(0.2, 2.0)
    return rates


def _surface(
    rng: Random, index: int, zone: str, loss: list[float], horizon: int
) -> SurfaceWork:
    name = f"S{index:03}"
    area = rng.choice([40, 80, 120, 200, 300, 450])
    held, factor = rng.choice(COVERS)
    risk = rng.choice([1, 1, 2, 3])
    young = rng.random() < 0.45
    begun = rng.randrange(-3 * DAY, 0)
    if young:
        days = [d for d in range(max(1, horizon // DAY)) if d % 7 < 5]  # no weekend
        begun = rng.choice(days) * DAY + rng.randrange(480, 780)
    ends = begun + rng.choice([3, 5, 7]) * DAY
    tasks: list[Task] = []
    fresh: tuple[Stretch, ...] = ()
    if young and rng.random() < 0.15:  # compound instead of a cover
        fresh = (Stretch(from_min=begun + 40, until_min=ends),)
        tasks += _compound(name, begun, area)
        curve, rewet = None, None
    else:
        curve = DryingCurve(
            step_min=10,
            loss_l_m2_h=tuple(round(rate * factor, 6) for rate in loss),
            held_l_m2=held,
        )
        rewet = _rewet(name, begun, ends, area, held)
    if young and curve is not None:
        fresh = (Stretch(from_min=begun + 30, until_min=ends),)
        if rng.random() < 0.5:
            fresh = (Stretch(from_min=begun - 60, until_min=begun - 20), *fresh)
            tasks += _fog(name, begun)
        tasks += _cover(name, begun, area, held, soaked=rng.random() < 0.5)
    looks = range(max(0, begun // DAY + 1), min(ends, horizon) // DAY)
    for day in looks:
        tasks.append(
            _task(
                f"{name}/inspect/{day}", "inspect", day * DAY + 420, 10,
                due=day * DAY + 1080, latest=day * DAY + 1440,
                missed_cost=150, late_cost_per_min=1,
            )
        )  # fmt: skip
    if ends < horizon - 600 and curve is not None:
        tasks += _removal(name, ends, area, sprayed=rng.random() < 0.3)
    weights = [(min(begun, 0), 4.0), (begun + DAY, 2.0), (begun + 3 * DAY, 1.0)]
    return SurfaceWork(
        surface_id=name,
        label=f"Slab {index}",
        zone_id=zone,
        area_m2=area,
        fresh=fresh,
        covered_from_min=None if young else begun,
        reserve_at_start_l_m2=0 if young else round(held * rng.random(), 3),
        curve=curve,
        tasks=tuple(tasks),
        rewet=rewet,
        ends_min=ends,
        weights=tuple(WeightStep(from_min=m, per_min=w * risk) for m, w in weights),
        fresh_weights=tuple(
            WeightStep(from_min=m, per_min=3 * w * risk) for m, w in weights
        ),
    )


def _task(
    task_id: str, kind: str, earliest: int, duration: int, **more: object
) -> Task:
    base: dict[str, object] = {
        "id": task_id, "surface_id": task_id.split("/")[0], "kind": kind,
        "title": kind, "earliest_min": earliest, "duration_min": duration,
        "due_min": more.pop("due", earliest + 2 * DAY),
        "latest_min": more.pop("latest", earliest + 4 * DAY), "people": 1,
    }  # fmt: skip
    return Task.model_validate(base | more)


def _rewet(name: str, begun: int, ends: int, area: int, held: float) -> Task:
    takes = 6 + max(1, round(area * held / 40), round(area / 20))
    return _task(
        f"{name}/rewet", "rewet", begun, takes, due=ends + DAY, latest=ends,
        effect="wet",
        water=WaterNeed(litres_l=area * held, from_min=6, until_min=takes),
    )  # fmt: skip


def _fog(name: str, begun: int) -> list[Task]:
    """Two stints before the cover goes on."""
    return [
        _task(
            f"{name}/fog/{n}", "fog", begun - 60 + 45 * n, 45,
            due=begun + 120, latest=begun + 240, skills=("fogger",), effect="protect",
            water=WaterNeed(litres_l=45, until_min=45),
        )
        for n in range(2)
    ]  # fmt: skip


def _cover(
    name: str, begun: int, area: int, held: float, *, soaked: bool
) -> list[Task]:
    takes = 15 + round(area / 2.5)
    lay = {
        "due": begun + 60 + takes, "latest": begun + 4 * DAY, "people": 2,
        "covers": True, "late_cost_per_min": 0.0,
    }  # fmt: skip
    if soaked:
        return [_task(f"{name}/lay", "lay_cover", begun, takes, effect="wet", **lay)]
    soak = 5 + round(area * held / 38)
    return [
        _task(f"{name}/lay", "lay_cover", begun, takes, effect="protect", **lay),
        _task(
            f"{name}/soak", "soak", begun, soak, effect="wet", latest=begun + 5 * DAY,
            after=(Link(task_id=f"{name}/lay", max_gap_min=30),), late_cost_per_min=1,
            missed_cost=300,
            water=WaterNeed(litres_l=area * held, from_min=5, until_min=soak),
        ),
    ]  # fmt: skip


def _compound(name: str, begun: int, area: int) -> list[Task]:
    return [
        _task(f"{name}/mix", "mix_compound", begun - 30, 15, skills=("sprayer",)),
        _task(
            f"{name}/spray", "spray_compound", begun, 10 + area // 10,
            skills=("sprayer",), effect="seal", missed_cost=600, late_cost_per_min=2,
            due=begun + 120, after=(Link(task_id=f"{name}/mix", max_gap_min=60),),
        ),
        _task(
            f"{name}/check", "check_coverage", begun, 10, missed_cost=150,
            after=(Link(task_id=f"{name}/spray", min_gap_min=5),),
        ),
    ]  # fmt: skip


def _removal(name: str, ends: int, area: int, *, sprayed: bool) -> list[Task]:
    lift = _task(
        f"{name}/lift",
        "remove_cover",
        ends,
        10 + area // 8,
        people=2,
        due=ends + 900,
        late_cost_per_min=0.5,
        missed_cost=600,
    )
    if not sprayed:
        return [lift]
    spray = _task(
        f"{name}/seal",
        "spray_compound",
        ends,
        10 + area // 10,
        skills=("sprayer",),
        effect="seal",
        missed_cost=600,
        late_cost_per_min=2,
        after=(Link(task_id=lift.id, min_gap_min=30, max_gap_min=90),),
    )
    return [lift, spray]


def _work_per_day(surface: SurfaceWork) -> float:
    rewets = 0.0
    if surface.rewet is not None and surface.curve is not None:
        per_day = sum(surface.curve.loss_l_m2_h[: DAY // 10]) / 6
        rewets = per_day / surface.curve.held_l_m2 * (surface.rewet.duration_min + 4)
    return rewets + sum(task.duration_min for task in surface.tasks) / 7


def _litres_per_day(surface: SurfaceWork) -> float:
    if surface.curve is None:
        return 0.0
    per_day = sum(max(0.0, rate) for rate in surface.curve.loss_l_m2_h[: DAY // 10]) / 6
    return per_day * surface.area_m2


def _shifts(rng: Random, count: int, zones: list[str], days: int) -> list[CrewShift]:
    shifts = []
    for index in range(count):
        crew, home = f"c{index:02}", rng.choice(zones)
        people = rng.choice([2, 3, 4])
        skills = ALL_SKILLS if index % 2 == 0 else ALL_SKILLS[:2]
        night = index % 4 == 3
        for day in range(-1, days):
            starts = day * DAY + (1260 if night else 360)
            if day % 7 == (5 if night else 6) and index:
                continue
            lunch = (Stretch(from_min=starts + 300, until_min=starts + 330),)
            shifts.append(
                CrewShift(
                    id=f"{crew}/{day}", crew_id=crew, kind="shift", people=people,
                    skills=skills, home_zone=home, starts_min=starts,
                    ends_min=starts + 600, overtime_max_min=60, breaks=lunch,
                )
            )  # fmt: skip
            if index == 0 and day % 7 != 6:
                shifts.append(
                    CrewShift(
                        id=f"{crew}/call/{day}", crew_id=crew, kind="on_call",
                        people=people, skills=skills, home_zone=home,
                        starts_min=starts + 840, ends_min=starts + 1380,
                        call_out_cost=400,
                    )
                )  # fmt: skip
    return [s for s in shifts if s.ends_min > 0]


def _supplies(
    rng: Random, litres_per_day: float, horizon: int, days: int
) -> tuple[WaterSupply, ...]:
    """A tap and a tank; together they give half as much again as is needed."""
    local_days = tuple(
        Stretch(from_min=d * DAY, until_min=d * DAY + DAY) for d in range(-1, days + 2)
    )
    mains = WaterSupply(
        id="main", flow_l_min=round(60 + litres_per_day / 300),
        taken=tuple(
            TakenFlow(from_min=d * DAY + 600, until_min=d * DAY + 720, flow_l_min=15)
            for d in range(days)
        ),
        daily_allotment_l=round(500 + 0.9 * litres_per_day), days=local_days,
    )  # fmt: skip
    tank = WaterSupply(
        id="tank", flow_l_min=round(60 + litres_per_day / 600),
        capacity_l=round(2000 + 0.2 * litres_per_day),
        level_at_start_l=1500, days=local_days,
        refill_l_min=round(1 + 0.6 * litres_per_day / DAY, 1),
        taken=(TakenFlow(from_min=480, until_min=540, flow_l_min=5),),
        deliveries=tuple(
            TankDelivery(at_min=rng.randrange(horizon), litres_l=1500)
            for _ in range(days // 2)
        ),
    )  # fmt: skip
    return (mains, tank)
