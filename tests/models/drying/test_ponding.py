import numpy as np
import pytest

from models.drying.ponding import pond_loss_mm_h
from models.drying.reserve import dries_at_h
from models.errors import OutOfRangeError


def test_an_inch_lasts_five_days_of_five_litres() -> None:
    # 25 mm at 5 mm a day and no leak: 5 d = 120 h.
    loss = np.full(200, float(pond_loss_mm_h(5 / 24, 0)))
    assert float(dries_at_h(0, loss, 1, 25)) == pytest.approx(120)


def test_a_leak_of_the_same_size_halves_it() -> None:
    loss = np.full(200, float(pond_loss_mm_h(5 / 24, 5)))
    assert float(dries_at_h(0, loss, 1, 25)) == pytest.approx(60)


def test_a_negative_leak_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="leak_mm_d = -1"):
        pond_loss_mm_h(0.2, -1)
