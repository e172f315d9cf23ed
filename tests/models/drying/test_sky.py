import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.air import dew_point_c
from models.drying.sky import sky_temperature_c

HUMIDITY = st.floats(0.01, 1)


@given(st.floats(-30, 45), HUMIDITY, st.floats(0, 1))
def test_sky_is_never_warmer_than_air(
    air_c: float, humidity: float, cloud: float
) -> None:
    sky_c = float(sky_temperature_c(air_c, dew_point_c(air_c, humidity), cloud))
    assert sky_c <= air_c + 1e-9


def test_clouds_warm_the_sky() -> None:
    clear_c, overcast_c = sky_temperature_c(15.0, 8.0, np.array([0.0, 1.0]))
    assert overcast_c > clear_c + 8


def test_half_a_sky_of_cloud_adds_by_the_published_polynomial() -> None:
    # 5 tenths: 1 + 0.0224 × 5 - 0.0035 × 25 + 0.00028 × 125 = 1.0595.
    clear_k, half_k = sky_temperature_c(20.0, 10.0, np.array([0.0, 0.5])) + 273.15
    assert (half_k / clear_k) ** 4 == pytest.approx(1.0595, abs=1e-6)
