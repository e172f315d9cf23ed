import pytest

from models.drying.compound import compound_factor
from models.drying.covers import cover_properties
from models.errors import OutOfRangeError


def test_default_is_that_of_the_c309_class() -> None:
    # 0.55 kg/m² in 72 h (ASTM C309, read); the table is rounded up.
    factor = float(compound_factor(0.55, 72))
    assert (
        factor <= cover_properties("compound_white").evaporation_factor < factor + 0.001
    )


def test_a_stricter_class_loses_in_proportion() -> None:
    # 0.40 kg/m² in 72 h (ASTM C1315, read on a trade page).
    assert float(compound_factor(0.40, 72)) == pytest.approx(
        float(compound_factor(0.55, 72)) * 40 / 55
    )


def test_the_same_loss_in_a_longer_test_is_a_lower_rate() -> None:
    assert float(compound_factor(0.31, 168)) < float(compound_factor(0.31, 72))


def test_a_test_of_no_length_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"test_h = 0: .* 1 to 1000 h"):
        compound_factor(0.55, 0)
