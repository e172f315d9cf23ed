import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.evaporation import (
    menzel_rate_kg_m2_h,
    menzel_transfer_kg_m2_h_kpa,
)
from models.errors import OutOfRangeError
from tests.references.uno import uno_rate_kg_m2_h

ANY_C = st.floats(-40, 80)
HUMIDITY = st.floats(0, 1)
WIND = st.floats(0, 37)


@given(ANY_C, WIND)
def test_saturated_air_of_the_same_temperature_dries_nothing(
    air_c: float, wind_m_s: float
) -> None:
    assert float(menzel_rate_kg_m2_h(air_c, air_c, 1, wind_m_s)) == 0


@given(ANY_C, ANY_C, HUMIDITY, WIND)
def test_twice_the_wind_never_dries_less(
    surface_c: float, air_c: float, humidity: float, wind_m_s: float
) -> None:
    once = float(menzel_rate_kg_m2_h(surface_c, air_c, humidity, wind_m_s))
    twice = float(menzel_rate_kg_m2_h(surface_c, air_c, humidity, 2 * wind_m_s))
    assert 0 <= once <= twice


@given(ANY_C, ANY_C, ANY_C, HUMIDITY, WIND)
def test_warmer_concrete_never_dries_less(
    one_c: float, other_c: float, air_c: float, humidity: float, wind_m_s: float
) -> None:
    cool_c, warm_c = sorted((one_c, other_c))
    cool = float(menzel_rate_kg_m2_h(cool_c, air_c, humidity, wind_m_s))
    assert cool <= float(menzel_rate_kg_m2_h(warm_c, air_c, humidity, wind_m_s))


def test_condensation_counts_as_nothing() -> None:
    assert float(menzel_rate_kg_m2_h(5, 25, 0.9, 3)) == 0
    assert float(uno_rate_kg_m2_h(5, 25, 0.9, 3)) == 0


def test_still_air_still_dries() -> None:
    # 0.315 × 0.253 = 0.0797 kg/(m² h) for each kPa.
    assert float(menzel_transfer_kg_m2_h_kpa(0)) == pytest.approx(0.0797, abs=5e-5)


def test_arrays_give_what_plain_numbers_give() -> None:
    surface_c = np.array([[12.0], [31.0]])
    wind_m_s = np.array([0.0, 2.0, 9.0])
    together = menzel_rate_kg_m2_h(surface_c, 18.0, 0.4, wind_m_s)
    assert together.shape == (2, 3)
    apart = [
        [float(menzel_rate_kg_m2_h(float(t), 18.0, 0.4, float(v))) for v in wind_m_s]
        for t in surface_c[:, 0]
    ]
    assert together == pytest.approx(np.array(apart), rel=1e-12)


# Concrete °C, air °C, humidity, wind m/s: ordinary states, where the two should agree;
# 16 % is what all but one in twenty of 2255 compared points keep (own comparison).
@pytest.mark.parametrize(
    ("surface_c", "air_c", "humidity", "wind_m_s"),
    [(20, 20, 0.7, 2.8), (25, 25, 0.5, 4.2), (30, 25, 0.5, 2.8), (32, 38, 0.2, 8.3)],
)
def test_uno_agrees_in_ordinary_weather(
    surface_c: float, air_c: float, humidity: float, wind_m_s: float
) -> None:
    menzel = float(menzel_rate_kg_m2_h(surface_c, air_c, humidity, wind_m_s))
    uno = float(uno_rate_kg_m2_h(surface_c, air_c, humidity, wind_m_s))
    assert uno == pytest.approx(menzel, rel=0.16)


def test_uno_reads_twice_as_much_where_air_is_far_hotter_than_the_concrete() -> None:
    menzel = float(menzel_rate_kg_m2_h(25, 45, 0.3, 40 / 3.6))
    assert float(uno_rate_kg_m2_h(25, 45, 0.3, 40 / 3.6)) > 2 * menzel > 0.4


@pytest.mark.parametrize("wind_m_s", [-1.0, 76.0])
def test_wind_outside_the_range_is_refused(wind_m_s: float) -> None:
    with pytest.raises(OutOfRangeError, match="Menzel's formula holds for 0 to 75 m/s"):
        menzel_rate_kg_m2_h(20, 20, 0.5, wind_m_s)


def test_uno_is_refused_in_frost() -> None:
    with pytest.raises(OutOfRangeError, match=r"Uno \(1998\) holds for 0 to 50 °C"):
        uno_rate_kg_m2_h(-3, 5, 0.5, 2)
