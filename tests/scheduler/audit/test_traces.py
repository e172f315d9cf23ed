"""Phases and points of a surface's week."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.drying.covers import cover_properties
from models.records import AuditReport, AutomaticFlow, CoverStage, SurfaceTrace
from tests.builders import surface
from tests.scheduler.audit.audit_builders import (
    HORIZON,
    LENGTH,
    audited,
    cured_after,
    lay,
    rewet,
    task,
    visit,
    work,
)

BASE = [visit("lay", 300, 60), visit("rewet", 640, 20)]


def trace(report: AuditReport) -> SurfaceTrace:
    return report.surfaces[0]


def points(of: SurfaceTrace) -> list[tuple[int, float]]:
    return [(HORIZON.minute(p.at), p.reserve_l_m2) for p in of.points]


def phases(of: SurfaceTrace) -> list[tuple[str, int, int]]:
    return [
        (p.kind, HORIZON.minute(p.starts_at), HORIZON.minute(p.ends_at))
        for p in of.phases
    ]


def test_phases_follow_each_other_from_exposure_to_the_end_of_the_week() -> None:
    # Exposed at 300, bare and fine until 420, dry until the cover is half laid at 510.
    # Cured 576 min after placing, and the dry hour and a half, 966 at the latest.
    of = trace(
        audited([visit("lay", 480, 60)], [work(ends_min=1000)], given=cured_after(0.4))
    )
    assert phases(of) == [
        ("fresh", 300, 420), ("exposed", 420, 510), ("fogged", 510, 540),
        ("covered", 540, 1000), ("done", 1000, LENGTH),
    ]  # fmt: skip
    assert of.curing_ends_at == HORIZON.at(1000)


def test_curing_is_not_over_before_the_dry_time_is_made_good() -> None:
    # A day from 300 ends at 1740, 90 min dry from 420 to 510 and 720 from 1020 on put
    # that off to 2550; beyond 1740 the cover counts as damp, as nobody plans for it.
    of = trace(
        audited([visit("lay", 480, 60)], [work(ends_min=1740)], given=cured_after(1))
    )
    assert of.curing_ends_at == HORIZON.at(1740 + 90 + 720)
    assert phases(of)[-2:] == [("covered", 540, 2550), ("done", 2550, LENGTH)]


def test_what_nothing_covers_is_never_told_as_cured() -> None:
    of = trace(audited([], [work(ends_min=1740)], given=cured_after(1)))
    assert of.curing_ends_at is None
    assert phases(of) == [("fresh", 300, 420), ("exposed", 420, LENGTH)]


def test_fog_is_a_phase_of_its_own() -> None:
    fog = task("fog", kind="fog", duration_min=100, effect="protect")
    of = trace(audited([visit("fog", 400, 100)], [work(tasks=(fog,), rewet=None)]))
    assert phases(of) == [
        ("fresh", 300, 400), ("fogged", 400, 500), ("exposed", 500, LENGTH),
    ]  # fmt: skip


def test_points_fall_by_the_clock_and_jump_at_a_wetting() -> None:
    # 0.1 L/(m² h): 0.8 at 360, 0.75 at 390, ... 0.3 at 660, then full; 0 from 1140.
    given_points = points(trace(audited(BASE)))
    assert given_points[:2] == [(360, 0.8), (361, pytest.approx(0.8 - 0.1 / 60))]
    at_minute = dict(given_points)
    assert at_minute[390] == pytest.approx(0.75)
    assert at_minute[640] == pytest.approx(0.8 - 280 / 600)
    jump = [reserve for minute, reserve in given_points if minute == 660]
    assert jump == [pytest.approx(0.3), 0.8]
    assert (1140, 0.0) in given_points
    assert given_points[-1] == (LENGTH, 0.0)
    assert [HORIZON.minute(at) for at in trace(audited(BASE)).wettings] == [360, 660]


def test_a_surface_without_water_in_its_cover_has_no_points() -> None:
    assert trace(audited([])).points == ()


def test_the_price_of_a_surface_is_that_of_its_dry_minutes() -> None:
    of = trace(audited([visit("lay", 480, 60)]))
    # Bare from 420 to 510, dry under the cover from 1020 on.
    assert (of.dry_min, of.weighted_dry_cost) == (90 + 3300, 90 * 3 + 3300)


@settings(deadline=None, max_examples=20)
@given(st.lists(st.integers(400, LENGTH - 20), max_size=5, unique=True))
def test_points_give_the_reserve_between_them(starts: list[int]) -> None:
    # At a constant loss the reserve is made of straight lines, so a reader who joins
    # the points must meet it: 0.8 less 0.1 L/(m² h) since the last wetting.
    visits = [visit("rewet", start, 20) for start in starts]
    of = trace(audited([BASE[0], *visits], [work(rewet=rewet())]))
    minutes = np.arange(361, LENGTH, 7)
    given_points = points(of)
    wet_at = sorted([360, *(start + 20 for start in starts)])
    last = np.array([max(w for w in wet_at if w <= m) for m in minutes])
    expected = np.maximum(0, 0.8 - (minutes - last) / 600)
    keep = ~np.isin(minutes, wet_at)  # a jump has two values
    x, y = np.array(given_points).T
    assert np.allclose(np.interp(minutes, x, y)[keep], expected[keep], atol=1e-6)


@settings(deadline=None, max_examples=20)
@given(st.lists(st.integers(400, LENGTH - 20), max_size=5, unique=True))
def test_points_never_lie_more_than_half_an_hour_apart(starts: list[int]) -> None:
    visits = [visit("rewet", start, 20) for start in starts]
    minutes = [minute for minute, _ in points(trace(audited([BASE[0], *visits])))]
    assert minutes == sorted(minutes)
    assert int(np.diff(minutes).max()) <= 30


@pytest.mark.parametrize(
    ("kind", "automatic", "phase"),
    [
        ("commission", True, "automatic"),
        ("change_cover", False, "sealed"),
    ],
)
def test_what_is_sealed_or_wetted_by_a_timer_stays_full(
    kind: str, automatic: bool, phase: str
) -> None:
    seal = task("seal", kind=kind, duration_min=60, effect="seal")
    flow = AutomaticFlow(
        water_point_id="tap", from_min=700, until_min=LENGTH, flow_l_min=5
    )
    works = [work(tasks=(lay(), seal), automatic=(flow,) if automatic else ())]
    of = trace(audited([BASE[0], visit("seal", 640, 60)], works))
    assert phases(of)[-1] == (phase, 700, LENGTH)
    assert dict(points(of))[640] == pytest.approx(0.8 - 280 / 600)
    later = {reserve for minute, reserve in points(of) if minute > 700}
    assert later == {0.8}
    assert of.dry_min == 0


def test_blankets_over_a_system_that_was_shut_off_are_seen() -> None:
    start = task("start", kind="commission", duration_min=60, effect="seal")
    flow = AutomaticFlow(
        water_point_id="tap", from_min=700, until_min=1000, flow_l_min=5
    )
    blankets = CoverStage(
        method="insulated_blankets",
        cover=cover_properties("insulated_blankets"),
        starts_at=HORIZON.at(1200),
        reason="frost",
    )
    works = [work(tasks=(lay(), start), automatic=(flow,))]
    visits = [BASE[0], visit("start", 640, 60)]
    of = trace(audited(visits, works, [surface(later=(blankets,))]))
    assert phases(of)[-3:] == [
        ("automatic", 700, 1000), ("sealed", 1000, 1200), ("insulated", 1200, LENGTH),
    ]  # fmt: skip
