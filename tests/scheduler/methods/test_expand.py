"""The whole work list: what must hold for every site."""

from datetime import datetime, timedelta
from itertools import pairwise
from math import isfinite

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drying import clock as drying_clock
from models.drying.surroundings import surroundings
from models.hydration import clock as hydration_clock
from models.records import (
    Pour,
    SiteInput,
    Stretch,
    SurfaceWork,
    Task,
    WorkList,
)
from scheduler.methods.expand import expand
from scheduler.methods.surfaces import planning_grid, surfaces_of
from scheduler.methods.warnings.requirements import warnings_of
from tests.builders import pour, site_input
from tests.scheduler.methods.methods_builders import (
    FOR_TOPS,
    by_name,
    hour,
    operated,
    work_of,
)


def patterns(surface: SurfaceWork) -> tuple[Task, ...]:
    return (*surface.tasks, *([surface.rewet] if surface.rewet else []))


#: What may follow any method.
FOLLOWING = ("sheet_over_burlap", "plastic_sheet", "insulated_blankets")


@st.composite
def pours(draw: st.DrawFn, number: int, following: bool) -> Pour:
    starts_h = draw(st.integers(-40, 160))
    placing_h = draw(st.integers(1, 8))
    reported = starts_h < -20 and draw(st.booleans())
    fields: dict[str, object] = {
        "method": draw(st.sampled_from(FOR_TOPS)),
        "area_m2": draw(st.integers(2, 1500)),
        "risk": draw(st.integers(1, 3)),
        "zone_id": draw(st.sampled_from(["A", "B"])),
        "placing_starts_at": hour(starts_h),
        "placing_ends_at": hour(starts_h + placing_h),
        "covered_at": hour(-5) if reported else None,
    }
    if draw(st.booleans()):
        fields |= {
            "formed_area_m2": draw(st.integers(2, 300)),
            "formed_method": draw(
                st.sampled_from(
                    [
                        "burlap_double",
                        "plastic_sheet",
                        "compound_clear",
                        "forms_in_place",
                        "soaker_under_sheet",
                    ]
                )
            ),
            "strike_at": hour(starts_h + placing_h + draw(st.integers(1, 60))),
        }
    if following and draw(st.booleans()):
        fields |= {
            "then_method": draw(st.sampled_from(FOLLOWING)),
            "then_after": draw(st.sampled_from(["1 d", "2 d", "weekend", "frost"])),
        }
    if fields["method"] in ("sprinklers", "soaker_under_sheet"):
        fields["area_m2"] = draw(st.integers(2, 200))  # what the tank can feed
    return pour(f"P{number}", **fields)


def fed(given: SiteInput) -> SiteInput:
    """The same site with an inflow to its tank that timers cannot outrun."""
    tap, tank = given.site.water_points
    points = (tap, tank.model_copy(update={"refill_l_min": 30.0}))
    where = given.site.model_copy(update={"water_points": points})
    return given.model_copy(update={"site": where})


@st.composite
def works(draw: st.DrawFn, following: bool = True) -> WorkList:
    count = draw(st.integers(1, 3))
    some = [draw(pours(number, following)) for number in range(count)]
    fog = (hour(5), hour(draw(st.integers(6, 30))))
    curing_h = draw(st.one_of(st.none(), st.integers(10, 160)))
    return work_of(fed(operated(site_input(*some))), curing_h=curing_h, fog=(fog,))


@settings(deadline=None, max_examples=60)
@given(works())
def test_what_holds_for_every_work_list(work: WorkList) -> None:
    length_min = work.horizon.length_min
    ids = [task.id for surface in work.surfaces for task in patterns(surface)]
    assert len(ids) == len(set(ids))
    for surface in work.surfaces:
        own = patterns(surface)
        known = {task.id: task for task in own}
        for task in own:
            assert task.surface_id == surface.surface_id
            assert task.id.startswith(f"{surface.surface_id}/")
            assert task.earliest_min >= 0
            assert task.earliest_min + task.duration_min <= task.due_min
            assert task.due_min <= task.latest_min
            assert task.earliest_min + task.duration_min <= length_min
            for link in task.after:
                before = known[link.task_id]
                lasts_min = 0 if link.from_start else before.duration_min
                first_min = before.earliest_min + lasts_min
                assert task.earliest_min >= first_min + link.min_gap_min
            if task.water:
                assert 0 <= task.water.from_min < task.water.until_min
                assert task.water.until_min <= task.duration_min
                assert task.water.flow_l_min <= 40 + 1e-9
        covering = [task for task in own if task.covers]
        assert len(covering) <= 1
        if surface.covered_from_min is not None:
            assert not covering
            assert surface.fresh == ()
        _check_numbers(surface)
        _check_fresh(surface, length_min)


def _check_numbers(surface: SurfaceWork) -> None:
    numbers = [surface.reserve_at_start_l_m2, surface.ends_min, surface.area_m2]
    if surface.curve:
        numbers += surface.curve.loss_l_m2_h
        assert surface.reserve_at_start_l_m2 <= surface.curve.held_l_m2
    numbers += [w.per_min for w in (*surface.weights, *surface.fresh_weights)]
    assert all(isfinite(number) for number in numbers)
    for steps in (surface.weights, surface.fresh_weights):
        assert steps[0].from_min <= 0 or steps[0].from_min <= surface.ends_min
        assert [s.from_min for s in steps] == sorted({s.from_min for s in steps})


def _check_fresh(surface: SurfaceWork, length_min: int) -> None:
    for stretch in surface.fresh:
        assert 0 <= stretch.from_min < stretch.until_min
        assert stretch.until_min <= min(length_min, surface.ends_min)
    for one, other in pairwise(surface.fresh):
        assert one.until_min < other.from_min


@settings(deadline=None, max_examples=30)
@given(works(following=False))
def test_water_on_a_cover_is_area_times_dose_and_fills_it(work: WorkList) -> None:
    for surface in work.surfaces:
        if surface.rewet and surface.curve:
            assert surface.rewet.water is not None
            dose_l_m2 = surface.rewet.water.litres_l / surface.area_m2
            assert dose_l_m2 >= surface.curve.held_l_m2 - 0.05 / surface.area_m2


@settings(deadline=None, max_examples=20)
@given(works())
def test_the_same_input_gives_the_same_bytes(work: WorkList) -> None:
    again = WorkList.model_validate_json(work.model_dump_json())
    assert again == work


def test_a_bare_surface_dries_too_fast_first_and_at_any_rate_once_late() -> None:
    """Placing ends at 300, takes a cover at 480, half an hour of grace."""
    work = work_of(fog=((hour(6), hour(7)),), curing_h=72)
    assert work.surfaces[0].fresh == (
        Stretch(from_min=360, until_min=420),
        Stretch(from_min=510, until_min=300 + 72 * 60),
    )


def test_fresh_time_that_touches_is_one_stretch() -> None:
    work = work_of(fog=((hour(5), hour(9)),), curing_h=72)
    assert work.surfaces[0].fresh == (Stretch(from_min=300, until_min=4620),)


def test_a_bare_minute_costs_the_factor_more() -> None:
    """300 m² × risk 2 × young 4 × uncovered 3."""
    surface = work_of().surfaces[0]
    assert (surface.weights[0].per_min, surface.fresh_weights[0].per_min) == (24, 72)


def test_what_is_due_after_the_horizon_has_no_price() -> None:
    """Placed Sunday until 23:00 local (minute 9660 + 240); ready 3 h later, 10080-60.

    Laying begins an hour before the plan ends and takes longer: the next plan's.
    """
    late = pour(placing_starts_at=hour(160), placing_ends_at=hour(164), area_m2=20)
    named = by_name(work_of(site_input(late)))
    # 20 m² at 30 by two is 20 min, at night × 1.3: 26 and 6 set-up; due within 60.
    assert named["lay"].duration_min == 32
    assert named["lay"].missed_cost == 600
    assert "soak" not in named or named["soak"].missed_cost == 0
    later = pour(placing_starts_at=hour(160), placing_ends_at=hour(165), area_m2=20)
    assert "lay" not in by_name(work_of(site_input(later)))


def test_crews_water_and_rest_come_along() -> None:
    work = work_of()
    assert work.zone_ids == ("A", "B")
    assert work.travel_min == ((3, 4), (4, 3))
    assert work.water_points == {"A": ("tap", "tank"), "B": ("tank",)}
    assert [supply.id for supply in work.supplies] == ["tap", "tank"]
    assert work.rest_min == 660
    assert {shift.crew_id for shift in work.shifts} == {"red", "owl"}


def busy_site(count: int) -> SiteInput:
    """So many surfaces on the go in a week, of every method."""
    return operated(
        site_input(
            *(
                pour(
                    f"P{i:02}",
                    method=FOR_TOPS[i % len(FOR_TOPS)],
                    area_m2=100 + 5 * i,
                    placing_starts_at=hour(24 * (i % 5) + 1 - 24),
                    placing_ends_at=hour(24 * (i % 5) + 5 - 24),
                )
                for i in range(count)
            )
        )
    )


def test_sixty_surfaces_stay_a_week_a_solver_can_take() -> None:
    work = work_of(busy_site(60), curing_h=150, fog=((hour(-20), hour(100)),))
    assert sum(len(patterns(surface)) for surface in work.surfaces) < 1500


def test_the_true_clocks_fit_the_methods() -> None:
    """The pipeline as it runs: weather, both clocks, work list, warnings."""
    given = busy_site(len(FOR_TOPS))
    surfaces, grid = surfaces_of(given), planning_grid(given)
    around = surroundings(surfaces, given, grid)
    hydration = hydration_clock.run(surfaces, given, around, grid)
    drying = drying_clock.run(surfaces, given, around, hydration)
    work = expand(given, surfaces, hydration, drying)
    for surface in work.surfaces:
        kinds = {task.kind for task in surface.tasks}
        assert {"lay_cover", "spray_compound"} & kinds, surface.surface_id
        assert {"inspect", "read_temperature"} & kinds
        # A timer wets its covers itself; blankets have no free water under them.
        by_hand = not surface.automatic and "read_temperature" not in kinds
        if by_hand:
            assert (surface.curve is None) == (surface.rewet is None)
        if surface.curve:
            assert max(surface.curve.loss_l_m2_h) > 0
    assert expand(given, surfaces, hydration, drying) == work
    found = warnings_of(given, surfaces, hydration, drying)
    assert [f.starts_at for f in found] == sorted(f.starts_at for f in found)


@pytest.mark.parametrize("minutes", [0, 3, 5, 10, 37])
def test_a_horizon_may_begin_at_any_minute(minutes: int) -> None:
    """The same instants, whatever minute the plan begins at."""
    given = site_input()
    start = given.horizon.starts_at + timedelta(minutes=minutes)
    moved = given.model_copy(
        update={"horizon": given.horizon.model_copy(update={"starts_at": start})}
    )
    fog = ((hour(5), hour(7)),)
    plain, later = work_of(given, fog=fog), work_of(moved, fog=fog)
    assert _lay_at(plain) == _lay_at(later) == hour(8)
    assert _fresh_from(plain) == _fresh_from(later) == hour(5)


def _lay_at(work: WorkList) -> datetime:
    return work.horizon.at(by_name(work)["lay-1"].earliest_min)


def _fresh_from(work: WorkList) -> datetime:
    return work.horizon.at(work.surfaces[0].fresh[0].from_min)
