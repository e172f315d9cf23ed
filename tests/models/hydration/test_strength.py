import numpy as np
import pytest

from models.errors import OutOfRangeError
from models.hydration.eurocode_strength import eurocode_fraction
from models.hydration.strength import (
    ACI_209_CONSTANTS,
    aci_209_fraction,
    gel_space_ratio,
    hyperbolic_mpa,
    table_fraction,
)

DAYS = [0.5, 1, 2, 3, 5, 7, 14, 28, 56, 90]


def test_strength_at_age_0_is_0() -> None:
    assert eurocode_fraction(0.0, 0.25) == 0
    assert aci_209_fraction(0.0, 4.0, 0.85) == 0
    assert hyperbolic_mpa(0.0, 44.0, 0.05) == 0


# ACI 209R-92, Table 2.2.1 and Eq. 2-1 (from memory): shares of the 28-day strength,
# t/(a + b t), worked by hand: 7/(4 + 0.85 × 7) = 0.7035, 28/27.8 = 1.0072 and so on.
@pytest.mark.parametrize(
    ("cement", "curing", "days", "share"),
    [
        ("I", "moist", 1, 0.2062),
        ("I", "moist", 3, 0.4580),
        ("I", "moist", 7, 0.7035),
        ("I", "moist", 14, 0.8805),
        ("I", "moist", 28, 1.0072),
        ("III", "moist", 7, 0.8009),
        ("I", "steam", 1, 0.5128),
        ("III", "steam", 1, 0.5952),
    ],
)
def test_aci_209_shares(cement: str, curing: str, days: float, share: float) -> None:
    a_days, b = ACI_209_CONSTANTS[f"{cement}_{curing}"]
    assert aci_209_fraction(24 * days, a_days, b) == pytest.approx(share, abs=5e-5)


def test_hyperbola_is_half_of_its_end_after_one_over_its_rate() -> None:
    # k (t - t0) = 0.05 × (26 - 6) = 1, so S = Su / 2.
    assert hyperbolic_mpa(26.0, 44.0, 0.05, 6.0) == pytest.approx(22.0)
    assert hyperbolic_mpa(20.0, 44.0, 0.05) == pytest.approx(22.0)  # no offset
    assert hyperbolic_mpa(20.0, 0.5, 0.05) == pytest.approx(0.25)


def test_hyperbola_is_0_before_its_offset() -> None:
    assert hyperbolic_mpa(np.array([0.0, 5.9]), 44.0, 0.05, 6.0).tolist() == [0, 0]


def test_table_is_straight_between_its_rows() -> None:
    ages_h, shares = np.array([24.0, 72.0]), np.array([0.3, 0.6])
    found = table_fraction(np.array([0.0, 12.0, 48.0, 500.0]), ages_h, shares)
    assert found.tolist() == pytest.approx([0.0, 0.15, 0.45, 0.6])
    # Rows of a quarter of an hour are rows too.
    assert table_fraction(0.375, np.array([0.25, 0.5]), shares) == pytest.approx(0.45)


# Rows at 24 and 72 h, shares 0.3 and 0.6; nothing before set, straight from there.
@pytest.mark.parametrize(
    ("set_age_h", "age_h", "share"),
    [
        (12, 6, 0), (12, 12, 0), (12, 18, 0.15), (12, 24, 0.3), (12, 48, 0.45),
        # The first row is left out: 18 h and 21 h of 48 and of 42 to the second.
        (24, 42, 0.6 * 18 / 48), (30, 51, 0.3), (30, 72, 0.6),
        # Set after the last row, which then comes a day later: half way at 92 h.
        (80, 80, 0), (80, 92, 0.3), (80, 104, 0.6), (80, 500, 0.6),
        (np.inf, 500, 0),
    ],
)  # fmt: skip
def test_a_table_begins_at_set(set_age_h: float, age_h: float, share: float) -> None:
    ages_h, shares = np.array([24.0, 72.0]), np.array([0.3, 0.6])
    found = table_fraction(age_h, ages_h, shares, set_age_h)
    assert float(found) == pytest.approx(share)


# Powers and Brownyard: 0.68 × 0.5 / (0.16 + 0.5) and 0.68 / (0.32 + 0.4).
@pytest.mark.parametrize(
    ("degree", "water_binder", "ratio"),
    [(0, 0.5, 0), (0.5, 0.5, 0.5152), (1, 0.4, 0.9444)],
)
def test_gel_fills_the_room_between_grains(
    degree: float, water_binder: float, ratio: float
) -> None:
    found = gel_space_ratio(np.array(degree), np.array(water_binder))
    assert float(found) == pytest.approx(ratio, abs=5e-5)


@pytest.mark.parametrize(
    ("ages_h", "shares", "found"),
    [
        ([24.0, 24.0], [0.3, 0.6], "ages_h = 0"),  # the least step from row to row
        ([24.0, 72.0], [0.6, 0.3], "fractions = -0.3"),
        ([24.0, 72.0], [0.3], "ages_h = 24"),
    ],
)
def test_a_table_that_does_not_rise_is_refused(
    ages_h: list[float], shares: list[float], found: str
) -> None:
    with pytest.raises(OutOfRangeError, match=f"{found}: .*as many shares as ages"):
        table_fraction(30.0, np.array(ages_h), np.array(shares))


def test_a_table_may_stand_still() -> None:
    ages_h, shares = np.array([24.0, 72.0]), np.array([0.0, 0.0])
    assert table_fraction(48.0, ages_h, shares) == 0


@pytest.mark.parametrize("age_h", [-1.0, np.nan])
def test_an_impossible_age_is_refused(age_h: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"EN 1992-1-1:2004, 3\.2 .* 0 to inf h"):
        eurocode_fraction(age_h, 0.25)
    with pytest.raises(OutOfRangeError, match=r"ACI 209R-92.* 0 to inf h"):
        aci_209_fraction(age_h, 4.0, 0.85)
    with pytest.raises(OutOfRangeError, match=r"hyperbola.* 0 to inf h"):
        hyperbolic_mpa(age_h, 40.0, 0.1)
    with pytest.raises(OutOfRangeError, match=r"a strength table.* 0 to inf h"):
        table_fraction(age_h, np.array([24.0]), np.array([0.3]))


@pytest.mark.parametrize(
    ("constants", "words"),
    [
        ((0.0, 0.1, 0.0), "ultimate_mpa = 0: .* to 300 MPa"),
        ((301.0, 0.1, 0.0), "ultimate_mpa = 301: .* to 300 MPa"),
        ((40.0, 0.0, 0.0), "rate_constant = 0: .* to 10 1/h"),
        ((40.0, 11.0, 0.0), "rate_constant = 11: .* to 10 1/h"),
        ((40.0, 0.1, -1.0), "offset_h = -1: .* 0 to inf h"),
    ],
)
def test_impossible_constants_of_the_hyperbola_are_refused(
    constants: tuple[float, float, float], words: str
) -> None:
    with pytest.raises(OutOfRangeError, match=f"^{words}$"):
        hyperbolic_mpa(24.0, *constants)
