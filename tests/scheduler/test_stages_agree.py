"""Solver and audit tell the same story of covers that follow one another.

The whole pipeline on a small site with hardly any search: what one side plans the
other counts again on its own, to the minute.
"""

from datetime import timedelta
from itertools import pairwise
from typing import NamedTuple, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drying import clock as drying_clock
from models.drying.surroundings import surroundings
from models.hydration import clock as hydration_clock
from models.records import (
    AuditReport,
    CoverKind,
    CoverStock,
    MethodKey,
    Pour,
    Roster,
    SiteInput,
    Surface,
    WorkList,
)
from scheduler.audit.agreement import disagreements
from scheduler.audit.replay import replay
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.solver.solve import Effort, solve
from tests.builders import MONDAY, pour, site, site_input


class Week(NamedTuple):
    """A planned week, from the surfaces to the audit."""

    surfaces: tuple[Surface, ...]
    work: WorkList
    roster: Roster
    report: AuditReport


def week(of: Pour, rain_mm: float = 0, air_k: float = 0, *covers: CoverStock) -> Week:
    """Plan one pour; it rains for an hour every 15, and is so much warmer."""
    given = able_site(of)
    owned = given.site.model_copy(update={"covers": covers})
    given = given.model_copy(update={"site": owned})
    hours = tuple(
        hour.model_copy(
            update={
                "rain_mm": rain_mm if index % 15 == 0 else 0.0,
                "air_temperature_c": hour.air_temperature_c + air_k,
            }
        )
        for index, hour in enumerate(given.weather.hours)
    )
    weather = given.weather.model_copy(update={"hours": hours})
    given = given.model_copy(update={"weather": weather})
    surfaces, grid = surfaces_of(given), planning_grid(given)
    around = surroundings(surfaces, given, grid)
    hydration = hydration_clock.run(surfaces, given, around, grid)
    drying = drying_clock.run(surfaces, given, around, hydration)
    work = expand(given, surfaces, hydration, drying)
    roster = solve(work, effort=Effort(work=0.2), seed=1)
    report = replay(given, surfaces, around, hydration, roster)
    return Week(surfaces, work, roster, report)


def able_site(of: Pour) -> SiteInput:
    """A site of one tap, where everybody can do everything."""
    base = site()
    zones = tuple(z.model_copy(update={"water_points": ("tap",)}) for z in base.zones)
    skills = ("labourer", "fogger", "sprayer", "steam_operator")
    crews = tuple(crew.model_copy(update={"skills": skills}) for crew in base.crews)
    able = base.model_copy(
        update={"zones": zones, "crews": crews, "water_points": base.water_points[:1]}
    )
    return site_input(of).model_copy(update={"site": able})


MOST_MIN = 10**6

#: First method, what follows it, and when.
CHANGES: tuple[tuple[MethodKey, MethodKey | None, str | None], ...] = (
    ("ponding", None, None),
    ("sprinklers", None, None),
    ("soaker_under_sheet", None, None),
    ("wet_sand", None, None),
    ("live_steam", None, None),
    ("impervious_paper", "burlap_double", "2 d"),
    ("burlap_single", "ponding", "30 h"),
    ("burlap_double", "sheet_over_burlap", "weekend"),
    ("cotton_mats", "compound_white", "3 d"),
    ("plastic_sheet", "sprinklers", "40 h"),
)


@pytest.mark.parametrize(("method", "then_method", "then_after"), CHANGES)
def test_solver_and_audit_agree(
    method: MethodKey, then_method: MethodKey | None, then_after: str | None
) -> None:
    planned = week(
        pour(method=method, then_method=then_method, then_after=then_after), rain_mm=2
    )
    assert disagreements(planned.roster, planned.report) == ()


def in_use_by_work(planned: Week, kind: str) -> list[tuple[int, float]]:
    """What the work list says that covers are taken for, step by step."""
    minute = planned.roster.horizon.minute
    starts = {v.task_id: minute(v.starts_at) for v in planned.roster.visits}
    ends = {v.task_id: minute(v.ends_at) for v in planned.roster.visits}
    steps = {0: 0.0}
    for need in (n for work in planned.work.surfaces for n in work.cover_needs):
        begins = starts.get(need.laid_by or "", need.lies_from_min)
        if need.kind != kind or begins is None:
            continue
        off = [ends[task_id] for task_id in need.lifted_by if task_id in ends]
        done = off and len(off) == len(need.lifted_by)
        first = max(0, begins - need.soak_lead_min)
        if need.soaked_by in starts:
            first = starts[need.soaked_by]
        last = max(off) + need.turnaround_min if done else MOST_MIN
        steps[first] = steps.get(first, 0) + need.area_m2
        steps[last] = steps.get(last, 0) - need.area_m2
    total, levels = 0.0, []
    for step in sorted(steps):
        total += steps[step]
        levels.append((min(step, planned.roster.horizon.length_min), total))
    return levels


@pytest.mark.parametrize(("method", "then_method", "then_after"), CHANGES)
def test_both_sides_take_the_same_covers(
    method: MethodKey, then_method: MethodKey | None, then_after: str | None
) -> None:
    stocks = [CoverStock(kind=kind, stock_m2=5000) for kind in get_args(CoverKind)]
    of = pour(method=method, then_method=then_method, then_after=then_after)
    planned = week(of, 2, 0, *stocks)
    assert disagreements(planned.roster, planned.report) == ()
    minute = planned.roster.horizon.minute
    used = 0.0
    for trace in planned.report.covers:
        counted = [(minute(use.at), use.area_m2) for use in trace.in_use]
        assert counted == in_use_by_work(planned, trace.kind)
        used += max(area_m2 for _, area_m2 in counted)
    assert used > 0


@pytest.mark.parametrize("after", ["insulated_blankets", "burlap_double"])
def test_they_agree_on_blankets_in_the_cold_and_what_follows_or_comes_before(
    after: MethodKey,
) -> None:
    first: MethodKey = "insulated_blankets"
    if after == first:
        first = "burlap_double"
    planned = week(pour(method=first, then_method=after, then_after="2 d"), air_k=-9)
    assert disagreements(planned.roster, planned.report) == ()


@pytest.mark.slow
@settings(deadline=None, max_examples=5)
@given(
    st.sampled_from(["burlap_single", "cotton_mats", "sheet_over_burlap"]),
    st.sampled_from(["burlap_double", "ponding", "plastic_sheet", "wet_sand"]),
    st.integers(20, 150),
    st.sampled_from([0.0, 5.0]),
)
def test_they_agree_whenever_the_cover_is_changed(
    method: MethodKey, then_method: MethodKey, after_h: int, rain_mm: float
) -> None:
    planned = week(
        pour(method=method, then_method=then_method, then_after=f"{after_h} h"),
        rain_mm,
    )
    assert disagreements(planned.roster, planned.report) == ()


def test_the_litres_of_a_timer_are_in_supply_and_trace_alike() -> None:
    planned = week(pour(method="sprinklers"))
    (work,) = planned.work.surfaces
    (tap,) = planned.work.supplies
    automatic_l = sum(
        flow.flow_l_min * (flow.until_min - flow.from_min) for flow in work.automatic
    )
    assert automatic_l > 0
    taken_l = sum(t.flow_l_min * (t.until_min - t.from_min) for t in tap.taken)
    assert taken_l == pytest.approx(automatic_l)
    tasks = {task.id: task for task in work.tasks}
    if work.rewet:
        tasks[work.rewet.id] = work.rewet
    needs = (tasks[visit.task_id].water for visit in planned.roster.visits)
    visits_l = sum(need.litres_l for need in needs if need)
    (trace,) = planned.report.water
    drawn_l = sum(hour.drawn_l for hour in trace.hours)
    assert drawn_l == pytest.approx(automatic_l + visits_l)


def test_water_in_a_pond_is_what_was_lost_and_what_is_left() -> None:
    """Between two wettings the level falls by loss and leak, step by step."""
    planned = week(pour(method="ponding"))
    (surface,), (trace,) = planned.surfaces, planned.report.surfaces
    (stage,) = surface.later
    pond = [p for p in trace.points if p.held_l_m2 == stage.cover.held_l_m2]
    assert pond
    assert pond[0].at >= stage.starts_at - timedelta(minutes=1)
    curve = planned.work.surfaces[0].curve
    assert curve is not None
    scale = stage.cover.held_l_m2 / curve.held_l_m2
    horizon = planned.roster.horizon
    checked = 0
    for before, after in pairwise(pond):
        first, last = horizon.minute(before.at), horizon.minute(after.at)
        if after.reserve_l_m2 >= before.reserve_l_m2 or after.reserve_l_m2 <= 0:
            continue
        lost = sum(curve.loss_l_m2_h[m // curve.step_min] for m in range(first, last))
        assert before.reserve_l_m2 - after.reserve_l_m2 == pytest.approx(
            lost * scale / 60, abs=1e-3
        )
        checked += 1
    assert checked > 20
    assert MONDAY < stage.starts_at < horizon.ends_at
