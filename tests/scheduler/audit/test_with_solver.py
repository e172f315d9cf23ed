"""Sites drawn by lot, planned in earnest and audited: both sides must agree.

Clocks, methods and solver run as in a plan, with little effort. The sites are short of
water, people and covers, some lie in the night of a clock change, some begin in the
middle of a planning step, some are rained on.
"""

from collections.abc import Sequence
from datetime import UTC, datetime, time, timedelta
from random import Random

import pytest

import scheduler.audit.replayed.loss as loss_module
from models.drying import clock as drying_clock
from models.drying.cover import cover_loss_kg_m2_h
from models.drying.surroundings import surroundings
from models.hydration import clock as hydration_clock
from models.records import (
    AuditReport,
    Break,
    Busy,
    CompetingUse,
    CoverKind,
    CoversTaken,
    CoverStock,
    Delivery,
    Entry,
    HeatBan,
    Horizon,
    MethodKey,
    Party,
    Pour,
    Roster,
    Rules,
    Site,
    SiteInput,
    TakesCover,
    TaskKind,
    Weather,
    WorkDone,
    WorkFailed,
)
from scheduler.audit.agreement import disagreements
from scheduler.audit.published import changes_of
from scheduler.audit.replay import replay
from scheduler.happened.handed_out import published_in
from scheduler.happened.so_far import SoFar
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.builders import MONDAY, pour, site, site_input, weather, work_for_nothing

STARTS = (
    MONDAY,
    datetime(2027, 3, 26, 5, tzinfo=UTC),  # the clock goes forward on the second night
    datetime(2027, 10, 29, 4, tzinfo=UTC),  # and back
    datetime(2027, 7, 1, 4, 5, tzinfo=UTC),  # in the middle of a step
)
METHODS: tuple[MethodKey, ...] = (
    "burlap_double", "burlap_single", "cotton_mats", "plastic_sheet",
    "sheet_over_burlap", "compound_white",
)  # fmt: skip
KINDS: tuple[CoverKind, ...] = (
    "burlap_double", "burlap_single", "cotton_mats", "plastic_sheet",
    "sheet_over_burlap",
)  # fmt: skip
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DAYS = 3


def drawn_pour(lot: Random, name: str, start: datetime) -> Pour:
    begins = start + timedelta(minutes=10 * lot.randint(-200, DAYS * 100))
    ends = begins + timedelta(minutes=10 * lot.randint(6, 40))
    fields: dict[str, object] = {
        "method": lot.choice(METHODS), "zone_id": lot.choice("AB"),
        "area_m2": lot.randint(20, 500), "placing_starts_at": begins,
        "placing_ends_at": ends, "risk": lot.randint(1, 3),
        "exposure": lot.choice(("open", "sheltered", "indoors")),
    }  # fmt: skip
    if lot.random() < 0.3:
        fields |= {
            "element": "wall", "method": "burlap_double", "formed_area_m2": 60,
            "formed_method": "plastic_sheet", "strike_at": ends + timedelta(hours=20),
        }  # fmt: skip
    elif ends < start - timedelta(hours=12):
        fields |= {
            "method": "burlap_single", "covered_at": ends + timedelta(hours=6),
            "wetted_at": start - timedelta(hours=lot.randint(0, 3)),
        }  # fmt: skip
    return pour(name, **fields)


def drawn_site(lot: Random, start: datetime) -> Site:
    tap, tank = site().water_points
    others = CompetingUse(starts=time(22), ends=time(15), flow_l_min=6)
    load = Delivery(
        at=start + timedelta(hours=27, minutes=7), litres_l=2500, late_by_h=3
    )
    points = (
        tap.model_copy(
            update={
                "flow_l_min": lot.choice((10, 40)), "competing": (others,),
                "daily_allotment_l": lot.choice((None, 800)),
            }
        ),
        tank.model_copy(update={"level_l": 500, "deliveries": (load,)}),
    )  # fmt: skip
    day, night, call = site().shifts
    red, owl = site().crews
    owl = owl.model_copy(update={"shifts": lot.choice((("night",), ("night", "day")))})
    pairs = tuple(
        Party(id=f"red {n}", name=f"pair {n}", people=2, skills=skills)
        for n, skills in ((1, ("labourer", "fogger")), (2, ()))
    )
    overtime_min = lot.choice((60, 200))
    red = red.model_copy(
        update={"parties": lot.choice(((), pairs)), "overtime_max_min": overtime_min}
    )
    shifts = (
        day.model_copy(update={"break_stagger_min": 20}),
        night.model_copy(
            update={
                "days": EVERY_DAY,
                "breaks": (Break(starts=time(2), ends=time(2, 30)),),
            }
        ),
        call.model_copy(update={"days": EVERY_DAY}),
    )
    return site().model_copy(
        update={
            "week_starts_at": start, "days": DAYS, "water_points": points,
            "shifts": shifts, "crews": (red, owl), "heat_bans": lot.choice(
                ((), (HeatBan(starts=time(12, 30), ends=time(15), above_c=20),))
            ),
            "costs": work_for_nothing(
                call_out=lot.choice((20, 400)), call_out_hour=lot.choice((0, 30)),
                call_out_min_h=lot.choice((0, 1)), litre_cost=lot.choice((0, 0.02)),
            ),
            "rules": Rules(
                rest_h=lot.choice((0, 8, 11)),
                week_hours_max_h=lot.choice((None, 57)),
                day_hours_max_h=lot.choice((8, 10, 12)),
                call_out_max_h=lot.choice((2, 8)),
                break_after_h=lot.choice((2, 6)),
            ),
        }
    )  # fmt: skip


def drawn_weather(lot: Random, start: datetime) -> Weather:
    first = start.replace(minute=0) - timedelta(days=3)
    dry = weather(first, 24 * 12, mean_c=lot.choice((8, 18, 28)))
    wet = tuple(
        hour.model_copy(update={"rain_mm": lot.choice((0, 0, 0, 0, 0.3, 3))})
        for hour in dry.hours
    )
    return dry.model_copy(update={"hours": wet}) if lot.random() < 0.5 else dry


def drawn_covers(lot: Random, pours: Sequence[Pour]) -> tuple[CoverStock, ...]:
    """Of each kind enough for the largest surface, though seldom for all."""
    most_m2 = max(one.area_m2 for one in pours)
    return tuple(
        CoverStock(
            kind=kind,
            stock_m2=most_m2 * lot.choice((1, 1.2, 2)),
            soak_lead_h=lot.choice((0, 2, 12)),
            turnaround_h=lot.choice((0, 4)),
        )
        for kind in KINDS
    )


def busied(site: Site, lot: Random, start: datetime) -> Site:
    """The red gang, or its first party, has other work for some hours."""
    from_at = start + timedelta(hours=lot.randint(2, 40))
    busy = Busy(from_at=from_at, until_at=from_at + timedelta(hours=4), why="a crane")
    red, owl = site.crews
    if red.parties and lot.random() < 0.5:
        first = red.parties[0].model_copy(update={"busy": (busy,)})
        red = red.model_copy(update={"parties": (first, *red.parties[1:])})
    else:
        red = red.model_copy(update={"busy": (busy,)})
    return site.model_copy(update={"crews": (red, owl)})


def drawn(seed: int) -> SiteInput:
    lot, start = Random(seed), STARTS[seed % len(STARTS)]
    pours = [drawn_pour(lot, f"P{n}", start) for n in range(lot.randint(2, 5))]
    end = start + timedelta(days=DAYS)
    where = drawn_site(lot, start)
    other = Random(f"busy {seed}")
    where = busied(where, other, start)
    placed_by = other.choice((None, "red", "owl"))
    pours[0] = pours[0].model_copy(update={"crew_id": placed_by})
    covers = drawn_covers(Random(f"covers {seed}"), pours)
    return site_input(*pours).model_copy(
        update={
            "site": where.model_copy(update={"covers": covers}),
            "weather": drawn_weather(lot, start),
            "horizon": Horizon(starts_at=start, ends_at=end),
        }
    )  # fmt: skip


def solved(
    given: SiteInput, near: Roster | None = None, so_far: SoFar | None = None
) -> tuple[Roster, AuditReport]:
    """Plan with little effort, near a roster if there is one, and audit."""
    if so_far is not None:
        near, given = so_far.issue, so_far.facts(given)
    surfaces, grid = surfaces_of(given), planning_grid(given)
    around = surroundings(surfaces, given, grid)
    hydration = hydration_clock.run(surfaces, given, around, grid)
    drying = drying_clock.run(surfaces, given, around, hydration)
    work = expand(given, surfaces, hydration, drying)
    if so_far is not None:
        work = so_far.of(work)
    elif near is not None:
        told = published_in(work.horizon, near)
        work = work.model_copy(update={"published": told})
    roster = solve(work, effort=Effort(work=0.05), seed=1)
    beyond_min = given.site.costs.change_beyond_min
    changes = None if near is None else changes_of(near, roster, beyond_min)
    return roster, replay(given, surfaces, around, hydration, roster, changes)


@pytest.fixture
def _same_loss(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loss_module, "cover_loss_kg_m2_h", cover_loss_kg_m2_h)


@pytest.mark.usefixtures("_same_loss")
@pytest.mark.parametrize("seed", range(8))
def test_the_audit_finds_what_the_solver_claims(seed: int) -> None:
    roster, report = solved(drawn(seed))
    assert roster.visits
    assert disagreements(roster, report) == ()


def disturbed(given: SiteInput, lot: Random) -> SiteInput:
    """A pour slips by some hours, a gang loses a shift, or the week rolls on."""
    match lot.choice(("pour", "gang", "week")):
        case "pour":
            late = given.pours[0]
            slip = timedelta(hours=lot.randint(1, 6))
            times = ("placing_starts_at", "placing_ends_at", "strike_at")
            moved = {name: at + slip for name in times if (at := getattr(late, name))}
            pours = (late.model_copy(update=moved), *given.pours[1:])
            return given.model_copy(update={"pours": pours})
        case "gang":
            first = given.site.shifts[0]
            days = tuple(d for d in first.days if d != lot.choice(("tue", "thu")))
            fewer = first.model_copy(update={"days": days})
            shifts = (fewer, *given.site.shifts[1:])
            where = given.site.model_copy(update={"shifts": shifts})
            return given.model_copy(update={"site": where})
        case _:
            start = given.horizon.starts_at + timedelta(hours=lot.randint(1, 30))
            end = start + timedelta(days=DAYS)
            where = given.site.model_copy(update={"week_starts_at": start})
            week = Horizon(starts_at=start, ends_at=end)
            return given.model_copy(update={"site": where, "horizon": week})


@pytest.mark.usefixtures("_same_loss")
@pytest.mark.parametrize("seed", range(9, 13))
def test_near_a_published_roster_too(seed: int) -> None:
    given, lot = drawn(seed), Random(f"disturbed {seed}")
    held, _ = solved(given)
    roster, report = solved(disturbed(given, lot), near=held)
    assert "changes" in report.amount_by_part
    assert disagreements(roster, report) == ()


def happened(held: Roster, lot: Random) -> SoFar:
    """Half of what began was done at other times than planned, some was not done."""
    at = held.horizon.at(lot.randint(200, held.horizon.length_min - 600))
    entries: list[Entry] = []
    for visit in held.visits:
        if visit.starts_at >= at or lot.random() < 0.5:
            continue
        task = visit.task_id.rsplit("/", 1)[-1]
        kind: TaskKind = "rewet" if task == "rewet" else "inspect"
        fate: WorkDone | WorkFailed = WorkDone(work=kind, visit_id=visit.id)
        if lot.random() < 0.2:
            fate = WorkFailed(work=kind, visit_id=visit.id)
        begun_at = visit.starts_at + timedelta(minutes=lot.randint(-40, 90))
        ended_at = begun_at + (visit.ends_at - visit.starts_at)
        if begun_at < at:
            entries.append(
                Entry(
                    number=len(entries) + 1, about=visit.surface_id, by="AB",
                    happened_at=ended_at, written_at=at, values=fate,
                )
            )  # fmt: skip
    seen: tuple[TakesCover | CoversTaken, ...] = (
        TakesCover(),
        CoversTaken(back_at=at - timedelta(minutes=lot.randint(10, 60))),
    )
    for values in seen:
        about = lot.choice(held.surfaces).surface_id
        when = at - timedelta(minutes=lot.randint(90, 600))
        entries.append(
            Entry(
                number=len(entries) + 1, about=about, by="AB", happened_at=when,
                written_at=at, values=values,
            )
        )  # fmt: skip
    return SoFar(at, held, tuple(entries))


@pytest.mark.usefixtures("_same_loss")
@pytest.mark.parametrize("seed", range(13, 19))
def test_what_has_begun_stands_as_it_happened(seed: int) -> None:
    given, lot = drawn(seed), Random(f"happened {seed}")
    held, _ = solved(given)
    so_far = happened(held, lot)
    roster, report = solved(given, so_far=so_far)
    assert disagreements(roster, report) == ()
    begun = {
        (one.visit.task_id, one.visit.starts_at, one.visit.ends_at)
        for one in so_far.seen
        if not one.is_failed and one.visit.starts_at < so_far.at
    }
    now = [(v.task_id, v.starts_at, v.ends_at) for v in roster.visits]
    before = [one for one in now if one[1] < so_far.at]
    written = {
        entry.values.visit_id
        for entry in so_far.entries
        if isinstance(entry.values, WorkDone)
    }
    kept = [v for v in held.visits if v.id in written]
    assert set(before) <= begun  # nothing is put before it that did not happen
    assert len(before) >= len(kept)  # and all that was written is there


@pytest.mark.usefixtures("_same_loss")
def test_a_week_that_went_as_planned_is_handed_back() -> None:
    given = drawn(13)
    held, _ = solved(given)
    roster, report = solved(given, so_far=SoFar(held.horizon.at(1500), held))
    assert disagreements(roster, report) == ()
    assert roster.visits == held.visits
