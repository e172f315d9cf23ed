"""Arrays of the clocks in the minutes of the horizon."""

from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.records import Costs, Grid, Horizon, Stretch
from scheduler.methods.case.grid_times import (
    Times,
    dry_weights,
    drying_curve,
    in_first_cover_l_m2_h,
    reserve_at_start_l_m2,
)
from tests.builders import MONDAY, pour, surface
from tests.scheduler.methods.methods_builders import hour


def times(offset_min: int, steps: int = 60, length_min: int = 120) -> Times:
    """A grid that begins so long before the horizon."""
    grid = Grid(
        starts_at=MONDAY - timedelta(minutes=offset_min), step_min=10, steps=steps
    )
    ends_at = MONDAY + timedelta(minutes=length_min)
    return Times(grid, Horizon(starts_at=MONDAY, ends_at=ends_at))


RAMP = np.arange(60) / 1000


@given(st.integers(0, 180))
def test_every_minute_has_the_loss_of_the_step_it_lies_in(offset_min: int) -> None:
    curve = drying_curve(RAMP, 0.8, times(offset_min))
    assert curve is not None
    for minute in range(120):
        of_grid = RAMP[(minute + offset_min) // 10]
        assert curve.loss_l_m2_h[minute // curve.step_min] == of_grid
    assert len(curve.loss_l_m2_h) * curve.step_min >= 120


def test_an_aligned_horizon_keeps_the_steps_of_the_grid() -> None:
    curve = drying_curve(RAMP, 0.8, times(60))
    assert curve is not None
    assert (curve.step_min, len(curve.loss_l_m2_h)) == (10, 12)


def test_a_compound_has_no_curve() -> None:
    assert drying_curve(RAMP, 0.0, times(60)) is None


def test_losses_are_rounded_to_a_millionth() -> None:
    curve = drying_curve(np.full(60, 0.12345678), 0.8, times(0))
    assert curve is not None
    assert curve.loss_l_m2_h[0] == 0.123457


def test_runs_of_flags_become_stretches() -> None:
    """Steps 2, 3 and 5 of a grid that begins 25 min before minute 0."""
    flags = np.zeros(60, dtype=np.bool_)
    flags[[2, 3, 5]] = True
    assert times(25).stretches(flags) == [
        Stretch(from_min=-5, until_min=15),
        Stretch(from_min=25, until_min=35),
    ]


def covered(wetted_h: float) -> float:
    """Left at minute 0 of a cover of 0.8 that loses 0.12 L/(m² h)."""
    under_way = surface(covered_at=hour(-20), wetted_at=hour(wetted_h))
    grid = times(24 * 60, steps=300)
    return reserve_at_start_l_m2(under_way, np.full(300, 0.12), 0.8, grid)


def test_the_reserve_falls_from_the_last_wetting() -> None:
    """5 h at 0.12 are 0.6 of 0.8; after 20 h nothing is left."""
    assert covered(-5) == pytest.approx(0.2, abs=1e-6)
    assert covered(-20) == 0
    assert covered(0) == 0.8


def test_a_wetting_within_a_step_counts_from_its_minute() -> None:
    """2 h 5 min at 0.12 are 0.25."""
    assert covered(-2 - 5 / 60) == pytest.approx(0.55, abs=1e-6)


def test_rain_fills_but_never_above_what_the_cover_holds() -> None:
    """Dry after 7 h, then an hour of rain of 3 mm, then an hour of 0.12."""
    loss = np.full(300, 0.12)
    under_way = surface(covered_at=hour(-9))
    loss[[(24 - 2) * 6 + i for i in range(6)]] = -3.0
    grid = times(24 * 60, steps=300)
    left = reserve_at_start_l_m2(under_way, loss, 0.8, grid)
    assert left == pytest.approx(0.8 - 0.12, abs=1e-6)


def test_a_bare_surface_has_no_reserve() -> None:
    assert reserve_at_start_l_m2(surface(), RAMP, 0.8, times(60)) == 0


def test_a_dry_minute_costs_by_area_risk_and_age() -> None:
    """Placing ends at 11:00 local, minute 300; 300 m²; factors 4, 2 and 1; risk 3."""
    risky = surface(pour(risk=3), risk=3)
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    weights = dry_weights(risky, Costs(), horizon)
    assert [(w.from_min, w.per_min) for w in weights] == [
        (0, 36), (300 + 1440, 18), (300 + 4320, 9),
    ]  # fmt: skip
    bare = dry_weights(risky, Costs(), horizon, factor=3)
    assert [w.per_min for w in bare] == [108, 54, 27]


@pytest.mark.parametrize(
    ("area_m2", "power", "weighs"),
    [
        (25, 1, 0.25),
        (25, 0.5, 0.5),
        (25, 0, 1),
        (400, 0.5, 2),
        (4, 1, 0.1),  # the floor
    ],
)
def test_small_surfaces_weigh_less_but_never_nothing(
    area_m2: float, power: float, weighs: float
) -> None:
    horizon = Horizon(starts_at=MONDAY, ends_at=MONDAY + timedelta(days=7))
    of = surface(pour(area_m2=area_m2, risk=1), risk=1)
    weights = dry_weights(of, Costs(area_power=power), horizon)
    assert weights[-1].per_min == pytest.approx(weighs)


def test_later_covers_lose_in_litres_of_the_first() -> None:
    """0.3 L/h out of 25 L is as much of the share as 0.0096 out of 0.8."""
    loss, held = np.array([0.3, 0.3, 0.3, -0.5]), np.array([0.8, 25.0, 0.0, 1.6])
    scaled = in_first_cover_l_m2_h(loss, held, 0.8)
    assert scaled.tolist() == [0.3, 0.0096, 0.0, -0.25]


def test_scaled_losses_are_rounded_and_have_no_minus_zero() -> None:
    scaled = in_first_cover_l_m2_h(np.array([0.1, -1e-9]), np.array([0.3, 25.0]), 0.8)
    assert scaled.tolist() == [0.266667, 0.0]
    assert not np.signbit(scaled).any()
