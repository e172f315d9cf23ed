"""Water points over the horizon."""

from datetime import time, timedelta

from hypothesis import given
from hypothesis import strategies as st

from models.records import (
    AutomaticFlow,
    CompetingUse,
    Delivery,
    Horizon,
    Site,
    WaterPoint,
)
from scheduler.methods.resources.water import water_supplies
from tests.builders import MONDAY, site
from tests.scheduler.methods.methods_builders import hour, utc

WEEK = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))


def with_point(**fields: object) -> Site:
    base: dict[str, object] = {
        "id": "tank", "name": "Tank", "kind": "tank", "flow_l_min": 30,
        "capacity_l": 4000, "level_l": 1500, "refill_l_min": 2,
    }  # fmt: skip
    point = WaterPoint.model_validate(base | fields)
    return site().model_copy(update={"water_points": (point,)})


def test_the_allotment_counts_by_the_local_day() -> None:
    """06:00 local to midnight is 18 h, then six whole days, then six hours."""
    days = water_supplies(site(), WEEK)[0].days
    assert [(d.from_min, d.until_min) for d in days][:2] == [(0, 1080), (1080, 2520)]
    assert (days[-1].from_min, days[-1].until_min) == (9720, 10080)


def test_the_day_of_a_clock_change_is_shorter() -> None:
    """28 March 2027 in Berlin has 23 hours, 31 October 25 (see test_shifts)."""
    spring = Horizon(starts_at=utc(2027, 3, 27), ends_at=utc(2027, 3, 31))
    autumn = Horizon(starts_at=utc(2027, 10, 29), ends_at=utc(2027, 11, 2))
    lengths = [
        {d.until_min - d.from_min for d in water_supplies(site(), h)[0].days[1:-1]}
        for h in (spring, autumn)
    ]
    assert lengths == [{23 * 60, 24 * 60}, {24 * 60, 25 * 60}]


def test_others_draw_by_the_clock_and_their_flows_add_up() -> None:
    """Local 07:00-09:00 takes 5, 08:00-10:00 takes 3; minute 0 is 06:00."""
    uses = (
        CompetingUse(starts=time(7), ends=time(9), flow_l_min=5),
        CompetingUse(starts=time(8), ends=time(10), flow_l_min=3),
    )
    taken = water_supplies(with_point(competing=uses), WEEK)[0].taken
    assert [(t.from_min, t.until_min, t.flow_l_min) for t in taken[:3]] == [
        (60, 120, 5), (120, 180, 8), (180, 240, 3),
    ]  # fmt: skip
    assert len(taken) == 3 * 7


def test_a_use_across_midnight_reaches_into_the_horizon() -> None:
    use = (CompetingUse(starts=time(22), ends=time(7), flow_l_min=4),)
    taken = water_supplies(with_point(competing=use), WEEK)[0].taken
    assert (taken[0].from_min, taken[0].until_min) == (0, 60)


def test_deliveries_of_the_week_in_order() -> None:
    loads = (
        Delivery(at=hour(30), litres_l=900),
        Delivery(at=hour(-2), litres_l=700),
        Delivery(at=hour(5), litres_l=800),
        Delivery(at=hour(0), litres_l=100),
        Delivery(at=hour(24 * 7), litres_l=600),
    )
    supply = water_supplies(with_point(deliveries=loads), WEEK)[0]
    assert [(d.at_min, d.litres_l) for d in supply.deliveries] == [
        (0, 100), (300, 800), (1800, 900),
    ]  # fmt: skip
    assert (supply.level_at_start_l, supply.capacity_l) == (1500, 4000)


def test_a_tank_without_a_level_is_full() -> None:
    assert water_supplies(with_point(level_l=None), WEEK)[0].level_at_start_l == 4000


def test_mains_have_no_level() -> None:
    tap = water_supplies(site(), WEEK)[0]
    assert (tap.capacity_l, tap.level_at_start_l) == (None, 0)


def test_what_others_take_counts_however_little() -> None:
    use = CompetingUse(starts=time(7), ends=time(8), flow_l_min=0.5)
    taken = water_supplies(with_point(competing=(use,)), WEEK)[0].taken
    assert [t.flow_l_min for t in taken] == [0.5] * 7


@given(st.integers(1, 23), st.integers(1, 23), st.integers(1, 23), st.integers(1, 23))
def test_stretches_of_taken_flow_never_overlap(a: int, b: int, c: int, d: int) -> None:
    uses = (
        CompetingUse(starts=time(a), ends=time(b), flow_l_min=5),
        CompetingUse(starts=time(c), ends=time(d), flow_l_min=3),
    )
    taken = water_supplies(with_point(competing=uses), WEEK)[0].taken
    edges = [m for t in taken for m in (t.from_min, t.until_min)]
    assert edges == sorted(edges)
    assert all(t.flow_l_min in (3, 5, 8) for t in taken)


def timer(from_min: int, until_min: int, flow_l_min: float = 6) -> AutomaticFlow:
    return AutomaticFlow(
        water_point_id="tank", from_min=from_min, until_min=until_min,
        flow_l_min=flow_l_min,
    )  # fmt: skip


def test_timers_take_from_their_own_supply_beside_others() -> None:
    """Others take 5 from 07:00 to 09:00, minutes 60 to 180; timers 6 in between."""
    where = site()
    use = CompetingUse(starts=time(7), ends=time(9), flow_l_min=5)
    points = tuple(
        p.model_copy(update={"competing": (use,)}) for p in where.water_points
    )
    tap, tank = water_supplies(
        where.model_copy(update={"water_points": points}), WEEK, [timer(170, 190)]
    )
    assert [(t.from_min, t.until_min, t.flow_l_min) for t in tank.taken[:3]] == [
        (60, 170, 5), (170, 180, 11), (180, 190, 6),
    ]  # fmt: skip
    assert [(t.from_min, t.until_min) for t in tap.taken[:1]] == [(60, 180)]


def test_visits_have_what_timers_leave_of_the_allotment_on_their_worst_day() -> None:
    """Monday's midnight is minute 1080: 20 + 10 min on it, 30 min on Tuesday."""
    timers = [timer(100, 120), timer(1070, 1090), timer(2000, 2020)]
    given = with_point(daily_allotment_l=1000)
    (tank,) = water_supplies(given, WEEK, timers)
    assert tank.daily_allotment_l == 1000 - 6 * 30
    (spent,) = water_supplies(given, WEEK, [timer(100, 400)])
    assert spent.daily_allotment_l == 0
    assert water_supplies(with_point(), WEEK, timers)[0].daily_allotment_l is None


def test_a_delivery_that_may_be_late_counts_from_when_it_is_sure_to_be_there() -> None:
    # At minute 60 or up to an hour and a half later; the other comes on time before it.
    loads = (
        Delivery(at=MONDAY + timedelta(hours=1), litres_l=500, late_by_h=1.5),
        Delivery(at=MONDAY + timedelta(hours=2), litres_l=300),
        Delivery(at=MONDAY - timedelta(hours=1), litres_l=700, late_by_h=4),
    )
    supply = water_supplies(with_point(deliveries=loads), WEEK)[0]
    assert [(d.at_min, d.litres_l) for d in supply.deliveries] == [
        (120, 300), (150, 500),
    ]  # fmt: skip
