"""Where an instant lies in the week, clock changes included."""

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.axis import Axis
from models.records import Horizon

# Europe/Berlin goes from CET to CEST on Sunday 28 March 2027 at 02:00 (EU rule,
# Directive 2000/84/EC: last Sunday in March, 01:00 UTC): that day has 23 hours.
SATURDAY = datetime(2027, 3, 26, 23, 0, tzinfo=UTC)  # Saturday 00:00 CET
OVER_THE_CHANGE = Horizon(starts_at=SATURDAY, ends_at=SATURDAY + timedelta(hours=71))


def test_day_of_the_spring_change_is_23_hours_wide() -> None:
    days = Axis(OVER_THE_CHANGE, "Europe/Berlin").days()
    assert [day.words for day in days] == ["Sat 27 Mar", "Sun 28 Mar", "Mon 29 Mar"]
    # 24, 23 and 24 of 71 hours.
    assert [day.width_pct for day in days] == pytest.approx(
        [33.803, 32.394, 33.803], abs=0.002
    )


def test_nights_cross_midnight_and_are_cut_at_the_ends() -> None:
    nights = Axis(OVER_THE_CHANGE, "Europe/Berlin").nights(time(20), time(6))
    # 00-06, 20-06 (9 h over the change), 20-06, 20-24: 6, 9, 10 and 4 of 71 hours.
    assert [night.width_pct for night in nights] == pytest.approx(
        [8.451, 12.676, 14.085, 5.634], abs=0.002
    )


def test_noon_comes_23_hours_after_noon_over_the_spring_change() -> None:
    # From Saturday 00:00: noon at 12 h, 12 + 23 = 35 h, 35 + 24 = 59 h.
    assert Axis(OVER_THE_CHANGE, "Europe/Berlin").daily(time(12)) == (720, 2100, 3540)


def test_week_holds_its_own_ends_and_nothing_beyond() -> None:
    axis = Axis(OVER_THE_CHANGE, "Europe/Berlin")
    assert axis.holds(SATURDAY)
    assert axis.holds(SATURDAY + timedelta(hours=71))
    assert not axis.holds(SATURDAY - timedelta(minutes=1))
    assert not axis.holds(SATURDAY + timedelta(hours=71, minutes=1))


@given(st.integers(-3000, 8000), st.integers(-3000, 8000))
def test_later_is_never_left_and_nothing_leaves_the_week(one: int, other: int) -> None:
    axis = Axis(OVER_THE_CHANGE, "Europe/Berlin")
    early, late = sorted((one, other))
    left = axis.pct(SATURDAY + timedelta(minutes=early))
    right = axis.pct(SATURDAY + timedelta(minutes=late))
    assert 0 <= left <= right <= 100
