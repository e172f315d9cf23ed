import numpy as np
import pytest

from models.hydration.heat import (
    AdiabaticTable,
    DegreeOfHydration,
    MeasuredHeat,
    heat_rate,
)


def curve(tau_h: float = 15.06, beta: float = 0.662, ultimate: float = 0.72,
          total_j_m3: float = 1.0) -> DegreeOfHydration:  # fmt: skip
    return DegreeOfHydration(
        *(np.array([x]) for x in (total_j_m3, tau_h, beta, ultimate))
    )


# Schindler and Folliard (2005), form and parameters from memory, for a Type I cement
# (C3A 8, C3S 58 %, Blaine 370 m²/kg, w/c 0.45); worked by hand calculator.
@pytest.mark.parametrize(
    ("age_h", "alpha"), [(12, 0.225), (24, 0.346), (72, 0.505), (168, 0.588)]
)
def test_degree_of_hydration_matches_the_worked_mix(age_h: float, alpha: float) -> None:
    released = curve().released_j_m3(np.array([[age_h]]))
    assert released[0, 0] == pytest.approx(alpha, abs=0.001)


def test_nothing_is_released_at_age_0_and_all_at_the_end() -> None:
    heat = curve(total_j_m3=1.5e8)
    assert heat.released_j_m3(np.array([[0.0]]))[0, 0] == 0
    assert heat.released_j_m3(np.array([[1e9]]))[0, 0] == pytest.approx(
        0.72 * 1.5e8, rel=1e-5
    )


def test_at_the_time_parameter_a_share_of_1_over_e_is_released() -> None:
    released = curve(ultimate=1.0).released_j_m3(np.array([[15.06]]))
    assert released[0, 0] == pytest.approx(np.exp(-1))


def test_heat_never_goes_back() -> None:
    ages = np.linspace(0, 500, 400)[:, None]
    assert (np.diff(curve().released_j_m3(ages), axis=0) >= 0).all()


def test_table_is_straight_between_rows_and_level_after_them() -> None:
    table = AdiabaticTable(
        np.array([0.0, 10.0, 30.0]), np.array([0.0, 12.0, 40.0]), 2.4e6
    )
    released_k = table.released_j_m3(np.array([5.0, 20.0, 99.0])) / 2.4e6
    assert released_k.tolist() == pytest.approx([6.0, 26.0, 40.0])


def test_rate_is_one_at_the_reference_of_the_curve() -> None:
    rate = heat_rate(np.array([21.1]), np.array([40_000.0]))
    assert rate[0] == pytest.approx(1)


def test_rate_beyond_its_range_is_that_of_its_ends() -> None:
    energy = np.array([40_000.0])
    ends = heat_rate(np.array([-10.0, 80.0]), energy)
    assert heat_rate(np.array([-25.0, 95.0]), energy).tolist() == ends.tolist()


def test_a_test_at_the_reference_ages_as_the_clock_and_a_warm_one_faster() -> None:
    time_h, rise_k = np.array([0.0, 10.0, 30.0]), np.array([0.0, 0.0, 0.0])
    at_reference = AdiabaticTable.of_test(time_h, rise_k, 21.1, 40_000.0, 2.4e6)
    assert at_reference.age_h[-1] == pytest.approx(30)
    # exp(40000/8.314 × (1/294.25 - 1/314.25)) = exp(4811.2 × 2.1629e-4) = 2.831,
    # by hand.
    warm = AdiabaticTable.of_test(time_h, rise_k, 41.1, 40_000.0, 2.4e6)
    assert warm.age_h[-1] == pytest.approx(30 * 2.831, rel=1e-3)


def test_a_table_stands_in_for_the_curve_on_its_own_columns_only() -> None:
    table = AdiabaticTable(np.array([0.0, 10.0]), np.array([0.0, 30.0]), 2.4e6)
    ages_h = np.full((2, 3), 5.0)
    both = MeasuredHeat(curve(), (([1], table),)).released_j_m3(ages_h)
    np.testing.assert_array_equal(both[:, 1], 15 * 2.4e6)
    alone = curve().released_j_m3(ages_h)
    np.testing.assert_array_equal(both[:, [0, 2]], alone[:, [0, 2]])
