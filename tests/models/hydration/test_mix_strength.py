import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.hydration.mix_strength import MixStrength, strength_coefficient
from models.records import Mix

MIX = Mix(id="C30", strength_mpa=30, cement_kg_m3=340, water_cement_fraction=0.45)
SET_H = 6.5


def of(**fields: object) -> Mix:
    return Mix.model_validate(MIX.model_dump(exclude_unset=True) | fields)


def shares(mix: Mix, *ages_h: float, set_h: float = SET_H) -> list[float]:
    ages = np.array(ages_h)[:, None]
    found = MixStrength([mix], np.array([set_h])).fraction(ages)[:, 0]
    return [float(share) for share in found]


def test_known_two_day_strength_beats_the_class() -> None:
    # -ln 0.5 / (sqrt 14 - 1) = 0.6931 / 2.7417 = 0.2528
    known = of(**{"strength_ratio_fraction": 0.5})
    assert strength_coefficient(known) == pytest.approx(0.2528, abs=5e-5)
    assert strength_coefficient(MIX) == 0.25


def test_strong_concrete_counts_as_rapid() -> None:
    # 55 + 8 = 63 MPa mean, above 60 (Model Code 2010).
    assert strength_coefficient(of(**{"strength_mpa": 55})) == 0.20


def test_half_slag_raises_the_coefficient() -> None:
    # 0.25 + 0.9 × (0.5 - 0.2) = 0.52; a slow cement with its slag named is the same.
    assert strength_coefficient(of(slag_fraction=0.5)) == pytest.approx(0.52)
    named = of(cement_class="S", slag_fraction=0.5)
    assert strength_coefficient(named) == pytest.approx(0.52)
    assert strength_coefficient(of(cement_class="S", slag_fraction=0.1)) == 0.38


CURVES: list[dict[str, object]] = [
    {},
    {"cement_class": "R"},
    {"slag_fraction": 0.7},
    {"strength_ratio_fraction": 0.5},
    {"aci_209": "III_moist"},
    {"strength_by_age_mpa": ((4.0, 1.0), (24.0, 8.0), (672.0, 38.0))},
    {"strength_share_by_age_fraction": ((24.0, 0.3), (72.0, 0.7))},
    {"ultimate_strength_mpa": 42.0, "strength_rate_per_h": 0.02},
    {"ultimate_strength_mpa": 42.0, "strength_rate_per_h": 0.02,
     "strength_begins_h": 4.0},
]  # fmt: skip


@pytest.mark.parametrize("curve", CURVES, ids=str)
def test_no_curve_has_strength_before_final_set(curve: dict[str, object]) -> None:
    before, just_after, later = shares(of(**curve), 6.5, 6.6, 48.0)
    assert before == 0
    assert 0 < just_after < 0.02
    assert later > 0.1


@pytest.mark.parametrize("curve", CURVES, ids=str)
def test_concrete_that_does_not_set_has_no_strength(curve: dict[str, object]) -> None:
    assert shares(of(**curve), 0.0, 100.0, 2000.0, set_h=np.inf) == [0, 0, 0]


def test_share_of_a_normal_cement_at_a_day() -> None:
    # Worked by hand. Heat: tau 15 h, beta 0.8, ultimate degree 1.031 × 0.45 / 0.644 =
    # 0.7204; an hour at 20 °C is exp(-4811.2 × (1/293.15 - 1/294.25)) = 0.9405 of one
    # at 21.1 °C. Degree at 6.5, 24 and 72 h: 0.7204 exp(-(15/6.113)^0.8) = 0.0927,
    # 0.7204 exp(-(15/22.57)^0.8) = 0.3502, 0.7204 exp(-(15/67.72)^0.8) = 0.5341.
    # Gel-space ratio 0.68 a/(0.32 a + 0.45): 0.1314, 0.4237, 0.5849; to the power 2.6:
    # 0.00511, 0.10723, 0.24800. Of the Eurocode's share at 3 days, exp(0.25 (1 -
    # sqrt(28/3))) = 0.5982, that is (0.10723 - 0.00511)/(0.24800 - 0.00511) = 0.4204.
    assert shares(MIX, 24.0) == pytest.approx([0.4204 * 0.5982], abs=5e-4)


def test_from_three_days_on_the_printed_curve_holds() -> None:
    # exp(0.25 (1 - sqrt(28/t))) at 3, 7 and 28 days.
    printed = [0.5982, 0.7788, 1.0]
    assert shares(MIX, 72, 168, 672) == pytest.approx(printed, abs=5e-5)


def test_a_known_two_day_strength_is_met_at_two_days() -> None:
    assert shares(of(strength_ratio_fraction=0.42), 48) == pytest.approx([0.42])


def test_concrete_that_sets_after_two_days_still_rises_without_a_step() -> None:
    late = shares(MIX, 71.9, 72.1, 95.9, 96.1, set_h=72.0)
    assert late[0] == 0
    assert late[1] < 0.01
    # Printed: exp(0.25 (1 - sqrt(28/4))) = 0.6628.
    assert late[2:] == pytest.approx([0.6628, 0.6628], abs=5e-3)


def test_a_table_begins_at_set_and_goes_straight_to_its_next_row() -> None:
    # 8 MPa of 30 at 24 h: half way from 6.5 to 24 h an eighth of the specified.
    table = of(strength_by_age_mpa=((4.0, 1.0), (24.0, 8.0), (72.0, 20.0)))
    assert shares(table, 15.25, 24, 48) == pytest.approx([4 / 30, 8 / 30, 14 / 30])


def test_a_hyperbola_that_begins_after_set_is_left_as_it_is() -> None:
    # ASTM C1074: 40 k t'/(1 + k t') with k t' = 0.02 × (58 - 8) = 1, half of 40.
    mine = of(ultimate_strength_mpa=40, strength_rate_per_h=0.02, strength_begins_h=8)
    assert shares(mine, 58) == pytest.approx([20 / 30])


def test_much_water_makes_strength_come_later() -> None:
    dry, wet = of(water_cement_fraction=0.4), of(water_cement_fraction=0.6)
    for age_h in (12, 72, 168):
        assert shares(dry, age_h)[0] > shares(wet, age_h)[0]
    assert shares(dry, 672) == pytest.approx(shares(wet, 672))
    # 0.25 + 0.8 × (0.6 - 0.5) = 0.33; up to 0.5 the Eurocode's own.
    assert strength_coefficient(wet) == pytest.approx(0.33)
    assert strength_coefficient(dry) == 0.25


@given(
    one=st.floats(0, 800),
    other=st.floats(0, 800),
    set_h=st.floats(1, 100),
    slag=st.floats(0, 0.9),
)
def test_older_concrete_is_never_weaker(
    one: float, other: float, set_h: float, slag: float
) -> None:
    young, old = sorted((one, other))
    weak, strong = shares(of(slag_fraction=slag), young, old, set_h=set_h)
    assert weak <= strong + 1e-12


def test_surfaces_of_many_mixes_keep_their_own() -> None:
    mixes = [of(**curve).model_copy(update={"id": str(i)}) for i, curve in
             enumerate(CURVES)]  # fmt: skip
    ages = np.linspace(0, 200, 41)
    together = MixStrength(mixes, np.full(len(mixes), SET_H)).fraction(
        np.repeat(ages[:, None], len(mixes), axis=1)
    )
    for column, mix in enumerate(mixes):
        assert together[:, column].tolist() == shares(mix, *ages)
