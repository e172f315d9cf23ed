import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.errors import OutOfRangeError
from models.hydration.setting import (
    Ages,
    age_when_placed_h,
    bears_people_ages,
    setting_rate,
    sheen_gone_ages,
    takes_cover_ages,
)

# Rule table of the trade for plain concrete, °F and hours to set (PCA and NRMCA, from
# memory; its two ends were also read on a trade page).
RULE = [
    (100, 1.667),
    (90, 2.667),
    (80, 4),
    (70, 6),
    (60, 8),
    (50, 10.667),
    (40, 14.667),
]


# 40 kJ/mol through its 70 °F row. The table bends more when hot (61 kJ/mol from 80 to
# 100 °F) and less when cold (33 from 50 to 30 °F) than any one activation energy: the
# worst row is 46 % off, and that is the honest size of it.
@pytest.mark.parametrize(("fahrenheit", "hours"), RULE)
def test_setting_follows_the_rule_table_as_far_as_one_energy_can(
    fahrenheit: float, hours: float
) -> None:
    def rate(of_f: float) -> float:
        return float(setting_rate((of_f - 32) / 1.8, 40_000.0))

    ours_h = 6 * rate(70) / rate(fahrenheit)
    assert ours_h == pytest.approx(hours, rel=0.50 if fahrenheit == 100 else 0.25)


# Read on a trade page: 20 °F (11.1 K) colder doubles the time.
def test_twenty_fahrenheit_colder_about_doubles_the_time() -> None:
    slower = setting_rate(23.0, 40_000.0) / setting_rate(11.9, 40_000.0)
    assert 1.7 <= slower <= 2.1


def test_at_20_degrees_setting_keeps_the_times_of_the_mix() -> None:
    assert setting_rate(20.0, 40_000.0) == 1


def test_setting_has_no_cliff_in_frost_and_stops_at_minus_ten() -> None:
    # At 0 °C exp(-40000/8.314 × (1/273.15 - 1/293.15)) = 0.3007, by hand; half of it
    # half way down.
    rates = setting_rate(np.array([0.0, -5.0, -10.0, -20.0]), 40_000.0)
    assert rates.tolist() == pytest.approx([0.3007, 0.15035, 0, 0], abs=5e-5)
    near = setting_rate(np.array([0.01, -0.01]), 40_000.0)
    assert near[0] - near[1] < 0.001


def test_concrete_at_20_degrees_brings_its_haul_along() -> None:
    assert age_when_placed_h(20.0, 40_000.0) == 0.75
    assert age_when_placed_h(30.0, 40_000.0) == pytest.approx(0.75 * 1.7184, abs=1e-4)


def test_ages_of_an_ordinary_mix() -> None:
    # Sets at 4.5 and 6.5 h: half way is 5.5 h; spread 0.85 and 1.2.
    assert tuple(map(float, sheen_gone_ages(4.5))) == pytest.approx((1.8, 3.15, 4.5))
    assert tuple(map(float, takes_cover_ages(4.5, 6.5))) == pytest.approx(
        (4.675, 5.5, 6.6)
    )
    assert tuple(map(float, bears_people_ages(6.5))) == pytest.approx((5.525, 6.5, 7.8))


@given(initial=st.floats(0.5, 30), more=st.floats(0.1, 20))
def test_events_come_in_order(initial: float, more: float) -> None:
    ages: list[Ages] = [
        sheen_gone_ages(initial),
        takes_cover_ages(initial, initial + more),
        bears_people_ages(initial + more),
    ]
    for event in ages:
        assert event.earliest_h < event.expected_h < event.latest_h
    for before, after in itertools.pairwise(ages):
        assert before.expected_h < after.expected_h


@pytest.mark.parametrize("hours", [0.0, 73.0, np.nan])
def test_an_impossible_setting_time_is_refused(hours: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"final_set_h = .*0\.1 to 72 h"):
        bears_people_ages(hours)


def test_setting_refuses_what_is_no_temperature() -> None:
    with pytest.raises(OutOfRangeError, match="setting holds for -60 to 110 °C"):
        setting_rate(111.0, 40_000.0)


def test_setting_is_no_faster_above_80_degrees() -> None:
    assert setting_rate(95.0, 40_000.0) == setting_rate(80.0, 40_000.0)
