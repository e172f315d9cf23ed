from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from structuralcodes.codes import (
    ec2_2004,
    mc2010,
)

from models.drying.ranges import Floats
from models.errors import OutOfRangeError
from models.hydration.equivalent_age import (
    age_at_starts_h,
    arrhenius_rate,
    arrhenius_variable_rate,
    eurocode_rate,
    nurse_saul_rate,
)

Rate = Callable[[Floats], Floats]
RATES: list[Rate] = [
    nurse_saul_rate, arrhenius_rate, arrhenius_variable_rate, eurocode_rate
]  # fmt: skip


# Two published implementations; the formula is the same to the digit.
@pytest.mark.parametrize("temperature_c", [0, 2.5, 5, 10, 20, 35, 50, 65, 80])
@pytest.mark.parametrize("days", [0.5, 1, 7])
def test_eurocode_matches_structuralcodes(temperature_c: float, days: float) -> None:
    ours = float(eurocode_rate(temperature_c)) * days
    for code in (ec2_2004, mc2010):
        theirs = float(np.squeeze(code.t_T(temperature_c, days)))
        assert ours == pytest.approx(theirs, rel=1e-9)


def test_eurocode_is_not_quite_1_at_20_degrees() -> None:
    # exp(13.65 - 4000/293) = exp(-0.00188)
    assert eurocode_rate(20.0) == pytest.approx(0.9981, abs=5e-5)


# Rates against 20 °C worked out beforehand from the printed equations; the constants
# of Freiesleben Hansen and Pedersen (1977) and of ASTM C1074 are from memory.
@pytest.mark.parametrize(
    ("temperature_c", "variable", "constant_40", "constant_45", "minus_10", "zero"),
    [
        (0, 0.1511, 0.3007, 0.2588, 0.333, 0.0),
        (5, 0.2925, 0.4127, 0.3695, 0.500, 0.250),
        (10, 0.4974, 0.5601, 0.5210, 0.667, 0.500),
        (15, 0.7476, 0.7522, 0.7259, 0.833, 0.750),
        (20, 1.0, 1.0, 1.0, 1.0, 1.0),
        (23, 1.1494, 1.1809, 1.2057, 1.10, 1.15),
        (30, 1.5737, 1.7184, 1.8387, 1.333, 1.50),
        (40, 2.4057, 2.8525, 3.2518, 1.667, 2.00),
        (60, 5.2086, 7.1744, 9.1782, 2.333, 3.00),
    ],
)
def test_rates_match_their_table(
    temperature_c: float, variable: float, constant_40: float, constant_45: float,
    minus_10: float, zero: float,
) -> None:  # fmt: skip
    assert arrhenius_variable_rate(temperature_c) == pytest.approx(variable, abs=1e-4)
    assert arrhenius_rate(temperature_c, 40_000) == pytest.approx(constant_40, abs=1e-4)
    assert arrhenius_rate(temperature_c, 45_000) == pytest.approx(constant_45, abs=1e-4)
    assert nurse_saul_rate(temperature_c, -10) == pytest.approx(minus_10, abs=5e-4)
    assert nurse_saul_rate(temperature_c, 0) == pytest.approx(zero, abs=5e-4)


# BS 8110-1, Table 6.1 (superseded, from memory): 60/(t + 10) days of curing for t from
# 5 to 25 °C is one temperature sum over a datum of -10 °C.
@pytest.mark.parametrize(("mean_c", "days"), [(5, 4.0), (10, 3.0), (20, 2.0)])
def test_bs_8110_period_is_one_nurse_saul_age(mean_c: float, days: float) -> None:
    age_days = float(nurse_saul_rate(mean_c, -10)) * days
    assert age_days == pytest.approx(60 / 30)


# 6 h at 10, 6 h at 15, 12 h at 25, 24 h at 30, 24 h at 20 °C; worked out beforehand.
@pytest.mark.parametrize(
    ("rate", "hours"),
    [
        (nurse_saul_rate, 79.0),
        (eurocode_rate, 85.03),
        (arrhenius_variable_rate, 84.35),
        (arrhenius_rate, 88.92),
    ],
)
def test_history_of_three_days_adds_up(rate: Rate, hours: float) -> None:
    history_c = np.repeat([10.0, 15.0, 25.0, 30.0, 20.0, 20.0], [6, 6, 12, 24, 24, 1])
    assert age_at_starts_h(rate(history_c), 1.0)[-1] == pytest.approx(hours, abs=0.01)


@pytest.mark.parametrize("rate", RATES)
@settings(deadline=None, max_examples=50)
@given(
    history=st.lists(st.floats(0, 60), min_size=2, max_size=40),
    split=st.integers(1, 39),
)
def test_age_is_the_sum_of_its_parts_however_split(
    rate: Rate, history: list[float], split: int
) -> None:
    split = min(split, len(history) - 1)
    rates = np.append(rate(np.array(history)), 0.0)  # the last row shows all before it
    whole = age_at_starts_h(rates, 0.5)[-1]
    first = age_at_starts_h(np.append(rates[:split], 0.0), 0.5)[-1]
    second = age_at_starts_h(rates[split:], 0.5)[-1]
    assert whole == pytest.approx(first + second, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("rate", RATES)
@given(one=st.floats(0, 60), other=st.floats(0, 60))
def test_warmer_concrete_never_ages_slower(
    rate: Rate, one: float, other: float
) -> None:
    low, high = sorted((one, other))
    assert rate(np.array([low])) <= rate(np.array([high]))


@given(temperature_c=st.floats(-60, 90), datum_c=st.floats(-20, 10))
def test_nurse_saul_is_never_negative(temperature_c: float, datum_c: float) -> None:
    assert nurse_saul_rate(temperature_c, datum_c) >= 0


def test_activation_energy_of_the_variable_form_turns_at_20_degrees() -> None:
    # 33.5 kJ/mol above; at 10 °C 33.5 + 14.7 = 48.2.
    assert arrhenius_variable_rate(35.0) == pytest.approx(
        float(arrhenius_rate(35.0, 33_500))
    )
    assert arrhenius_variable_rate(10.0) == pytest.approx(
        float(arrhenius_rate(10.0, 48_200))
    )


@pytest.mark.parametrize("rate", RATES)
def test_numbers_and_arrays_agree(rate: Rate) -> None:
    many = np.array([[5.0, 20.0], [33.0, 47.0]])
    alone = [[float(rate(np.array(x))) for x in row] for row in many]
    np.testing.assert_allclose(rate(many), alone, rtol=1e-14)


@pytest.mark.parametrize(
    ("rate", "temperature_c", "message"),
    [
        (eurocode_rate, -0.1, "EN 1992-1-1:2004, B.10 holds for 0 to 80 °C"),
        (eurocode_rate, 81, "EN 1992-1-1:2004, B.10 holds for 0 to 80 °C"),
        (arrhenius_rate, -11, "ASTM C1074 holds for -10 to 80 °C"),
        (arrhenius_variable_rate, 90, r"Pedersen \(1977\) holds for -10 to 80 °C"),
        (nurse_saul_rate, 91, "Nurse-Saul holds for -60 to 90 °C"),
        (arrhenius_rate, np.nan, "temperature_c = nan"),
    ],
)
def test_a_temperature_out_of_range_is_refused(
    rate: Rate, temperature_c: float, message: str
) -> None:
    with pytest.raises(OutOfRangeError, match=message):
        rate(np.array([20.0, temperature_c]))


@pytest.mark.parametrize("energy_j_mol", [19_999.0, 80_001.0])
def test_a_foolish_activation_energy_is_refused(energy_j_mol: float) -> None:
    words = r"= \d+: .* ASTM C1074 holds for 20000 to 80000 J/mol$"
    with pytest.raises(OutOfRangeError, match=f"activation_energy_j_mol {words}"):
        arrhenius_rate(20.0, energy_j_mol)


def test_a_foolish_datum_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"datum_c = 20: .* for -20 to 10 °C"):
        nurse_saul_rate(20.0, 20.0)
