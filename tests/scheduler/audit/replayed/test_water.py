"""Water points by the minute, sums above the checks."""

from datetime import time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.local_clock import WeekClock
from models.records import (
    AuditReport,
    AutomaticFlow,
    CompetingUse,
    Delivery,
    Horizon,
    Site,
    SurfaceWork,
    WaterHour,
    WaterNeed,
    WaterPoint,
    WaterTrace,
)
from scheduler.audit.replayed.jobs import jobs_of
from scheduler.audit.replayed.water import simulate_water, water_traces
from tests.builders import MONDAY
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    audited,
    rewet,
    roster,
    site_with,
    visit,
    work,
)

CLOCK = WeekClock("Europe/Berlin", HORIZON)


def tank(**fields: object) -> Site:
    base: dict[str, object] = {
        "id": "tank", "name": "Hall tank", "kind": "tank", "flow_l_min": 30,
        "capacity_l": 1000, "level_l": 500,
    }  # fmt: skip
    return site_with(
        water_points=(
            WaterPoint(id="tap", name="Tap at gate", kind="mains", flow_l_min=40),
            WaterPoint.model_validate(base | fields),
        )
    )


def hours(where: Site, *starts: int, point: str = "tank") -> tuple[WaterHour, ...]:
    """Hours of a point from which rewets of 200 L draw at 10 L/min."""
    visits = [visit("rewet", m, 20, "red", water_point_id=point) for m in starts]
    jobs, _ = jobs_of(roster(visits), CLOCK)
    traces: tuple[WaterTrace, ...] = water_traces(
        simulate_water(where, jobs, CLOCK), CLOCK
    )
    return next(trace.hours for trace in traces if trace.water_point_id == point)


def words(report: AuditReport, kind: str) -> list[str]:
    return [finding.words for finding in report.findings if finding.kind == kind]


def test_a_tank_fills_up_to_its_capacity_and_is_drawn_from() -> None:
    # 500 + 60 x 10 = 1100, capped at 1000 after the first hour; a rewet from 60 to 80
    # takes 10 while 10 come in: still 1000 after the second, 200 L drawn at 10 L/min.
    first, second, *_ = hours(tank(refill_l_min=10), 60)
    assert first.level_l == 1000
    assert (second.level_l, second.drawn_l, second.peak_flow_l_min) == (1000, 200, 10)


def test_a_delivery_that_does_not_fit_overflows() -> None:
    # 500 + 700 = 1000 with 200 over; then 200 drawn: 800.
    load = Delivery(at=MONDAY + timedelta(minutes=30), litres_l=700)
    assert [hour.level_l for hour in hours(tank(deliveries=(load,)), 60)[:2]] == [
        1000, 800,
    ]  # fmt: skip


def test_a_delivery_that_may_be_late_is_counted_on_only_then() -> None:
    # Due at 30 min, at 90 at the latest: 500, then 800. What was due before is over.
    load = Delivery(at=MONDAY + timedelta(minutes=30), litres_l=300, late_by_h=1)
    past = Delivery(at=MONDAY - timedelta(minutes=30), litres_l=100, late_by_h=1)
    assert [hour.level_l for hour in hours(tank(deliveries=(load, past)))[:2]] == [
        500, 800,
    ]  # fmt: skip


def test_others_empty_the_tank_but_never_below_nothing() -> None:
    # 06:00 to 08:00 others take 5 L/min: 500 - 300 = 200, then empty at 100 min.
    others = CompetingUse(starts=time(6), ends=time(8), flow_l_min=5)
    assert [hour.level_l for hour in hours(tank(competing=(others,)))[:3]] == [
        200,
        0,
        0,
    ]


def test_what_others_could_not_take_is_not_owed() -> None:
    # Empty since 07:40; a load of 300 at 08:30 is 300 in the tank, not 200.
    others = CompetingUse(starts=time(6), ends=time(8), flow_l_min=5)
    load = Delivery(at=MONDAY + timedelta(minutes=150), litres_l=300)
    week = hours(tank(competing=(others,), deliveries=(load,)))
    assert [hour.level_l for hour in week[:3]] == [200, 0, 300]


def test_what_lies_before_the_week_reaches_into_it() -> None:
    # Others take 5 L/min from 05:00 to 07:00, so for an hour of the week; a load at
    # its very start counts: 500 + 100 - 300; a rewet from -10 draws for 10 minutes.
    others = CompetingUse(starts=time(5), ends=time(7), flow_l_min=5)
    load = Delivery(at=MONDAY, litres_l=100)
    where = tank(competing=(others,), deliveries=(load,))
    assert hours(where)[0].level_l == 300
    first, second, *_ = hours(where, -10)
    assert (first.drawn_l, first.level_l, second.drawn_l) == (100, 200, 0)


def test_a_week_that_begins_a_minute_after_the_hour_has_its_own_midnight() -> None:
    # Monday 06:01: midnight is minute 1079, the last of the eighteenth hour. A
    # timer takes 10 on each of the days, the second in the minute after midnight.
    start = MONDAY + timedelta(minutes=1)
    horizon = Horizon(starts_at=start, ends_at=start + timedelta(days=2))
    clock = WeekClock("Europe/Berlin", horizon)
    timers = [timed((0, 1), (1079, 1080))]
    simulated = simulate_water(tank(daily_allotment_l=100), (), clock, timers)
    left = [hour.allotment_left_l for hour in water_traces(simulated, clock)[1].hours]
    assert left[:19] == [90] * 19


def test_a_tank_whose_level_is_not_given_is_full() -> None:
    assert hours(tank(level_l=None))[0].level_l == 1000


def test_a_draw_beside_others_may_exceed_the_flow() -> None:
    # The tap gives 12, others take 3 from 16:00 to 18:00: 9 are left for 10.
    others = CompetingUse(starts=time(16), ends=time(18), flow_l_min=3)
    tap = WaterPoint(
        id="tap", name="Tap at gate", kind="mains", flow_l_min=12, competing=(others,)
    )
    where = site_with(water_points=(tap, tank().water_points[1]))
    before = audited([visit("lay", 300, 60), visit("rewet", 580, 20)], where=where)
    beside = audited([visit("lay", 300, 60), visit("rewet", 640, 20)], where=where)
    assert words(before, "water_flow") == []
    assert words(beside, "water_flow") == [
        "Tap at gate: 10 L/min drawn Mon 16:40; 9 L/min flow"
    ]


def test_a_day_runs_from_midnight_to_midnight_on_the_wall() -> None:
    # Berlin's Monday ends at minute 18 x 60 = 1080. 240 + 200 on Monday, 200 after.
    day = tank(daily_allotment_l=440)
    spent = hours(day, 640, 1080)
    assert spent[17].allotment_left_l == 240
    assert spent[18].allotment_left_l == 240


def test_a_day_of_a_clock_change_is_one_day() -> None:
    # Sunday 2027-10-31 in Berlin has 25 hours: 04:00 UTC on Saturday + 18 h is its
    # midnight, minute 1080, and it ends at 1080 + 1500 = 2580.
    start = MONDAY.replace(month=10, day=30)
    horizon = Horizon(starts_at=start, ends_at=start + timedelta(days=3))
    clock = WeekClock("Europe/Berlin", horizon)
    point = simulate_water(tank(daily_allotment_l=100), (), clock)[1]
    assert point.days[:2] == ((0, 1080), (1080, 2580))


def test_an_empty_tank_is_named_with_the_litres_that_lack() -> None:
    report = audited(
        [visit("lay", 300, 60, water_point_id="tank")], where=tank(level_l=200)
    )
    # 4 L/min from 11:00 on: 200 L last 50 min; 240 - 200 lack.
    assert words(report, "tank_level") == ["Hall tank runs empty Mon 11:50, 40 L short"]


def test_water_is_drawn_in_its_own_part_of_a_task() -> None:
    late = rewet(water=WaterNeed(litres_l=100, from_min=15, until_min=20))
    report = audited([visit("rewet", 100, 20)], [work(rewet=late)])
    tap = next(trace for trace in report.water if trace.water_point_id == "tap")
    # 115 to 120 lie in the second hour, at 20 L/min.
    assert [hour.drawn_l for hour in tap.hours[:3]] == [0, 100, 0]
    assert tap.hours[1].peak_flow_l_min == 20


starts = st.lists(st.integers(0, HORIZON.length_min - 20), max_size=8, unique=True)


@settings(deadline=None, max_examples=40)
@given(starts)
def test_the_hours_hold_all_that_was_drawn(minutes: list[int]) -> None:
    drawn = sum(hour.drawn_l for hour in hours(tank(), *minutes, point="tap"))
    assert drawn == pytest.approx(200 * len(minutes), abs=1e-6)


@settings(deadline=None, max_examples=40)
@given(starts, st.integers(0, 1000), st.integers(0, 40))
def test_what_a_tank_holds_is_what_came_less_what_went(
    minutes: list[int], level_l: int, refill_tenths: int
) -> None:
    # Nothing overflows: 21 000 + 4320 x 4 < 40 000.
    where = tank(
        capacity_l=40_000, level_l=20_000 + level_l, refill_l_min=refill_tenths / 10
    )
    week = hours(where, *minutes)
    came = 20_000 + level_l + HORIZON.length_min * refill_tenths / 10
    went = sum(hour.drawn_l for hour in week)
    assert week[-1].level_l == pytest.approx(came - went, abs=1e-6)


def timed(*stretches: tuple[int, int], flow_l_min: float = 10) -> SurfaceWork:
    """Work with a system on a timer at the tank."""
    return work(
        automatic=tuple(
            AutomaticFlow(
                water_point_id="tank", from_min=a, until_min=b, flow_l_min=flow_l_min
            )
            for a, b in stretches
        )
    )


def test_a_timer_s_water_is_curing_water_and_comes_out_of_the_tank() -> None:
    simulations = simulate_water(tank(), (), CLOCK, [timed((30, 40), (70, 90))])
    first, second, third, *_ = water_traces(simulations, CLOCK)[1].hours
    assert [hour.drawn_l for hour in (first, second, third)] == [100, 200, 0]
    assert [hour.level_l for hour in (first, second)] == [400, 200]
    assert first.peak_flow_l_min == 10
    at_the_tap = water_traces(simulations, CLOCK)[0].hours
    assert {(hour.drawn_l, hour.level_l) for hour in at_the_tap} == {(0, None)}


def test_a_visit_has_what_a_timer_leaves() -> None:
    # The tank gives 30; a timer takes 25, so 5 are left for a rewet's 10.
    where = tank(level_l=1000)
    visits = [visit("lay", 300, 60), visit("rewet", 600, 20, water_point_id="tank")]
    report = audited(visits, [timed((610, 615), flow_l_min=25)], where=where)
    assert words(report, "water_flow") == [
        "Hall tank: 10 L/min drawn Mon 16:10; 5 L/min flow"
    ]


def test_a_timer_s_water_counts_in_the_day_s_allotment() -> None:
    where = tank(level_l=1000, daily_allotment_l=400)
    visits = [visit("lay", 300, 60), visit("rewet", 600, 20, water_point_id="tank")]
    enough = audited(visits, [timed((610, 630))], where=where)
    assert words(enough, "water_allotment") == []
    over = audited(visits, [timed((610, 631))], where=where)
    assert words(over, "water_allotment") == [
        "Hall tank: 410 L drawn on Mon 3 May; 400 L a day are allowed"
    ]


@pytest.mark.parametrize(
    ("fields", "flow_l_min", "said"),
    [
        # 500 L at 10 L/min last 50 min from minute 100 (07:40).
        ({}, 10, "a timer draws 10 L/min Mon 08:29; the tank is empty then"),
        (
            {"level_l": 1000, "daily_allotment_l": 300},
            10,
            "a timer draws 10 L/min Mon 08:10; 300 L a day are allowed",
        ),
        (
            {"capacity_l": 9000, "level_l": 9000},
            31,
            "a timer draws 31 L/min Mon 07:40; 30 L/min flow",
        ),
    ],
)
def test_a_timer_that_finds_too_little_is_a_finding_and_no_broken_promise(
    fields: dict[str, object], flow_l_min: float, said: str
) -> None:
    report = audited(
        [], [timed((100, 160), flow_l_min=flow_l_min)], where=tank(**fields)
    )
    assert words(report, "automatic_short") == [f"Hall tank: {said}"]
    assert report.violations == ()


def test_a_timer_at_a_point_out_of_reach_is_found() -> None:
    # Zone B reaches the tank alone, zone A both.
    timer = AutomaticFlow(
        water_point_id="tap", from_min=100, until_min=160, flow_l_min=10
    )
    far = work(zone_id="B", automatic=(timer,))
    report = audited([], [far], where=tank(level_l=1000))
    assert words(report, "water_flow") == [
        "P1 top: its timer cannot reach tap from zone B"
    ]
    near = far.model_copy(update={"zone_id": "A"})
    assert audited([], [near], where=tank(level_l=1000)).violations == ()
