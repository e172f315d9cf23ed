"""The work's covers against the audit's own: reserve, curve, what is held."""

from datetime import datetime, timedelta

import numpy as np
import pytest

from models.records import AuditReport, Surface, SurfaceWork
from tests.builders import MONDAY, surface
from tests.scheduler.audit.audit_builders import (
    LENGTH,
    STEP_MIN,
    audited,
    curve,
    visit,
    work,
)

LAID = visit("lay", 300, 60)


def words(report: AuditReport) -> list[str]:
    assert {finding.kind for finding in report.violations} <= {"drying_clock"}
    return [finding.words for finding in report.violations]


def test_a_curve_that_dries_slower_is_found_from_the_first_counted_minute() -> None:
    report = audited([LAID], [work(curve=curve(0.09))])
    assert words(report) == [
        "P1 top: its cover loses 0.100000 L/(m² h) Mon 11:00; the work says 0.090000"
    ]


def test_what_a_curve_says_before_exposure_and_after_curing_is_nobody_s_matter() -> (
    None
):
    loss = np.full(LENGTH // STEP_MIN, 0.1)
    loss[:30], loss[100:] = 9, 9  # before 300, from 1000 on
    odd = curve(0.1).model_copy(update={"loss_l_m2_h": tuple(loss)})
    assert words(audited([LAID], [work(curve=odd, ends_min=1000)])) == []
    assert len(words(audited([LAID], [work(curve=odd, ends_min=1001)]))) == 1


def test_a_cover_that_holds_more_in_the_work_is_found() -> None:
    report = audited([LAID], [work(curve=curve(0.1, held_l_m2=1.2))])
    assert words(report) == ["P1 top: its cover holds 0.8 L/m²; the work says 1.2"]


def reported(covered_h: float, wetted_h: float | None) -> Surface:
    """Covered and wetted so many hours before the week."""

    def before(hours: float) -> datetime:
        return MONDAY - timedelta(hours=hours)

    return surface(
        covered_at=before(covered_h),
        wetted_at=None if wetted_h is None else before(wetted_h),
    )


def start_of(given: Surface, reserve: float, covered_min: int | None) -> list[str]:
    on: SurfaceWork = work(
        tasks=(), fresh=(), covered_from_min=covered_min, reserve_at_start_l_m2=reserve
    )
    return words(audited([], [on], [given], lead_h=10))


@pytest.mark.parametrize(
    ("wetted_h", "left_l_m2"),
    [(3.0, 0.5), (8.0, 0.0), (9.0, 0.0), (None, 0.3)],
    ids=["3 h ago", "just dry", "long dry", "wet when laid, 5 h ago"],
)
def test_the_reserve_at_the_start_is_what_the_last_wetting_left(
    wetted_h: float | None, left_l_m2: float
) -> None:
    # 0.8 L/m² less 0.1 L/(m² h) since then.
    covered_h = 5 if wetted_h is None else 10
    given = reported(covered_h, wetted_h)
    assert start_of(given, left_l_m2, -60 * covered_h) == []
    assert start_of(given, left_l_m2 + 0.01, -60 * covered_h) == [
        f"P1 top: {left_l_m2:.3f} L/m² are in its cover at the start; the work says "
        f"{left_l_m2 + 0.01:.3f}"
    ]


def test_work_that_forgets_a_cover_that_is_on_is_found() -> None:
    found = start_of(reported(5, None), 0.3, None)
    assert found == ["P1 top: covered from minute -300; the work says None"]


def test_rewets_where_nothing_dries_are_found() -> None:
    assert words(audited([LAID], [work(curve=None)])) == [
        "P1 top: rewets are asked for where nothing dries"
    ]
