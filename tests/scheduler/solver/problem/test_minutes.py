import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.records import DryingCurve, Stretch, WeightStep
from scheduler.solver.problem.minutes import (
    TableCache,
    dry_minutes,
    surface_minutes,
    weights_by_minute,
)
from tests.scheduler.solver.solver_builders import WET_FOR_MIN, surface


def test_a_full_cover_lasts_what_it_holds_over_what_it_loses() -> None:
    clock = surface_minutes(surface(), 600)
    assert clock.dry_at[0] == WET_FOR_MIN
    assert clock.dry_at[100] == 100 + WET_FOR_MIN
    assert clock.dry_at[550] == 600  # past the horizon


def test_the_reserve_at_the_start_runs_out_in_its_share_of_the_time() -> None:
    clock = surface_minutes(surface(reserve_at_start_l_m2=0.25), 600)
    assert clock.dry_at_start == WET_FOR_MIN // 4


def test_dry_minutes_cost_their_weight_until_curing_ends() -> None:
    steps = (WeightStep(from_min=0, per_min=4), WeightStep(from_min=60, per_min=1))
    clock = surface_minutes(surface(weights=steps, ends_min=100), 600)
    # 60 minutes at 4 and 40 at 1
    assert clock.covered_sum[600] == 60 * 4 + 40 * 1
    assert clock.covered_count[600] == 100


def test_a_bare_surface_dries_in_its_fresh_stretches_only() -> None:
    fresh = (Stretch(from_min=-20, until_min=10), Stretch(from_min=50, until_min=60))
    clock = surface_minutes(surface(fresh=fresh), 600)
    assert clock.fresh_count[600] == 20
    assert clock.fresh_sum[600] == 20 * 3


def test_the_first_weight_holds_before_its_minute() -> None:
    assert (
        weights_by_minute((WeightStep(from_min=5, per_min=2),), 10).tolist() == [2] * 10
    )


def test_rain_fills_an_empty_cover() -> None:
    # An hour's rain of 0.5, then a loss of 0.5: empty, filling, falling, empty again.
    loss = (-0.5,) + (0.5,) * 9
    curve = DryingCurve(step_min=60, loss_l_m2_h=loss, held_l_m2=1.0)
    clock = surface_minutes(surface(curve=curve), 600)
    # Minute 0 is dry; 1 to 119 hold rain; from 120 on it is dry to the end.
    assert clock.covered_count[1] == 1
    assert clock.covered_count[120] == 1
    assert clock.covered_count[600] == 481


def test_a_cover_laid_in_the_rain_has_missed_its_beginning() -> None:
    curve = DryingCurve(step_min=60, loss_l_m2_h=(-0.5,) + (0.5,) * 9, held_l_m2=1.0)
    clock = surface_minutes(surface(curve=curve, covered_from_min=None), 600)
    assert clock.late_rain(300) is None  # all dry again: no difference
    found = clock.late_rain(40)
    assert found is not None
    meets, cost, count = found
    # 20 minutes of rain left: dry at 40, wet from 41 to 79, dry until 120 when the
    # cover that was there all the time is dry too.
    assert meets == 120
    assert count[-1] == 1 + 40
    assert cost[-1] == 41


def naive_dry_at(loss: list[int], held: int, wetted: int) -> int:
    reserve = held
    for minute in range(wetted, len(loss)):
        if reserve <= 60:
            return minute
        reserve = min(held, max(0, reserve - loss[minute]))
    return len(loss)


@given(
    st.lists(st.integers(-400, 900), min_size=1, max_size=80),
    st.integers(100, 2000),
)
def test_dry_minutes_are_those_of_a_cover_watched_by_the_minute(
    loss: list[int], held: int
) -> None:
    found = dry_minutes(np.asarray(loss, dtype=np.int64), held)
    assert list(found) == [naive_dry_at(loss, held, m) for m in range(len(loss) + 1)]


@given(st.lists(st.integers(0, 900), min_size=1, max_size=60))
@settings(max_examples=50)
def test_a_later_wetting_never_dries_sooner(loss: list[int]) -> None:
    found = dry_minutes(np.asarray(loss, dtype=np.int64), 1000)
    assert list(found) == sorted(found)


def test_nothing_dries_without_a_curve() -> None:
    clock = surface_minutes(surface(curve=None, rewet=None), 600)
    assert clock.covered_sum[600] == pytest.approx(0)
    assert clock.dry_at_start == 600


def test_surfaces_keep_once_what_they_have_alike() -> None:
    cache = TableCache()
    one = surface_minutes(surface(), 600, cache)
    other = surface_minutes(surface(ends_min=100), 600, cache)
    assert other.dry_at is one.dry_at
    assert other.covered_count is not one.covered_count
    assert (one.covered_count[600], other.covered_count[600]) == (600, 100)
