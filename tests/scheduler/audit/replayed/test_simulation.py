"""Reserve and dry minutes against a loop that anybody can read."""

from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.local_clock import WeekClock
from models.records import Horizon, Stretch, SurfaceWork
from scheduler.audit.replayed.jobs import jobs_of
from scheduler.audit.replayed.simulation import Simulation, simulate
from tests.builders import MONDAY, surface
from tests.scheduler.audit.audit_builders import (
    grid,
    lay,
    rewet,
    roster,
    task,
    visit,
    work,
)

HOURS = 12
MINUTES = 60 * HOURS
HORIZON = Horizon.model_validate(
    {"starts_at": MONDAY, "ends_at": MONDAY.replace(hour=MONDAY.hour + HOURS)}
)
HELD = 0.8

#: Hundredths of L/(m² h); rain makes some of them negative.
rates = st.lists(st.integers(-60, 120), min_size=MINUTES // 10, max_size=MINUTES // 10)
rewet_starts = st.lists(st.integers(0, MINUTES - 20), max_size=4)


def simulation(
    rates_pct: Sequence[int], lay_start: int | None, starts: Sequence[int], ends: int
) -> Simulation:
    visits = [visit("rewet", start, 20, id=f"r{start}") for start in set(starts)]
    if lay_start is not None:
        visits.append(visit("lay", lay_start, 60))
    plan = roster(visits, [bare_work(ends)], HORIZON)
    jobs, _ = jobs_of(plan, WeekClock("Europe/Berlin", HORIZON))
    loss = np.array(rates_pct, np.float64)[:, None] / 100
    return simulate([surface()], plan.surfaces, jobs, loss, grid(HORIZON), HORIZON)


def bare_work(ends: int) -> SurfaceWork:
    fresh = (Stretch(from_min=100, until_min=200), Stretch(from_min=260, until_min=900))
    return work(tasks=(lay(),), rewet=rewet(), fresh=fresh, ends_min=ends)


def dry_minutes_by_loop(
    rates_pct: Sequence[int], lay_start: int | None, starts: Sequence[int], ends: int
) -> list[int]:
    """In 6000ths of L/m², which a whole percent of L/(m² h) loses by the minute."""
    full, reserve, covered, dry = round(HELD * 6000), 0, False, []
    for minute in range(MINUTES):
        if lay_start is not None and minute == lay_start + 60:
            covered, reserve = True, full
        if covered and any(minute == start + 20 for start in starts):
            reserve = full
        there = any(start + 10 <= minute < start + 20 for start in starts) or (
            lay_start is not None and lay_start + 30 <= minute < lay_start + 60
        )
        bare = 100 <= minute < 200 or 260 <= minute < 900
        thirsty = reserve == 0 if covered else bare
        if thirsty and not there and minute < ends:
            dry.append(minute)
        if covered:
            reserve = min(full, max(0, reserve - rates_pct[minute // 10]))
    return dry


@settings(deadline=None, max_examples=80)
@given(
    rates,
    st.none() | st.integers(0, MINUTES - 60),
    rewet_starts,
    st.integers(0, 2 * MINUTES),
)
def test_dry_minutes_are_those_of_a_plain_loop(
    rates_pct: list[int], lay_start: int | None, starts: list[int], ends: int
) -> None:
    dry = simulation(rates_pct, lay_start, starts, ends).dry[:, 0]
    expected = dry_minutes_by_loop(rates_pct, lay_start, starts, ends)
    assert [int(m) for m in np.flatnonzero(dry)] == expected


@settings(deadline=None, max_examples=60)
@given(rates, st.integers(0, MINUTES - 60), rewet_starts)
def test_the_reserve_stays_between_empty_and_full(
    rates_pct: list[int], lay_start: int, starts: list[int]
) -> None:
    result = simulation(rates_pct, lay_start, starts, MINUTES)
    reserve = [result.reserve_l_m2(minute, 0) for minute in range(MINUTES + 1)]
    assert min(reserve) >= 0
    assert max(reserve) <= HELD
    assert reserve[lay_start + 60] == HELD


@settings(deadline=None, max_examples=30)
@given(rates, st.integers(0, MINUTES - 60), rewet_starts, st.integers(0, MINUTES - 20))
def test_one_rewet_more_never_adds_a_dry_minute(
    rates_pct: list[int], lay_start: int, starts: list[int], extra: int
) -> None:
    before = simulation(rates_pct, lay_start, starts, MINUTES).dry
    after = simulation(rates_pct, lay_start, [*starts, extra], MINUTES).dry
    assert not (after & ~before).any()


def test_a_cover_that_has_run_dry_has_nothing_left_to_the_end() -> None:
    # Laid by 60; 1.2 L/(m² h) are 20 mL a minute: 40 min, then nothing for 620.
    result = simulation([120] * (MINUTES // 10), 0, [], MINUTES)
    assert set(result.reserve_units[100:, 0]) == {0}
    assert result.reserve_l_m2(99, 0) == pytest.approx(0.02)
    assert result.counted_until.tolist() == [MINUTES]


def test_before_a_wetting_there_is_what_the_minute_before_left() -> None:
    # Full at 60, 0.02 L/m² a minute: at 80, as a rewet ends, 0.4 are left of 0.8.
    result = simulation([120] * (MINUTES // 10), 0, [60], MINUTES)
    assert result.reserve_l_m2(80, 0) == HELD
    assert result.before(80, 0) == pytest.approx(0.4)
    # Dry at 120, and before rain no more than nothing, in rain no more than full.
    assert result.before(300, 0) == 0
    rain = simulation([120] * 6 + [-60] * (MINUTES // 10 - 6), 0, [], MINUTES)
    assert rain.before(300, 0) == pytest.approx(HELD)


def test_a_dry_cover_stays_dry_to_the_middle_of_a_re_wetting() -> None:
    # Laid by 60, at 0.02 L/m² a minute dry from 100. Wetted from 200 to 220 it is wet
    # from 210, full at 220 and dry at 260, when the next one, from 250 to 270, is half
    # done; full at 270 it is dry from 310.
    result = simulation([120] * (MINUTES // 10), 0, [200, 250], MINUTES)
    dry = np.flatnonzero(result.dry[:320, 0]).tolist()
    assert dry == [*range(100, 210), *range(310, 320)]
    guarded = np.flatnonzero(result.guarded[:, 0]).tolist()
    assert guarded == [*range(30, 60), *range(210, 220), *range(260, 270)]


def test_work_at_either_end_of_the_week_counts_in_it() -> None:
    # Bare and fresh from 0 on, fogged 0 to 20 and over the last ten minutes.
    fog = task("fog", kind="fog", duration_min=20, effect="protect")
    fresh = (Stretch(from_min=0, until_min=2 * MINUTES),)
    of = work(tasks=(fog,), rewet=None, fresh=fresh, ends_min=2 * MINUTES)
    visits = [visit("fog", 0, 20, id="a"), visit("fog", MINUTES - 10, 20, id="b")]
    plan = roster(visits, [of], HORIZON)
    jobs, _ = jobs_of(plan, WeekClock("Europe/Berlin", HORIZON))
    loss = np.zeros((MINUTES // 10, 1))
    result = simulate([surface()], [of], jobs, loss, grid(HORIZON), HORIZON)
    assert np.flatnonzero(result.dry[:, 0]).tolist() == list(range(20, MINUTES - 10))
    assert result.covered_from.tolist() == result.sealed_from.tolist() == [MINUTES]


@pytest.mark.parametrize(("covered_min", "counts_from"), [(-60, 0), (0, 0), (90, 90)])
def test_a_reported_cover_counts_from_its_report_within_the_week(
    covered_min: int, counts_from: int
) -> None:
    on = surface(covered_at=HORIZON.at(covered_min))
    fresh = (Stretch(from_min=0, until_min=MINUTES),)
    of = work(tasks=(), fresh=fresh)
    loss = np.full((MINUTES // 10, 1), 1.2)
    result = simulate([on], [of], (), loss, grid(HORIZON), HORIZON)
    assert result.covered_from.tolist() == [counts_from]
    bare = np.flatnonzero(result.dry[:, 0])[:counts_from]
    assert bare.tolist() == list(range(counts_from))


def test_a_cover_that_holds_no_water_is_not_dry() -> None:
    sheet = surface().cover.model_copy(update={"held_l_m2": 0})
    of = bare_work(MINUTES)
    visits = [visit("lay", 0, 60)]
    jobs, _ = jobs_of(
        roster(visits, [of], HORIZON), WeekClock("Europe/Berlin", HORIZON)
    )
    loss = np.zeros((MINUTES // 10, 1))
    result = simulate([surface(cover=sheet)], [of], jobs, loss, grid(HORIZON), HORIZON)
    assert not result.dry.any()


def test_a_timer_keeps_its_cover_full_from_its_start_on() -> None:
    # Under the cover from 0 on and 0.02 L/m² less a minute, until it is started by 30.
    start = task("start", kind="commission", duration_min=10, effect="seal")
    of = work(tasks=(start,), rewet=None, fresh=())
    on = surface(covered_at=HORIZON.starts_at, wetted_at=HORIZON.starts_at)
    plan = roster([visit("start", 20, 10)], [of], HORIZON)
    jobs, _ = jobs_of(plan, WeekClock("Europe/Berlin", HORIZON))
    loss = np.full((MINUTES // 10, 1), 1.2)
    result = simulate([on], [of], jobs, loss, grid(HORIZON), HORIZON)
    assert result.reserve_l_m2(29, 0) == pytest.approx(HELD - 29 * 0.02)
    assert {result.reserve_l_m2(m, 0) for m in range(30, MINUTES + 1)} == {HELD}
    assert result.sealed_from.tolist() == [30]
    assert not result.dry.any()


def test_work_that_ended_before_the_week_counts_from_its_start() -> None:
    of = bare_work(MINUTES)
    plan = roster([visit("lay", -90, 60)], [of], HORIZON)
    jobs, _ = jobs_of(plan, WeekClock("Europe/Berlin", HORIZON))
    loss = np.full((MINUTES // 10, 1), 0.6)
    result = simulate([surface()], [of], jobs, loss, grid(HORIZON), HORIZON)
    assert result.covered_from.tolist() == [0]
    assert result.wettings == ((0,),)
    # 0.01 L/m² a minute from 0.8
    assert np.flatnonzero(result.dry[:, 0])[0] == 80
