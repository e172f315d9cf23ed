"""When a cover runs dry if nobody comes."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.reserve import dry_from_min, phase_at, share_at
from models.records import DryingCurve, TracePoint
from tests.builders import MONDAY
from tests.exports.exports_builders import small_report


def minute(count: float) -> timedelta:
    return timedelta(minutes=count)


def test_share_falls_straight_between_points() -> None:
    pit = small_report().surfaces[1]
    # 0.6 − 0.1 × 3 h, of 0.8
    assert share_at(pit, MONDAY + minute(180)) == pytest.approx(0.375)


def test_share_at_the_end_of_a_wetting_is_the_full_one() -> None:
    pit = small_report().surfaces[1]
    assert share_at(pit, MONDAY + minute(350)) == 1
    assert share_at(pit, MONDAY + minute(349.9)) < 0.1


def test_share_before_the_first_point_and_after_the_last() -> None:
    slab = small_report().surfaces[0]
    assert share_at(slab, MONDAY) == 0
    # 0.8 − 0.05 × 590/60 h, of 0.8
    assert share_at(slab, MONDAY + minute(5000)) == pytest.approx(1 - 590 / 960)


def test_share_is_that_of_the_cover_in_place() -> None:
    """A pond of 25 L/m² falls from full to half in ten hours."""
    points = (
        TracePoint(at=MONDAY, reserve_l_m2=0.2),
        TracePoint(at=MONDAY, reserve_l_m2=25, held_l_m2=25),
        TracePoint(at=MONDAY + minute(600), reserve_l_m2=12.5, held_l_m2=25),
    )
    ponded = small_report().surfaces[1].model_copy(update={"points": points})
    assert share_at(ponded, MONDAY) == 1
    assert share_at(ponded, MONDAY + minute(300)) == pytest.approx(0.75)
    assert share_at(ponded, MONDAY + minute(900)) == 0.5


def test_phase_holds_from_its_start_up_to_its_end() -> None:
    slab = small_report().surfaces[0]
    assert phase_at(slab, MONDAY) is None
    found = [phase_at(slab, MONDAY + minute(m)) for m in (300, 359, 360, 480)]
    assert [p.kind if p else None for p in found] == [
        "fresh", "fresh", "exposed", "covered",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("loss_l_m2_h", "reserve_l_m2", "from_min", "dry_min"),
    [
        ((0.6, 0.6, 0.6), 0.2, 0, 20),  # 0.01 a minute
        ((0.6, 0.6, 0.6), 0.2, 5, 25),
        ((0.6, 0.6, 0.6), 0.1, 0, 10),  # exactly at the end of a step
        ((0.6, 0.0, 0.6), 0.15, 0, 25),  # ten minutes without loss
        ((0.6, -0.6, 0.6), 0.1, 0, 10),  # dry before the rain
        ((0.6, -6.0, 0.6), 0.15, 0, None),  # rain fills it to 0.3
        ((0.6, 0.6, 0.6), 0.3, 0, None),  # dry only where the curve ends
        ((0.6, 0.6, 0.6), 0.0, 7, 7),
    ],
)
def test_dry_minute(
    loss_l_m2_h: tuple[float, ...],
    reserve_l_m2: float,
    from_min: int,
    dry_min: int | None,
) -> None:
    curve = DryingCurve(step_min=10, loss_l_m2_h=loss_l_m2_h, held_l_m2=0.3)
    assert dry_from_min(curve, reserve_l_m2, from_min, 10_000) == dry_min


def test_dryness_after_curing_does_not_count() -> None:
    curve = DryingCurve(step_min=10, loss_l_m2_h=(0.6, 0.6), held_l_m2=0.3)
    assert dry_from_min(curve, 0.15, 0, 15) is None
    assert dry_from_min(curve, 0.15, 0, 16) == 15


@given(
    st.lists(st.integers(-600, 600), min_size=1, max_size=12),
    st.integers(0, 300),
    st.integers(0, 119),
)
def test_as_minute_by_minute(losses: list[int], reserve: int, from_min: int) -> None:
    """A walk by single minutes, in thousandths of a litre so that sums are exact."""
    curve = DryingCurve(
        step_min=10,
        loss_l_m2_h=tuple(60 * loss / 10_000 for loss in losses),
        held_l_m2=0.3,
    )
    left = 10 * reserve  # in 0.1 mL/m², as is the loss a minute
    expected = None
    for at in range(from_min, 10 * len(losses)):
        if left <= 0:
            expected = at
            break
        left = min(3000, left - losses[at // 10])
    assert dry_from_min(curve, reserve / 1000, from_min, 10_000) == expected
