import numpy as np
import pytest

from models.drying.ranges import in_range
from models.errors import OutOfRangeError


def test_values_inside_come_back_as_an_array() -> None:
    assert in_range("wind_m_s", 3, 0, 3, "m/s", "a book").tolist() == 3.0


@pytest.mark.parametrize("value", [-0.1, 3.1, float("nan"), float("inf")])
def test_a_value_outside_is_refused_with_range_and_source(value: float) -> None:
    with pytest.raises(
        OutOfRangeError, match=r"wind_m_s = .*a book holds for 0 to 3 m/s"
    ):
        in_range("wind_m_s", np.array([1.0, value]), 0, 3, "m/s", "a book")


def test_the_first_value_outside_is_named() -> None:
    with pytest.raises(OutOfRangeError, match=r"share = 7: a book holds for 0 to 1$"):
        in_range("share", np.array([[0.5, 7.0], [9.0, 0.1]]), 0, 1, "", "a book")
