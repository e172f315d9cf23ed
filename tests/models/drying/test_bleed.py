import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.bleed import bleed_rate_kg_m2_h, fog_needed
from models.errors import OutOfRangeError


# Assumptions of the module: 1 kg/(m² h) after placing, a quarter of it for mixes that
# bleed little, a straight line to nothing at setting.
@pytest.mark.parametrize(
    ("age_fraction", "ordinary", "low"),
    [(0, 1.0, 0.25), (0.5, 0.5, 0.125), (0.75, 0.25, 0.0625), (1, 0, 0), (1.5, 0, 0)],
)
def test_bleeding_is_a_straight_line_from_placing_to_setting(
    age_fraction: float, ordinary: float, low: float
) -> None:
    assert float(bleed_rate_kg_m2_h(age_fraction, False)) == pytest.approx(ordinary)
    assert float(bleed_rate_kg_m2_h(age_fraction, True)) == pytest.approx(low)


def test_bleeding_falls_to_nothing_at_setting() -> None:
    rates = bleed_rate_kg_m2_h(np.array([0.0, 0.5, 0.9, 1.0, 3.0]), False)
    assert list(np.diff(rates) <= 0) == [True] * 4
    assert rates[3:].tolist() == [0, 0]


def test_nothing_bleeds_before_placing() -> None:
    assert float(bleed_rate_kg_m2_h(-0.1, False)) == 0


def test_mixes_that_bleed_little_bleed_less_at_every_age() -> None:
    age = np.array([0.0, 0.3, 0.8])
    assert (bleed_rate_kg_m2_h(age, True) < bleed_rate_kg_m2_h(age, False)).all()


def test_whole_bleeding_of_an_ordinary_mix_is_one_to_three_kilograms() -> None:
    steps = bleed_rate_kg_m2_h((np.arange(450) + 0.5) / 450, False)
    assert 1 <= float(steps.mean()) * 4.5 <= 3


RATE = st.floats(0, 3)


@given(RATE, RATE, RATE, st.booleans(), st.booleans())
def test_more_evaporation_never_needs_less_fog(
    one: float, other: float, bleed: float, low_bleed: bool, plastic: bool
) -> None:
    low, high = sorted((one, other))
    fogged = fog_needed(np.array([low, high]), bleed, 0.5, low_bleed, plastic)
    assert fogged[1] >= fogged[0]


def test_fog_from_the_level_of_the_site() -> None:
    rates = np.array([0.49, 0.5])
    assert fog_needed(rates, 1.0, 0.5, False, True).tolist() == [False, True]


def test_a_mix_that_bleeds_little_is_fogged_from_half_the_level() -> None:
    rates = np.array([0.24, 0.25])
    assert fog_needed(rates, 1.0, 0.5, True, False).tolist() == [False, True]


def test_plastic_concrete_that_dries_faster_than_it_bleeds_likewise() -> None:
    bleeds = np.array([0.4, 0.3, 0.2])
    assert fog_needed(0.3, bleeds, 0.5, False, True).tolist() == [False, False, True]


def test_set_concrete_is_judged_by_the_level_alone() -> None:
    assert not fog_needed(0.3, 0.0, 0.5, False, False)


@pytest.mark.parametrize(
    ("rate", "bleed", "level", "words"),
    [
        (20.1, 0.0, 0.5, "rate_kg_m2_h = 20.1: .* 0 to 20"),
        (0.0, -0.1, 0.5, "bleed_kg_m2_h = -0.1: .* 0 to 20"),
        (0.0, 0.0, 0.0, "fog_from_kg_m2_h = 0: .* 0.01 to 20"),
    ],
)
def test_rates_and_levels_outside_the_range_of_fogging_are_refused(
    rate: float, bleed: float, level: float, words: str
) -> None:
    with pytest.raises(OutOfRangeError, match=rf"^{words} kg/\(m² h\)$"):
        fog_needed(rate, bleed, level, False, True)
