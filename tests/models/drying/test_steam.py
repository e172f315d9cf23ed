import numpy as np
import pytest

from models.drying.ranges import Floats
from models.drying.steam import CycleHours, steam_air_c

#: In at 4 h, hold from 6 to 10 h, over at 12 h.
CYCLE = CycleHours(4, 6, 10, 12)
HALF_HOURS = np.arange(0, 16, 0.5)


def air(outside_c: Floats) -> tuple[Floats, Floats]:
    air_c, steamed = steam_air_c(outside_c, 0.5, CYCLE, 60)
    return air_c, steamed.astype(float)


def test_air_goes_up_stays_and_comes_down_in_straight_lines() -> None:
    air_c, steamed = air(np.full(HALF_HOURS.size, 10.0))
    by_hour = dict(zip(HALF_HOURS.tolist(), air_c.tolist(), strict=True))
    # 50 K in two hours either way.
    for hour, expected_c in (
        (3.5, 10), (4, 10), (4.5, 22.5), (5, 35), (6, 60), (9.5, 60), (10, 60),
        (11, 35), (12, 10), (15, 10),
    ):  # fmt: skip
        assert by_hour[hour] == pytest.approx(expected_c)
    assert steamed.sum() == 16
    assert steamed[8:24].all()


def test_the_way_up_and_down_is_from_and_to_the_air_outside() -> None:
    air_c, _ = air(20 - HALF_HOURS)
    # Outside 16 °C at 4 h and 8 °C at 12 h: half way between at 5 h and 11 h.
    assert air_c[10] == pytest.approx((16 + 60) / 2)
    assert air_c[22] == pytest.approx((60 + 8) / 2)


def test_steam_never_cools() -> None:
    hot = np.full(HALF_HOURS.size, 10.0)
    hot[10:12] = 70.0
    air_c, _ = air(hot)
    assert air_c[10:12].tolist() == [70.0, 70.0]


def test_a_cycle_under_way_goes_on() -> None:
    begun = CycleHours(-2, 0, 1, 3)
    air_c, steamed = steam_air_c(np.full(8, 10.0), 0.5, begun, 60)
    assert steamed.tolist() == [True] * 6 + [False] * 2
    assert air_c.tolist() == pytest.approx([60, 60, 60, 47.5, 35, 22.5, 10, 10])
