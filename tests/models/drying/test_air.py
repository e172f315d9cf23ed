"""What must always hold of moist air; printed values stand in tests/references."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.air import (
    air_pressure_kpa,
    buck_kpa,
    buck_with_slope,
    dew_point_c,
    latent_heat_j_kg,
    saturation_vapour_pressure_kpa,
    vapour_pressure_kpa,
)
from models.drying.sky import sky_temperature_c
from models.errors import OutOfRangeError
from tests.references.wet_bulb import wet_bulb_c

AIR_C = st.floats(-40, 80)
HUMIDITY = st.floats(0.01, 1)


@given(AIR_C, AIR_C)
def test_warmer_air_never_holds_less(one_c: float, other_c: float) -> None:
    low_c, high_c = sorted((one_c, other_c))
    assert saturation_vapour_pressure_kpa(low_c) <= saturation_vapour_pressure_kpa(
        high_c
    )


@given(AIR_C, HUMIDITY)
def test_air_cooled_to_its_dew_point_is_saturated(
    air_c: float, humidity: float
) -> None:
    held_kpa = float(vapour_pressure_kpa(air_c, humidity))
    at_dew_kpa = float(buck_kpa(dew_point_c(air_c, humidity)))
    assert at_dew_kpa == pytest.approx(held_kpa, rel=1e-9)


@given(AIR_C, HUMIDITY)
def test_wet_bulb_lies_between_dew_point_and_air(air_c: float, humidity: float) -> None:
    wet_c = float(wet_bulb_c(air_c, humidity))
    assert float(dew_point_c(air_c, humidity)) - 1e-6 <= wet_c <= air_c + 1e-6


@given(st.floats(-40, 80))
def test_saturated_air_has_one_temperature(air_c: float) -> None:
    assert float(dew_point_c(air_c, 1)) == pytest.approx(air_c, abs=1e-6)
    assert float(wet_bulb_c(air_c, 1)) == pytest.approx(air_c, abs=1e-6)


@given(st.floats(-39, 79))
def test_slope_is_that_of_the_curve(air_c: float) -> None:
    rise = float(buck_kpa(np.array(air_c + 0.01)) - buck_kpa(np.array(air_c - 0.01)))
    kpa, slope_kpa_k = buck_with_slope(np.array(air_c))
    assert float(kpa) == float(buck_kpa(np.array(air_c)))
    assert float(slope_kpa_k) == pytest.approx(rise / 0.02, rel=1e-4)


def test_arrays_give_what_plain_numbers_give() -> None:
    air_c = np.array([[-5.0, 12.0], [27.0, 41.0]])
    humidity = np.array([[0.4], [0.9]])
    for function in (vapour_pressure_kpa, dew_point_c, wet_bulb_c):
        together = function(air_c, humidity)
        assert together.shape == (2, 2)
        apart = [
            [float(function(t, h[0])) for t in row]
            for row, h in zip(air_c, humidity, strict=True)
        ]
        assert together == pytest.approx(np.array(apart), rel=1e-12)


@given(st.floats(-500, 6000), st.floats(-500, 6000))
def test_higher_air_is_never_denser(one_m: float, other_m: float) -> None:
    low_m, high_m = sorted((one_m, other_m))
    assert float(air_pressure_kpa(low_m)) >= float(air_pressure_kpa(high_m)) > 40


def test_a_height_beyond_any_site_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"elevation_m = 9000: .* -500 to 6000 m"):
        air_pressure_kpa(9000)


@pytest.mark.parametrize("air_c", [-40.1, 80.1, float("nan")])
def test_temperatures_outside_the_fit_are_refused(air_c: float) -> None:
    with pytest.raises(OutOfRangeError, match=r"Buck \(1996\) holds for -40 to 80 °C"):
        saturation_vapour_pressure_kpa(air_c)
    with pytest.raises(OutOfRangeError, match="-40 to 80 °C"):
        latent_heat_j_kg(air_c)
    with pytest.raises(OutOfRangeError, match="-40 to 80 °C"):
        sky_temperature_c(air_c, 5, 0)


def test_humidity_in_percent_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"humidity_fraction = 55: .* 0 to 1"):
        vapour_pressure_kpa(20, 55)


def test_dry_air_has_no_dew_point() -> None:
    with pytest.raises(OutOfRangeError, match=r"0\.001 to 1"):
        dew_point_c(20, 0)
