import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from structuralcodes.codes import ec2_2004, mc2010

from models.errors import OutOfRangeError
from models.hydration.eurocode_strength import (
    eurocode_fraction,
    s_of_class,
    s_of_ratio,
    slower_s,
)

DAYS = [0.5, 1, 2, 3, 5, 7, 14, 28, 56, 90]


@pytest.mark.parametrize("cement_class", ["R", "N", "S"])
@pytest.mark.parametrize("days", DAYS)
def test_eurocode_matches_structuralcodes(cement_class: str, days: float) -> None:
    s = ec2_2004.s_time_development(cement_class)
    ours = float(eurocode_fraction(24 * days, s_of_class(cement_class)))  # type: ignore[arg-type]  # one of the three
    assert ours == pytest.approx(float(ec2_2004.beta_cc(days, s)), rel=1e-12)


@pytest.mark.parametrize("cement", [("R", "42.5 R"), ("N", "42.5 N"), ("S", "32.5 N")])
@pytest.mark.parametrize("mean_mpa", [38.0, 60.0, 61.0, 68.0])
def test_model_code_matches_structuralcodes(
    cement: tuple[str, str], mean_mpa: float
) -> None:
    s = s_of_class(cement[0], mean_mpa)  # type: ignore[arg-type]  # one of the three
    theirs = float(np.squeeze(mc2010.beta_cc(7, mean_mpa, cement[1])))
    assert eurocode_fraction(7 * 24, s) == pytest.approx(theirs, rel=1e-12)


# Worked out beforehand from the printed equation.
@pytest.mark.parametrize(
    ("cement_class", "shares"),
    [
        ("R", [0.4239, 0.5779, 0.6630, 0.8187, 0.9205, 1.0, 1.0925]),
        ("N", [0.3420, 0.5039, 0.5982, 0.7788, 0.9016, 1.0, 1.1169]),
        ("S", [0.1958, 0.3528, 0.4580, 0.6839, 0.8544, 1.0, 1.1830]),
    ],
)
def test_eurocode_shares_by_day(cement_class: str, shares: list[float]) -> None:
    ages_h = 24 * np.array([1, 2, 3, 7, 14, 28, 90.0])
    found = eurocode_fraction(ages_h, s_of_class(cement_class))  # type: ignore[arg-type]  # one of the three
    np.testing.assert_allclose(found, shares, atol=5e-5)


@given(ratio=st.floats(0.05, 0.95))
def test_curve_meets_the_2_day_strength_it_was_made_for(ratio: float) -> None:
    assert eurocode_fraction(48.0, s_of_ratio(ratio)) == pytest.approx(ratio)


# Nothing up to a fifth of slag, a tenth of fly ash and water of 0.5; 0.9 × 0.3,
# 0.3 × 0.1, 0.8 × 0.1, and slag with ash: 0.9 × 0.1 + 0.3 × 0.2.
@pytest.mark.parametrize(
    ("slag", "fly_ash", "water", "added"),
    [
        (0.2, 0.1, 0.5, 0), (0.5, 0, 0.5, 0.27), (0, 0.2, 0.4, 0.03),
        (0, 0, 0.6, 0.08), (0.3, 0.3, 0.5, 0.15),
    ],
)  # fmt: skip
def test_slag_fly_ash_and_much_water_make_the_curve_slower(
    slag: float, fly_ash: float, water: float, added: float
) -> None:
    assert slower_s(slag, fly_ash, water) == pytest.approx(added)


def test_an_impossible_coefficient_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"^s = 2: .* holds for 0\.01 to 1\.2$"):
        eurocode_fraction(24.0, 2.0)


def test_an_impossible_ratio_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"holds for 0.05 to 0.95"):
        s_of_ratio(1.2)


@given(one=st.floats(0, 2000), other=st.floats(0, 2000), s=st.floats(0.1, 0.6))
def test_older_concrete_is_never_weaker(one: float, other: float, s: float) -> None:
    young, old = sorted((one, other))
    assert eurocode_fraction(young, s) <= eurocode_fraction(old, s)
