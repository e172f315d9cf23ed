"""What a cover has lost since it was last full."""

from datetime import timedelta

import numpy as np
import pytest

from models.drying.learned.since import lost_since_l_m2
from models.records import DryingHistory, Grid
from tests.builders import MONDAY


def drying(*loss_l_m2_h: float) -> DryingHistory:
    """Two surfaces in steps of ten minutes; the second loses as said, step by step."""
    shape = len(loss_l_m2_h), 2
    loss = np.stack([np.full(len(loss_l_m2_h), 9.0), np.array(loss_l_m2_h)], axis=1)
    return DryingHistory(
        grid=Grid(starts_at=MONDAY, step_min=10, steps=len(loss_l_m2_h)),
        surface_ids=("P1-top", "P2-top"), fresh_rate_kg_m2_h=np.zeros(shape),
        cover_loss_l_m2_h=loss, held_l_m2=np.full(2, 0.8),
        held_steps_l_m2=np.full(shape, 0.8), fog_needed=np.zeros(shape, dtype=np.bool_),
    )  # fmt: skip


def lost(clock: DryingHistory, from_min: float, until_min: float) -> float:
    full_at, at = (MONDAY + timedelta(minutes=m) for m in (from_min, until_min))
    return lost_since_l_m2(clock, "P2-top", full_at, at)


def test_parts_of_steps_count_in_part() -> None:
    # 5 min at 0.6, 10 min at 0.3, 2 min at 0.9 L/(m² h)
    clock = drying(0.6, 0.3, 0.9)
    assert lost(clock, 5, 22) == pytest.approx(0.05 + 0.05 + 0.03)
    assert lost(clock, 12, 17) == pytest.approx(0.3 * 5 / 60)
    assert lost(clock, 12, 12) == 0


def test_rain_fills_no_more_than_is_missing() -> None:
    # 0.1 lost, 0.5 of rain on a cover that lacks 0.1, then 0.05 lost
    assert lost(drying(0.6, -3.0, 0.3), 0, 30) == pytest.approx(0.05)


def test_what_is_dry_goes_on_being_counted() -> None:
    """A cover of 0.8 L/m² that was dry for long says so by more than it holds."""
    assert lost(drying(*[6.0] * 6), 0, 60) == pytest.approx(6.0)


def test_nothing_is_counted_outside_the_clock() -> None:
    assert lost(drying(0.6, 0.6), -30, 90) == pytest.approx(0.2)
