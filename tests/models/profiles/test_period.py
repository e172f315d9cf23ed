from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from models.profiles.loader import builtin_profile, load_profile, profile_ids
from models.profiles.period import (
    credited_h,
    criteria_for,
    curing_end,
    days_needed,
    fits,
)
from models.records import Floats, Profile
from models.records.criterion import DaysRow, StrengthRow, TableRow
from tests.builders import surface
from tests.models.profiles.period_builders import (
    STEPS_PER_DAY,
    days_of,
    end_of,
    mix,
    on_a_testing_site,
    steady,
)

SEVEN_DAYS = builtin_profile("aci_318")
TESTED = on_a_testing_site("aci_318")
TABLE = TableRow(
    bands_c=(25, 15, 10, 5),
    ratios=(0.5, 0.3),
    days=((1, 1.5), (1, 2.5), (1.5, 4), (2, 5)),
    interpolate=True,
)
# Rules whose end moves with temperature and needs no strength.
BY_TEMPERATURE = ("bs8110", "din1045_3", "en13670_class2", "en13670_class4")


def test_a_cold_day_in_the_middle_adds_a_day() -> None:
    temperature_c = steady(15)
    temperature_c[300 : 300 + STEPS_PER_DAY] = 9.9
    assert end_of(SEVEN_DAYS, temperature_c).step == 8 * STEPS_PER_DAY


def test_a_dry_day_in_the_middle_adds_a_day() -> None:
    temperature_c = steady(15)
    damp = np.ones(temperature_c.size, dtype=bool)
    damp[300 : 300 + STEPS_PER_DAY] = False
    end = curing_end(
        SEVEN_DAYS, mix(), surface(), step_min=10, placed_step=0, initial_set_h=4.5,
        surface_temperature_c=temperature_c, credited=damp,
        strength_fraction=np.zeros(temperature_c.size),
    )  # fmt: skip
    assert end.step == 8 * STEPS_PER_DAY


def test_time_before_placing_does_not_count_even_if_unknown() -> None:
    temperature_c = steady(15)
    temperature_c[:100] = np.nan
    end = end_of(SEVEN_DAYS, temperature_c, placed_step=100)
    assert end.step == 100 + 7 * STEPS_PER_DAY


def test_a_period_that_outlasts_the_arrays_has_no_end_but_words() -> None:
    end = end_of(SEVEN_DAYS, steady(15, 6))
    assert end.step is None
    assert end.words == (
        "7 days at 10 °C or more (ACI 318 and ACI 308.1): not reached in the time "
        "that is known"
    )


def test_a_period_may_end_with_the_arrays() -> None:
    assert end_of(SEVEN_DAYS, steady(15, 7)).step == 7 * STEPS_PER_DAY


def test_a_surface_placed_after_the_arrays_has_no_end() -> None:
    assert end_of(SEVEN_DAYS, steady(15, 1), placed_step=500).step is None


def test_words_name_the_assumed_ratio_as_assumed() -> None:
    rule = builtin_profile("din1045_3")
    given_ratio = end_of(rule, steady(15), mix(strength_ratio_fraction=0.35)).words
    assert "at strength ratio 0.35 (DIN 1045-3" in given_ratio
    assert "at assumed strength ratio 0.4 (" in end_of(rule, steady(15)).words


def test_late_setting_lengthens_the_period_by_the_excess() -> None:
    # Initial set after 8 h, 3 h over the 5 h that EN 13670 and DIN 1045-3 take as
    # usual.
    of = mix(strength_ratio_fraction=0.4)
    rule = builtin_profile("din1045_3")
    end = end_of(rule, steady(15), of, initial_set_h=8)
    assert end.step == 2 * STEPS_PER_DAY + 18
    assert end.words.endswith(", and 3 h for late setting")


def test_late_setting_may_push_the_end_past_the_arrays() -> None:
    of, rule = mix(strength_ratio_fraction=0.4), builtin_profile("din1045_3")
    assert end_of(rule, steady(15, 2), of, initial_set_h=8).step is None


@pytest.mark.parametrize(
    ("shares", "assumed"),
    [
        # Concrete Society, "Cement class in BS EN 1992-1-1" (read): 35 to 65 % slag or
        # 20 to 35 % fly ash make R an N, more makes it an S; the same step from N.
        ({"cement_class": "R", "slag_fraction": 0.5}, 0.4),
        ({"cement_class": "R", "slag_fraction": 0.7}, 0.25),
        ({"cement_class": "R", "fly_ash_fraction": 0.3}, 0.4),
        ({"cement_class": "R", "fly_ash_fraction": 0.15}, 0.55),
        ({"slag_fraction": 0.5}, 0.25),
        ({"scm_fraction": 0.5}, 0.25),
        ({"cement_class": "S", "slag_fraction": 0.7}, 0.25),
    ],
)
def test_additions_make_the_assumed_ratio_slower(
    shares: dict[str, object], assumed: float
) -> None:
    words = end_of(builtin_profile("din1045_3"), steady(15), mix(**shares)).words
    assert f"at assumed strength ratio {assumed:g} (" in words


def test_high_early_strength_is_lost_to_half_slag() -> None:
    # ACI 318: 3 days for high-early-strength concrete, 7 for the rest.
    rule = builtin_profile("aci_318")
    assert days_of(rule, steady(15), mix(cement_class="R")) == 3
    blend = mix(cement_class="R", slag_fraction=0.5)
    assert days_of(rule, steady(15), blend) == 7


def test_late_setting_counts_by_the_minute() -> None:
    # 10 h over the usual 5 h are 60 steps of ten minutes.
    of, rule = mix(strength_ratio_fraction=0.4), builtin_profile("din1045_3")
    end = end_of(rule, steady(15), of, initial_set_h=15)
    assert end.step == 2 * STEPS_PER_DAY + 60


def test_strength_before_placing_is_not_the_surface_s() -> None:
    # What stood in the array before step 200 is anything; 70 % comes at step 300.
    alone = TESTED.model_copy(update={"ends": TESTED.ends[2:]})
    strength = np.where(np.arange(steady(15).size) < 299, 0.5, 0.7)
    strength[:200] = 1
    end = end_of(alone, steady(15), strength_fraction=strength, placed_step=200)
    assert end.step == 300


def test_a_strength_in_mpa_is_a_share_of_the_specified_one() -> None:
    # 15 MPa of 30 are half; that of 20 MPa comes with two thirds.
    by_mpa = StrengthRow(strength_mpa=15)
    alone = SEVEN_DAYS.model_copy(update={"ends": (by_mpa,)})
    strength = np.linspace(0, 1, steady(15).size)
    for of, share in ((mix(), 0.5), (mix(strength_mpa=22.5), 2 / 3)):
        end = end_of(alone, steady(15), of, strength)
        assert end.step == pytest.approx(share * strength.size, abs=2)
        assert end.words == "15 MPa, as modelled"


def test_cold_time_neither_adds_to_a_sum_of_warmth_nor_takes_from_it() -> None:
    # BS 8110: 60 °C days over -10 °C are 3 days at 10 °C; a day at 4 °C counts nothing.
    rule = builtin_profile("bs8110")
    temperature_c = steady(10)
    temperature_c[STEPS_PER_DAY : 2 * STEPS_PER_DAY] = 4
    assert days_of(rule, temperature_c, exposure="sheltered") == pytest.approx(
        4, abs=0.007
    )


ROW = {"kind": "days", "days": 3}


@pytest.mark.parametrize(
    ("limits", "fitting"),
    [
        ({}, True),
        ({"cement_class": ("N", "S")}, True),
        ({"cement_class": ("R",)}, False),
        ({"scm_above_fraction": 0.2}, False),  # it has just so much
        ({"scm_above_fraction": 0.19}, True),
        ({"families": ("ponding", "fabric")}, True),
        ({"families": ("ponding",)}, False),
        ({"exposure": ("open",)}, True),
        ({"exposure": ("indoors", "sheltered")}, False),
        ({"elements": ("slab_on_ground",)}, True),
        ({"elements": ("wall",)}, False),
        ({"exposure": ("open",), "elements": ("wall",)}, False),
    ],
)
def test_a_row_holds_where_all_its_limits_do(
    limits: dict[str, object], fitting: bool
) -> None:
    row = DaysRow.model_validate(ROW | limits)
    assert fits(row, mix(cement_class="N", scm_fraction=0.2), surface()) is fitting


SLAG, ASH, BOTH = (
    {"slag_fraction": 0.2},
    {"fly_ash_fraction": 0.2},
    {"slag_fraction": 0.2, "fly_ash_fraction": 0.1},
)


@pytest.mark.parametrize(
    ("limits", "binder", "fitting"),
    [
        ({"added": ("slag",)}, SLAG, True),
        ({"added": ("slag",)}, {"scm_fraction": 0.2}, True),  # unnamed counts as slag
        ({"added": ("slag",)}, ASH, False),
        ({"added": ("slag",)}, BOTH, False),
        ({"added": ("slag", "fly_ash", "silica_fume")}, BOTH, True),
        ({"added": ("silica_fume",)}, {"silica_fume_fraction": 0.05}, True),
        ({"added": ("slag", "fly_ash")}, {}, False),  # nothing is added
        ({"ground_in": True}, SLAG, False),
        ({"ground_in": True}, SLAG | {"ground_in": True}, True),
        ({}, SLAG | {"ground_in": True}, True),
    ],
)
def test_a_row_holds_for_binders_with_what_it_names(
    limits: dict[str, object], binder: dict[str, object], fitting: bool
) -> None:
    row = DaysRow.model_validate(ROW | limits)
    assert fits(row, mix(**binder), surface()) is fitting


def test_strength_that_no_test_shows_leaves_the_days_alone() -> None:
    days, strength = DaysRow(days=3), StrengthRow(strength_fraction=0.7)
    first = SEVEN_DAYS.model_copy(
        update={"ends": (days, strength), "combine": "first", "strength_tested": False}
    )
    assert criteria_for(first, mix(), surface()) == [days]
    for fields in (
        {"strength_tested": True},
        {"combine": "all"},
    ):
        rule = first.model_copy(update=fields)
        assert criteria_for(rule, mix(), surface()) == [days, strength]
    alone = first.model_copy(update={"ends": (strength,)})
    assert criteria_for(alone, mix(), surface()) == [strength]


@pytest.mark.parametrize(
    ("cement_class", "assumed"), [("R", "0.55"), ("N", "0.4"), ("S", "0.25")]
)
def test_the_middle_of_a_class_is_assumed_where_no_ratio_is_given(
    cement_class: str, assumed: str
) -> None:
    words = end_of(builtin_profile("en13670_class2"), steady(20),
                   mix(cement_class=cement_class)).words  # fmt: skip
    assert words.startswith(
        f"days by temperature at assumed strength ratio {assumed} ("
    )


def test_a_criterion_is_said_as_people_on_a_site_do() -> None:
    one = SEVEN_DAYS.model_copy(update={"ends": (DaysRow(days=1, clause="5.1"),)})
    assert end_of(one, steady(20)).words == "1 day (5.1)"
    warm = SEVEN_DAYS.model_copy(
        update={"ends": (DaysRow(days=2.5, at_or_above_c=10),)}
    )
    assert end_of(warm, steady(20)).words == "2.5 days at 10 °C or more"
    warmth = builtin_profile("bs8110")
    assert end_of(warmth, steady(20), exposure="sheltered").words.startswith(
        "60 °C days above -10 °C ("
    )
    share = SEVEN_DAYS.model_copy(
        update={"ends": (StrengthRow(strength_fraction=0.7),)}
    )
    strong = np.ones(steady(20).size)
    assert end_of(share, steady(20), strength_fraction=strong).words == (
        "70 % of the specified strength, as modelled"
    )


def test_the_minimum_holds_back_a_strength_reached_at_once() -> None:
    rule = TESTED.model_copy(update={"minimum_h": 36})
    strong = np.ones(steady(15).size)
    end = end_of(rule, steady(15), strength_fraction=strong)
    assert end.step == 36 * 6
    assert end.words.startswith("36 h at least")


def test_the_minimum_counts_warm_time_only() -> None:
    rule = TESTED.model_copy(update={"minimum_h": 36})
    temperature_c = steady(15)
    temperature_c[10:70] = 5
    strong = np.ones(temperature_c.size)
    assert end_of(rule, temperature_c, strength_fraction=strong).step == 36 * 6 + 60


def test_all_waits_for_the_last_and_first_takes_the_first() -> None:
    # 70 % after 4 days, 7 warm days: whichever is named by ``combine``.
    strength = np.where(np.arange(steady(15).size) < 4 * STEPS_PER_DAY - 1, 0.5, 0.7)
    first = end_of(TESTED, steady(15), strength_fraction=strength)
    every = TESTED.model_copy(update={"combine": "all"})
    last = end_of(every, steady(15), strength_fraction=strength)
    assert (first.step, last.step) == (4 * STEPS_PER_DAY, 7 * STEPS_PER_DAY)
    assert last.words.startswith("7 days")


def test_a_rule_of_strength_alone_waits_for_it_tested_or_not() -> None:
    alone = SEVEN_DAYS.model_copy(update={"ends": SEVEN_DAYS.ends[2:]})
    strength = np.where(np.arange(steady(15).size) < 4 * STEPS_PER_DAY - 1, 0.5, 0.7)
    end = end_of(alone, steady(15), strength_fraction=strength)
    assert end.step == 4 * STEPS_PER_DAY


def test_all_has_no_end_while_one_criterion_is_missing() -> None:
    every = builtin_profile("csa_a23_1_additional")
    end = end_of(every, steady(15))
    assert end.step is None
    assert end.words.startswith("70 % of the specified strength")


# UFGS-03311 (read in a secondary copy): at 4 to 10 °C half as long again for fog and
# pond curing. Type I: 7 days, so 10.5 of them; methods that are planned here stay at 7.
def test_cool_time_counts_for_less_where_the_rule_says_so() -> None:
    rule = builtin_profile("ufgs_03301a")
    assert days_of(rule, steady(6)) == 7
    for_all = rule.slow[0].model_copy(update={"families": ()})
    slowed = rule.model_copy(update={"slow": (for_all,)})
    assert days_of(slowed, steady(6)) == pytest.approx(10.5, abs=0.007)
    assert days_of(slowed, steady(10)) == 7
    assert days_of(slowed, steady(4)) == pytest.approx(10.5, abs=0.007)
    assert end_of(slowed, steady(3.9)).step is None


def test_mixed_bands_earn_their_shares() -> None:
    # EN 13670 class 2, medium: 2.5 days at 15 °C, 5 at 5 °C. One day of each earns
    # 1/2.5 + 1/5 = 0.6, so 2/5 of 5 days = 2 more at 5 °C: 4 in all.
    temperature_c = steady(5)
    temperature_c[:STEPS_PER_DAY] = 15
    assert days_of(builtin_profile("en13670_class2"), temperature_c) == pytest.approx(
        4, abs=0.007
    )


def test_credited_time_stops_below_the_temperature() -> None:
    temperature_c = np.array([12.0, 12, 9, 9, 12, np.nan])
    hours = hours_of(SEVEN_DAYS, temperature_c)
    assert hours.tolist() == pytest.approx([1 / 6, 2 / 6, 2 / 6, 2 / 6, 3 / 6, 3 / 6])


def test_credited_time_stops_while_dry() -> None:
    damp = np.array([True, False, True])
    hours = hours_of(SEVEN_DAYS, np.full(3, 15.0), credited=damp)
    assert hours.tolist() == pytest.approx([1 / 6, 1 / 6, 2 / 6])


def hours_of(
    profile: Profile,
    temperature_c: Floats,
    credited: NDArray[np.bool_] | None = None,
) -> Floats:
    return credited_h(
        profile, mix(), surface(), step_min=10, placed_step=0,
        surface_temperature_c=temperature_c, credited=credited,
    )  # fmt: skip


TEMPERATURES = st.lists(
    st.floats(-10, 45), min_size=1, max_size=6
)  # one a day, then repeated


def history(levels: list[float]) -> Floats:
    return np.tile(np.repeat(levels, STEPS_PER_DAY), 40)[: 40 * STEPS_PER_DAY]


@pytest.mark.parametrize("name", BY_TEMPERATURE)
@given(TEMPERATURES, st.floats(0, 10))
@settings(deadline=None, max_examples=40)
def test_colder_never_ends_sooner(
    name: str, levels: list[float], colder_k: float
) -> None:
    rule, warm = builtin_profile(name), history(levels)
    sooner, later = end_of(rule, warm).step, end_of(rule, warm - colder_k).step
    assert later is None or (sooner is not None and sooner <= later)


@pytest.mark.parametrize("name", profile_ids())
@given(st.integers(0, 700))
@settings(deadline=None, max_examples=10)
def test_placing_later_ends_as_much_later_in_steady_weather(
    name: str, placed_step: int
) -> None:
    rule = builtin_profile(name)
    strong = np.ones(steady(20).size)
    early = end_of(rule, steady(20), strength_fraction=strong)
    late = end_of(rule, steady(20), strength_fraction=strong, placed_step=placed_step)
    if early.step is None:
        assert late.step is None
    else:
        assert late.step == early.step + placed_step


@given(TEMPERATURES, st.lists(st.booleans(), min_size=1, max_size=50))
@settings(deadline=None, max_examples=60)
def test_credited_time_never_shrinks_nor_outruns_the_clock(
    levels: list[float], wet: list[bool]
) -> None:
    temperature_c = history(levels)
    damp = np.resize(np.array(wet), temperature_c.size)
    for name in ("aci_318", "din1045_3", "bs8110"):
        hours = hours_of(builtin_profile(name), temperature_c, credited=damp)
        steps = np.diff(hours, prepend=0)
        assert steps.min() >= 0
        assert steps.max() <= 1 / 6 + 1e-9


@given(st.floats(5, 45), st.floats(5, 45), st.sampled_from([0.6, 0.4]))
def test_interpolation_is_monotone_and_never_longer_than_the_band(
    one_c: float, other_c: float, ratio: float
) -> None:
    warmer, colder = max(one_c, other_c), min(one_c, other_c)
    between = days_needed(TABLE, ratio, np.array([warmer, colder]))
    assert between[0] <= between[1]
    printed = TABLE.model_copy(update={"interpolate": False})
    band = days_needed(printed, ratio, np.array([warmer, colder]))
    assert np.all(between <= band + 1e-9)


def test_interpolation_passes_through_the_printed_figures() -> None:
    # Medium column at the edges, and halfway from 10 to 15 °C: (4 + 2.5) / 2 = 3.25.
    found = days_needed(TABLE, 0.4, np.array([25.0, 15, 10, 5, 12.5, 30]))
    assert found.tolist() == pytest.approx([1.5, 2.5, 4, 5, 3.25, 1.5])


def test_a_table_has_no_figure_below_its_bands_or_beyond_its_columns() -> None:
    assert np.isinf(days_needed(TABLE, 0.4, np.array([4.9, np.nan]))).all()
    assert np.isinf(days_needed(TABLE, 0.29, np.array([20.0]))).all()


@pytest.mark.parametrize("name", BY_TEMPERATURE)
def test_a_slower_concrete_never_ends_sooner(name: str) -> None:
    rule = builtin_profile(name)
    for quick, slow in pairwise((0.6, 0.5, 0.4, 0.3, 0.2, 0.15)):
        for temperature_c in (6, 12, 20, 30):
            of = mix(strength_ratio_fraction=quick), mix(strength_ratio_fraction=slow)
            ends = [days_of(rule, steady(temperature_c), each) for each in of]
            assert ends[0] <= ends[1]


def test_rows_are_tried_in_the_order_they_stand() -> None:
    text = """
id = "x"
title = "X"
edition = "invented"
maturity = "arrhenius"
[[ends]]
kind = "days"
days = 5
elements = ["deck"]
exposure = ["open"]
[[ends]]
kind = "days"
days = 2
elements = ["deck", "wall"]
[[ends]]
kind = "days"
days = 1
"""
    rule = load_profile(text, "x.toml")
    assert days_of(rule, steady(20), element="deck") == 5
    assert days_of(rule, steady(20), element="deck", exposure="indoors") == 2
    assert days_of(rule, steady(20), element="footing") == 1
