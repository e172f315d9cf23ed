import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.records import Stretch, TakenFlow, TankDelivery
from scheduler.solver.plan.water import SupplyLedger, WaterLedger
from scheduler.solver.problem.problem import prepare
from tests.scheduler.solver.solver_builders import surface, tap, work_list

L = 1_000_000


def test_flow_is_what_others_leave() -> None:
    taken = (TakenFlow(from_min=10, until_min=20, flow_l_min=30),)
    point = SupplyLedger(tap(flow_l_min=40, taken=taken), 100)
    point.change((0, 20, 15 * L), 1)
    assert point.flow_fits(0, 10)
    assert not point.flow_fits(0, 11)  # 10 L/min are left from minute 10
    assert not point.flow_fits(19, 30)  # and in minute 19
    assert point.flow_fits(20, 30)


def test_an_allotment_counts_by_local_days() -> None:
    days = (Stretch(from_min=-30, until_min=50), Stretch(from_min=50, until_min=100))
    point = SupplyLedger(tap(daily_allotment_l=100, days=days), 100)
    point.change((40, 60, 10 * L), 1)  # 100 L on each side of midnight
    assert point.allotment_fits(40, 60)
    point.change((90, 91, L), 1)
    assert not point.allotment_fits(90, 91)
    assert not point.allotment_fits(40, 51)
    assert point.allotment_fits(40, 50)  # up to midnight
    point.change((90, 91, L), -1)
    point.change((0, 1, L), 1)
    assert not point.allotment_fits(0, 10)
    assert point.allotment_fits(50, 60)


def test_a_delivery_fills_the_tank_no_further_than_it_holds() -> None:
    supply = tap(
        capacity_l=100,
        level_at_start_l=80,
        deliveries=(TankDelivery(at_min=5, litres_l=50),),
    )
    levels = SupplyLedger(supply, 10).levels()
    assert levels[4] == 80 * L
    assert levels[9] == 100 * L


def test_deliveries_from_the_first_minute_to_the_last_arrive() -> None:
    loads = tuple(TankDelivery(at_min=at, litres_l=10) for at in (-1, 0, 9, 10))
    supply = tap(capacity_l=100, level_at_start_l=0, deliveries=loads)
    assert SupplyLedger(supply, 10).levels().tolist() == [10 * L] * 9 + [20 * L]


def test_copies_lack_the_draws_that_the_book_keeps() -> None:
    book = WaterLedger(prepare(work_list(surface())))
    for draw in ((0, 10, 5 * L), (5, 10, 3 * L)):
        book.change(0, draw, 1)
    (copied,) = book.without([(0, (0, 10, 5 * L))])
    assert copied.drawn[:11].tolist() == [0] * 5 + [3 * L] * 5 + [0]
    assert book.points[0].drawn[:11].tolist() == [5 * L] * 5 + [8 * L] * 5 + [0]


def test_a_book_goes_to_the_next_point_where_the_first_is_short() -> None:
    supplies = (tap(id="a", flow_l_min=10), tap(id="b", flow_l_min=30))
    work = work_list(surface(), supplies=supplies, water_points={"A": ("a", "b")})
    book = WaterLedger(prepare(work))
    assert book.book((0, 1), (0, 10, 20 * L)) == 1
    assert book.book((0, 1), (0, 10, 20 * L)) is None
    assert book.points[1].drawn[:10].tolist() == [20 * L] * 10
    assert not book.points[0].drawn.any()  # what did not fit is taken back, once


@given(
    st.lists(
        st.tuples(st.integers(0, 50), st.integers(1, 20), st.integers(1, 8)), max_size=8
    ),
    st.lists(
        st.tuples(st.integers(0, 50), st.integers(1, 20), st.integers(1, 9)), max_size=3
    ),
    st.integers(0, 100),
    st.integers(0, 4),
)
def test_levels_are_those_of_a_tank_watched_by_the_minute(
    draws: list[tuple[int, int, int]],
    others: list[tuple[int, int, int]],
    start: int,
    refill: int,
) -> None:
    taken = tuple(
        TakenFlow(from_min=a, until_min=a + n, flow_l_min=f) for a, n, f in others
    )
    supply = tap(
        capacity_l=90, level_at_start_l=start, refill_l_min=refill, taken=taken
    )
    point = SupplyLedger(supply, 80)
    for first, minutes, flow in draws:
        point.change((first, first + minutes, flow * L), 1)
    expected, now = [], min(start, 90)
    for minute in range(80):
        now = min(90, now + refill)
        others_now = sum(f for a, n, f in others if a <= minute < a + n)
        if now > 0:
            now = max(0, now - others_now)
        now -= sum(f for a, n, f in draws if a <= minute < a + n)
        expected.append(now * L)
    assert point.levels().tolist() == expected


@given(
    st.lists(
        st.tuples(st.integers(0, 50), st.integers(1, 20), st.integers(1, 8)),
        min_size=1, max_size=12,
    ),
    st.integers(0, 100),
)  # fmt: skip
def test_a_tank_that_is_asked_after_each_draw_answers_by_its_levels(
    draws: list[tuple[int, int, int]], start: int
) -> None:
    taken = (TakenFlow(from_min=20, until_min=30, flow_l_min=4),)
    supply = tap(capacity_l=90, level_at_start_l=start, refill_l_min=2, taken=taken)
    point = SupplyLedger(supply, 80)
    drawn = []
    for first, minutes, flow in draws:
        draw = (first, first + minutes, flow * L)
        point.change(draw, 1)
        drawn.append(draw)
        fits = point.tank_fits()
        assert fits == (point.levels() >= 0).all()
        if not fits or len(drawn) > 4:  # back with this one, or with an older one
            point.change(drawn.pop(-1 if not fits else 0), -1)
            assert point.tank_fits() == (point.levels() >= 0).all()


def test_what_is_sure_of_a_tank_is_forgotten_when_an_older_draw_goes() -> None:
    # 10 L, then 90 of 100: the first taken back leaves 10, not 90 as before the second.
    point = SupplyLedger(tap(capacity_l=100, level_at_start_l=100), 80)
    small, large, more = (10, 11, 10 * L), (20, 21, 90 * L), (30, 31, 50 * L)
    for draw in (small, large):
        point.change(draw, 1)
        assert point.tank_fits()
    point.change(small, -1)
    point.change(more, 1)
    assert not point.tank_fits()
    for draw in (more, large):  # taken back one after the other
        point.change(draw, -1)
    assert point.levels().tolist() == [100 * L] * 80
    assert point.tank_fits()


def test_a_day_without_an_allotment_allows_anything() -> None:
    days = (Stretch(from_min=0, until_min=100),)
    point = SupplyLedger(tap(days=days), 100)
    point.change((0, 100, 1000 * L), 1)
    assert point.allotment_fits(0, 100)


def test_supplies_without_a_tank_are_never_empty() -> None:
    point = SupplyLedger(tap(), 10)
    point.change((0, 10, 5 * L), 1)
    assert point.tank_fits()
    assert point.free.tolist() == np.full(10, 1000 * L).tolist()


@pytest.mark.parametrize(("litres", "units"), [(0.1, 100_000), (1 / 3, 333_334)])
def test_a_draw_is_never_counted_short(litres: float, units: int) -> None:
    taken = (TakenFlow(from_min=0, until_min=1, flow_l_min=litres),)
    assert SupplyLedger(tap(taken=taken), 1).taken[0] == units
