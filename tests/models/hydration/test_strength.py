import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from structuralcodes.codes import (
    ec2_2004,
    mc2010,
)

from models.errors import OutOfRangeError
from models.hydration.strength import (
    ACI_209_CONSTANTS,
    aci_209_fraction,
    eurocode_fraction,
    gel_space_ratio,
    hyperbolic_mpa,
    s_of_class,
    s_of_ratio,
    slower_s,
    table_fraction,
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


def test_an_impossible_coefficient_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"^s = 2: .* holds for 0\.01 to 1\.2$"):
        eurocode_fraction(24.0, 2.0)


def test_an_impossible_ratio_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"holds for 0.05 to 0.95"):
        s_of_ratio(1.2)


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


@given(one=st.floats(0, 2000), other=st.floats(0, 2000), s=st.floats(0.1, 0.6))
def test_older_concrete_is_never_weaker(one: float, other: float, s: float) -> None:
    young, old = sorted((one, other))
    assert eurocode_fraction(young, s) <= eurocode_fraction(old, s)
