"""A day and a half of three surfaces, rostered and audited by hand.

=======  ===========================  ==============================================
surface  zone, cover                  what happens (local clock, minutes from 06:00)
=======  ===========================  ==============================================
P1-top   A, wet burlap, 0.05 L/(m²h)  soak 07:30, dry and bare 12:00-12:30 (360-390),
                                      fog 12:30, covered 14:00, rewets 23:50 and 07:40
P2-top   B, wet burlap, 0.10 L/(m²h)  covered before; rewet 11:30, dry 19:50-22:30
                                      (830-990), rewets 22:30, 05:20, 13:00
P3-wall  B, compound                  sprayed 14:35 to 15:05
=======  ===========================  ==============================================

Both covers hold 0.8 L/m²: sixteen hours on P1, eight on P2.
"""

from datetime import datetime, timedelta

from exports.handed import Handed
from models.records import (
    AuditReport,
    Breach,
    BreachKind,
    CoverTrace,
    CoverUse,
    DryingCurve,
    Effect,
    Finding,
    Gap,
    Horizon,
    Limit,
    Link,
    Material,
    ObjectivePart,
    Phase,
    Reason,
    Roster,
    ShiftTrace,
    Site,
    Stretch,
    SurfaceTrace,
    SurfaceWork,
    Task,
    TaskKind,
    TracePoint,
    Visit,
    WaterHour,
    WaterNeed,
    WaterTrace,
    WeightStep,
)
from tests.builders import MONDAY, site

HORIZON_MIN = 36 * 60
#: Handed out before anything was published.
DRAFT = Handed(None, MONDAY)
HELD_L_M2 = 0.8


def small_site(**fields: object) -> Site:
    """The site of ``tests.builders`` with levels, a lead and his telephone."""
    base = site()
    zones = (
        base.zones[0].model_copy(update={"level": "1", "grid": "A-C"}),
        base.zones[1],
    )
    crews = (
        base.crews[0].model_copy(update={"lead": "R. Amsel", "phone": "+49 30 555 01"}),
        base.crews[1],
    )
    return base.model_copy(update={"zones": zones, "crews": crews} | fields)


def task(
    task_id: str, kind: TaskKind, due_min: int, duration_min: int, **fields: object
) -> Task:
    """A task of the surface its id begins with."""
    base: dict[str, object] = {
        "id": task_id, "surface_id": task_id.split("/")[0], "kind": kind,
        "title": kind.replace("_", " "), "earliest_min": 0, "due_min": due_min,
        "latest_min": HORIZON_MIN, "duration_min": duration_min, "people": 2,
    }  # fmt: skip
    return Task.model_validate(base | fields)


def _wetting(
    task_id: str,
    kind: TaskKind,
    due_min: int,
    duration_min: int,
    litres_l: float,
    effect: Effect = "wet",
    **fields: object,
) -> Task:
    return task(
        task_id, kind, due_min, duration_min, effect=effect,
        water=WaterNeed(litres_l=litres_l, from_min=0, until_min=duration_min),
        tools=("hose 50 m", "rose nozzle", "head lamp"),
        steps=("Start at the windward edge.", "Wet until water stands at the edges."),
        log_fields=("condition found", "time", "initials", "litres"),
        cautions=(
            "Wet burlap is slippery.",
            "RCD on every lamp and pump; plugs off the wet deck.",
        ),
        **fields,
    )  # fmt: skip


def _quay_slab() -> SurfaceWork:
    soak = task(
        "P1-top/soak", "soak", 300, 30,
        materials=(Material(name="burlap, two layers", area_m2=330),),
    )  # fmt: skip
    fog = _wetting("P1-top/fog", "fog", 480, 30, 60, "protect", skills=("fogger",))
    cover = _wetting(
        "P1-top/cover", "lay_cover", 480, 60, 240, covers=True, people=4,
        after=(Link(task_id="P1-top/soak", min_gap_min=240),),
    )  # fmt: skip
    inspect = task(
        "P1-top/inspect/1", "inspect", 1600, 10, people=1, log_fields=("condition",)
    )
    return SurfaceWork(
        surface_id="P1-top", label="B2 quay slab", zone_id="A", area_m2=300,
        fresh=(Stretch(from_min=360, until_min=540),),
        curve=DryingCurve(step_min=10, loss_l_m2_h=(0.05,) * 216, held_l_m2=HELD_L_M2),
        tasks=(soak, fog, cover, inspect),
        rewet=_wetting("P1-top/rewet", "rewet", HORIZON_MIN, 30, 180),
        ends_min=7 * 1440, weights=(WeightStep(from_min=0, per_min=8),),
        fresh_weights=(WeightStep(from_min=0, per_min=24),),
    )  # fmt: skip


def _pump_pit() -> SurfaceWork:
    inspect = task(
        "P2-top/inspect/1", "inspect", 1600, 10, people=1, log_fields=("condition",)
    )
    return SurfaceWork(
        surface_id="P2-top", label="Pump pit floor", zone_id="B", area_m2=120,
        covered_from_min=-300, reserve_at_start_l_m2=0.6,
        curve=DryingCurve(step_min=10, loss_l_m2_h=(0.1,) * 216, held_l_m2=HELD_L_M2),
        tasks=(inspect,), rewet=_wetting("P2-top/rewet", "rewet", HORIZON_MIN, 20, 80),
        ends_min=5 * 1440, weights=(WeightStep(from_min=0, per_min=2),),
        fresh_weights=(WeightStep(from_min=0, per_min=6),),
    )  # fmt: skip


def _stair_wall() -> SurfaceWork:
    mix = task("P3-wall/mix", "mix_compound", 540, 15)
    spray = task(
        "P3-wall/spray", "spray_compound", 560, 30, effect="seal", skills=("sprayer",),
        after=(Link(task_id="P3-wall/mix", max_gap_min=30),),
        materials=(Material(name="white compound", volume_l=18),),
    )  # fmt: skip
    check = task("P3-wall/check", "check_coverage", 620, 10, people=1)
    return SurfaceWork(
        surface_id="P3-wall", label="Stair core wall, north", zone_id="B", area_m2=84,
        fresh=(Stretch(from_min=510, until_min=900),), curve=None,
        tasks=(mix, spray, check), rewet=None, ends_min=7 * 1440,
        weights=(WeightStep(from_min=0, per_min=4),),
        fresh_weights=(WeightStep(from_min=0, per_min=12),),
    )  # fmt: skip


#: visit id, task id, crew, shift, start and end minute, water point
_VISITS = (
    ("P1-top/soak", "P1-top/soak", "red", "red/mon", 90, 120, None),
    ("P2-top/rewet/1", "P2-top/rewet", "red", "red/mon", 330, 350, "tank"),
    ("P1-top/fog", "P1-top/fog", "red", "red/mon", 390, 420, "tap"),
    ("P1-top/cover", "P1-top/cover", "red", "red/mon", 420, 480, "tap"),
    ("P3-wall/mix", "P3-wall/mix", "red", "red/mon", 500, 515, None),
    ("P3-wall/spray", "P3-wall/spray", "red", "red/mon", 515, 545, None),
    ("P3-wall/check", "P3-wall/check", "red", "red/mon", 550, 560, None),
    ("P2-top/rewet/2", "P2-top/rewet", "owl", "owl/mon", 990, 1010, "tank"),
    ("P1-top/rewet/1", "P1-top/rewet", "owl", "owl/mon", 1070, 1100, "tap"),
    ("P2-top/rewet/3", "P2-top/rewet", "owl", "owl/mon", 1400, 1420, "tank"),
    ("P1-top/rewet/2", "P1-top/rewet", "red", "red/tue", 1540, 1570, "tap"),
    ("P1-top/inspect/1", "P1-top/inspect/1", "red", "red/tue", 1575, 1585, None),
    ("P2-top/inspect/1", "P2-top/inspect/1", "red", "red/tue", 1592, 1602, None),
    ("P2-top/rewet/4", "P2-top/rewet", "red", "red/tue", 1860, 1880, "tank"),
)
_SHIFTS = (
    ("red/mon", "red", 60, 660, 195),
    ("owl/mon", "owl", 960, 1440, 70),
    ("red/tue", "red", 1500, 2100, 70),
)


def horizon(starts_at: datetime = MONDAY) -> Horizon:
    """A day and a half."""
    return Horizon(
        starts_at=starts_at, ends_at=starts_at + timedelta(minutes=HORIZON_MIN)
    )


def _gaps(starts_at: datetime) -> tuple[Gap, ...]:
    at = horizon(starts_at).at

    def reason(from_min: int, until_min: int, limit: Limit, words: str) -> Reason:
        return Reason(
            starts_at=at(from_min), ends_at=at(until_min), limit=limit, words=words
        )

    return (
        Gap(
            surface_id="P1-top", starts_at=at(360), ends_at=at(390), covered=False,
            reasons=(
                reason(360, 390, "crews_busy", "Red gang on break until fog starts"),
            ),
        ),
        Gap(
            surface_id="P2-top", starts_at=at(830), ends_at=at(990), covered=True,
            reasons=(
                reason(830, 960, "no_crew_on_shift", "nobody until the night pair"),
                reason(960, 990, "travel", "the night pair walks half an hour"),
            ),
        ),
    )  # fmt: skip


def small_roster(starts_at: datetime = MONDAY) -> Roster:
    """Fourteen visits of two crews, two gaps."""
    at = horizon(starts_at).at
    visits = tuple(
        Visit(
            id=visit_id, task_id=task_id, surface_id=task_id.split("/")[0],
            crew_id=crew, shift_id=shift, starts_at=at(start), ends_at=at(end),
            water_point_id=point,
        )
        for visit_id, task_id, crew, shift, start, end, point in _VISITS
    )  # fmt: skip
    return Roster(
        site_name="Heron Wharf", timezone="Europe/Berlin", horizon=horizon(starts_at),
        surfaces=(_quay_slab(), _pump_pit(), _stair_wall()), visits=visits,
        gaps=_gaps(starts_at),
        objective=(
            # 30 bare minutes × 24 + 160 minutes under a dry cover × 2
            ObjectivePart(name="dry", amount=190, unit="min", cost=1040),
            ObjectivePart(name="travel", amount=40, unit="min", cost=8),
        ),
        cost=1048, seed=1,
        solver_words="made by hand",
    )  # fmt: skip


def _trace(
    work: SurfaceWork,
    points: tuple[tuple[int, float], ...],
    phases: tuple[tuple[str, int, int], ...],
    starts_at: datetime,
    dry_min: int,
    weighted_dry_cost: float,
) -> SurfaceTrace:
    at = horizon(starts_at).at
    return SurfaceTrace(
        surface_id=work.surface_id, label=work.label, zone_id=work.zone_id,
        held_l_m2=work.curve.held_l_m2 if work.curve else 0,
        phases=tuple(
            Phase.model_validate(
                {"kind": kind, "starts_at": at(start), "ends_at": at(end)}
            )
            for kind, start, end in phases
        ),
        points=tuple(TracePoint(at=at(m), reserve_l_m2=r) for m, r in points),
        wettings=tuple(
            at(minute)
            for (minute, reserve), (_, before) in zip(points[1:], points, strict=False)
            if reserve > before
        ),
        dry_min=dry_min, weighted_dry_cost=weighted_dry_cost,
    )  # fmt: skip


def small_report(starts_at: datetime = MONDAY) -> AuditReport:
    """The audit of that roster: reserves by hand, falling straight."""
    at = horizon(starts_at).at
    slab = _trace(
        _quay_slab(),
        (
            (480, 0.0), (480, 0.8),
            # 0.8 − 0.05 × (1100 − 480)/60
            (1100, 0.8 - 0.05 * 620 / 60), (1100, 0.8),
            (1570, 0.8 - 0.05 * 470 / 60), (1570, 0.8),
            (HORIZON_MIN, 0.8 - 0.05 * 590 / 60),
        ),
        (
            ("fresh", 300, 360), ("exposed", 360, 390), ("fogged", 390, 480),
            ("covered", 480, HORIZON_MIN),
        ),
        starts_at, 30, 720,
    )  # fmt: skip
    pit = _trace(
        _pump_pit(),
        (
            (0, 0.6), (350, 0.6 - 0.1 * 350 / 60), (350, 0.8), (830, 0.0),
            (1010, 0.0), (1010, 0.8), (1420, 0.8 - 0.1 * 410 / 60), (1420, 0.8),
            (1880, 0.8 - 0.1 * 460 / 60), (1880, 0.8),
            (HORIZON_MIN, 0.8 - 0.1 * 280 / 60),
        ),
        (("covered", 0, HORIZON_MIN),),
        starts_at, 160, 320,
    )  # fmt: skip
    wall = _trace(
        _stair_wall(), (), (("fresh", 500, 545), ("sealed", 545, HORIZON_MIN)),
        starts_at, 0, 0,
    )  # fmt: skip
    gaps = _gaps(starts_at)
    return AuditReport(
        findings=tuple(
            Finding(
                kind="gap", words=reason.words, starts_at=reason.starts_at,
                ends_at=reason.ends_at, surface_id=gap.surface_id, limit=reason.limit,
                minutes=round((reason.ends_at - reason.starts_at).total_seconds() / 60),
            )
            for gap in gaps
            for reason in gap.reasons
        ),
        gaps=gaps,
        surfaces=(slab, pit, wall),
        water=(_water("tap", starts_at), _water("tank", starts_at)),
        shifts=tuple(
            ShiftTrace(
                shift_id=shift_id, crew_id=crew, starts_at=at(start), ends_at=at(end),
                busy_min=busy, travel_min=12, overtime_min=0, called_out=False,
            )
            for shift_id, crew, start, end, busy in _SHIFTS
        ),
        covers=(
            CoverTrace(
                kind="burlap_double", stock_m2=500,
                in_use=(
                    CoverUse(at=at(0), area_m2=120), CoverUse(at=at(480), area_m2=420),
                ),
            ),
        ),
        dry_min=190, cost_by_part={"dry": 1040, "travel": 8},
    )  # fmt: skip


def breach_finding(
    kind: BreachKind, from_min: int, until_min: int, surface_id: str, **figures: object
) -> Finding:
    """A breach between two minutes, at its worst as it begins.

    ``value`` and ``limit`` are temperatures or differences, as the kind has it.
    """
    at = horizon().at(from_min)
    unit = "k" if kind in ("core_to_face", "cooling", "above_air") else "c"
    facts: dict[str, object] = {
        "kind": kind, "clause": "a clause", "worst_at": at,
        f"value_{unit}": figures.pop("value", 23.4),
        f"limit_{unit}": figures.pop("limit", 20),
    }  # fmt: skip
    return Finding(
        kind="temperature", words="", starts_at=at, ends_at=horizon().at(until_min),
        surface_id=surface_id, minutes=until_min - from_min,
        breach=Breach.model_validate(facts | figures),
    )  # fmt: skip


def frosty_report() -> AuditReport:
    """Frost on the quay slab, Tue 00:00 to 06:00; a warm core in the wall all Monday.

    The slab has 5 MPa at 06:00, and the wall's core is warm until Mon 16:00.
    """
    report = small_report()
    frost = breach_finding(
        "frost", 1080, 1440, "P1-top", value=-4, limit=0, strength_mpa=5
    )
    warm = breach_finding("core_to_face", 400, 600, "P3-wall")
    return report.model_copy(update={"findings": (warm, *report.findings, frost)})


def _water(point_id: str, starts_at: datetime) -> WaterTrace:
    """Hour by hour what the visits above draw; the tank refills at 2 L/min."""
    tasks = {
        pattern.id: pattern
        for work in small_roster(starts_at).surfaces
        for pattern in (*work.tasks, *((work.rewet,) if work.rewet else ()))
    }
    drawn_l = [0.0] * (HORIZON_MIN // 60)
    peak_l_min = [0.0] * (HORIZON_MIN // 60)
    for _, task_id, _, _, start, _, point in _VISITS:
        need = tasks[task_id].water
        if need is None or point != point_id:
            continue
        for minute in range(start + need.from_min, start + need.until_min):
            drawn_l[minute // 60] += need.flow_l_min
            peak_l_min[minute // 60] = max(peak_l_min[minute // 60], need.flow_l_min)
    level_l = 4000.0
    hours = []
    for hour, drawn in enumerate(drawn_l):
        level_l = min(4000.0, level_l - drawn + 120)
        hours.append(
            WaterHour(
                at=horizon(starts_at).at(60 * hour), drawn_l=drawn,
                peak_flow_l_min=peak_l_min[hour],
                level_l=level_l if point_id == "tank" else None,
            )
        )  # fmt: skip
    return WaterTrace(water_point_id=point_id, hours=tuple(hours))
