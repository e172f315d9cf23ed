"""Scales: round figures, all values inside, no more marks than fit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.clocks.scale import scale


def test_temperatures_of_a_week() -> None:
    made = scale(3.9, 47.5, 10, 0, 180)
    assert made.marks() == (
        (180, "0"), (144, "10"), (108, "20"), (72, "30"), (36, "40"), (0, "50"),
    )  # fmt: skip
    assert made.y(25) == 90


def test_small_loss_looks_small() -> None:
    made = scale(0, 0.03, 0.2, 100, 200)
    assert [words for _, words in made.marks()] == [
        "0.00", "0.05", "0.10", "0.15", "0.20",
    ]  # fmt: skip
    assert made.y(0.03) == 185  # 0.03 of 0.2 is 15 of 100 px


def test_frost_goes_below_nought() -> None:
    assert [words for _, words in scale(-7, 12, 10, 0, 100).marks()] == [
        "-10", "-5", "0", "5", "10", "15",
    ]  # fmt: skip


def test_beyond_the_scale_is_drawn_at_its_edge() -> None:
    made = scale(0, 1, 0.2, 100, 200)
    assert (made.y(-3), made.y(9)) == (200, 100)


@given(st.floats(-60, 200), st.floats(0, 150), st.floats(0.1, 20))
def test_every_value_is_inside(low: float, span: float, least_span: float) -> None:
    made = scale(low, low + span, least_span, 0, 100)
    assert made.low <= low + 1e-6
    assert made.high >= low + span - 1e-6
    assert 2 <= len(made.marks()) <= 7


@given(st.floats(0, 50), st.floats(0, 50))
def test_more_is_never_drawn_lower(one: float, other: float) -> None:
    made = scale(0, 50, 10, 0, 100)
    less, more = sorted((one, other))
    assert made.y(more) <= made.y(less)
    assert made.y(0) == pytest.approx(100)
