"""A cover found drier or wetter than its clock makes the clock meet what was found."""

import numpy as np
import pytest

from models.records import Condition, DryingHistory, Entry, Found, Grid, WorkDone
from scheduler.happened.conditions import found_factors
from tests.scheduler.happened.happened_builders import at, entry

HELD = 2.0


def drying(loss_l_m2_h: float = 0.25, hours: int = 48) -> DryingHistory:
    """One cover that loses evenly: full at 0, dry after 8 h."""
    steps = hours * 6
    shape = (steps, 1)
    return DryingHistory(
        grid=Grid(starts_at=at(0), step_min=10, steps=steps),
        surface_ids=("S",),
        fresh_rate_kg_m2_h=np.zeros(shape),
        cover_loss_l_m2_h=np.full(shape, loss_l_m2_h),
        held_l_m2=np.array([HELD]),
        held_steps_l_m2=np.full(shape, HELD),
        fog_needed=np.zeros(shape, bool),
    )


def found(number: int, hours: float, condition: Condition) -> Entry:
    return entry(number, "S", hours, Found(condition=condition))


@pytest.mark.parametrize(
    ("hours", "condition", "factor"),
    [
        (4, "dry", 2.0),  # gone in half the time
        (16, "wet", 0.4),  # 0.2 of it left after twice the time: 0.8 / 2
        (3, "damp", 1.333),  # 0.625 left by the clock, at most 0.5: 0.5 / 0.375
        (4, "patchy", 1.8),  # at most 0.1: 0.9 / 0.5
    ],
)
def test_the_loss_since_it_was_full_is_scaled(
    hours: float, condition: Condition, factor: float
) -> None:
    factors = found_factors(drying(), [found(1, hours, condition)], {"S": [at(0)]})
    (one,) = factors["S"]
    assert (one.starts_at, one.ends_at) == (at(0), at(hours))
    assert one.factor == pytest.approx(factor, rel=0.02)


@pytest.mark.parametrize(
    ("hours", "condition"), [(4, "wet"), (7, "damp"), (9, "dry"), (4, "unknown")]
)
def test_what_the_clock_has_too_changes_nothing(
    hours: float, condition: Condition
) -> None:
    assert found_factors(drying(), [found(1, hours, condition)], {"S": [at(0)]}) == {}


def test_a_find_counts_from_the_last_time_the_cover_was_full() -> None:
    full = [at(0), at(3), at(10)]
    (one,) = found_factors(drying(), [found(1, 7, "dry")], {"S": full})["S"]
    assert one.starts_at == at(3)
    assert one.factor == pytest.approx(2.0, rel=0.02)  # 8 h of water gone in 4 h


def test_a_second_find_goes_on_from_the_first() -> None:
    # A tenth of 2 L/m2 is left at 4 h; by the clock that is gone at 4.8 h.
    first = found(1, 4, "patchy")
    one = found_factors(drying(), [first], {"S": [at(0)]})["S"]
    assert (
        found_factors(drying(), [first, found(2, 6, "dry")], {"S": [at(0)]})["S"] == one
    )
    _, wet = found_factors(drying(), [first, found(2, 6, "damp")], {"S": [at(0)]})["S"]
    assert (wet.starts_at, wet.ends_at) == (at(4), at(6))
    assert wet.factor == pytest.approx(0.1)  # a tenth is still there: as slow as can be


def test_nobody_can_find_a_cover_before_it_was_wet() -> None:
    assert found_factors(drying(), [found(1, 4, "dry")], {"S": []}) == {}


def test_work_tells_how_it_was_found_when_it_began() -> None:
    wetted = WorkDone(work="rewet", found="dry", started_at=at(4))
    (one,) = found_factors(drying(), [entry(1, "S", 5, wetted)], {"S": [at(0)]})["S"]
    assert one.ends_at == at(4)
