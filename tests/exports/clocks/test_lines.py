"""Paths: what may be left out of them, and how they are written."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from exports.clocks.lines import line_path, step_path, thinned


def test_points_on_a_straight_line_go_and_the_peak_stays() -> None:
    roof = [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 1.0), (4.0, 0.0)]
    assert thinned(roof) == [(0.0, 0.0), (2.0, 2.0), (4.0, 0.0)]


@given(
    st.lists(st.floats(0, 200), min_size=1, max_size=80), st.sampled_from([0.1, 1, 20])
)
def test_no_point_left_out_lies_off_the_drawn_line(
    heights: list[float], tolerance_px: float
) -> None:
    points = [(float(i), y) for i, y in enumerate(heights)]
    kept = thinned(points, tolerance_px)
    assert kept[0] == points[0]
    assert kept[-1] == points[-1]
    for (x0, y0), (x1, y1) in pairwise(kept):
        for x, y in points[int(x0) : int(x1)]:
            assert abs(y0 + (y1 - y0) * (x - x0) / (x1 - x0) - y) <= tolerance_px + 1e-6


def test_line_is_written_in_relative_steps_that_do_not_drift() -> None:
    # 0.04 and 0.08 each round away; from 64 to 64.12 it is a tenth all the same.
    assert line_path([(64, 10), (64.04, 12.5), (64.12, 9)]) == "M64,10l0,2.5l0.1,-3.5"


def test_steps_go_up_along_and_down_to_the_base() -> None:
    steps = [(10.0, 12.0, 80.0), (12.0, 14.0, 60.0)]
    assert step_path(steps, 90) == "M10,90V80H12V60H14V90Z"


def test_steps_too_near_to_tell_apart_are_one() -> None:
    steps = [(0.0, 1.0, 50.0), (1.0, 2.0, 50.2), (2.0, 3.0, 50.1), (3.0, 4.0, 51.0)]
    assert step_path(steps, 90, 0.3) == "M0,90V50H3V51H4V90Z"


def test_slow_change_is_not_lost_to_the_tolerance() -> None:
    # Each step differs by 0.2 px from the last, the fifth by 1 px from the first.
    steps = [(float(i), i + 1.0, 50 + 0.2 * i) for i in range(6)]
    assert step_path(steps, 90, 0.3) == "M0,90V50H2V50.4H4V50.8H6V90Z"


def test_no_step_no_area() -> None:
    assert step_path([], 90) == ""
