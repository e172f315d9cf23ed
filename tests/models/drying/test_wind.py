import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.wind import wind_at_half_metre_m_s
from models.errors import OutOfRangeError


@given(st.floats(0.5, 100), st.floats(0.1, 100), st.floats(0, 50))
def test_wind_near_the_ground_is_never_the_stronger(
    height_m: float, roughness_mm: float, wind_m_s: float
) -> None:
    near = float(wind_at_half_metre_m_s(wind_m_s, height_m, roughness_mm))
    assert 0 <= near <= wind_m_s * (1 + 1e-12)


def test_wind_measured_at_half_a_metre_stays() -> None:
    assert float(wind_at_half_metre_m_s(3.2, 0.5, 20)) == pytest.approx(3.2)


def test_a_site_rougher_than_the_profile_bears_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"roughness_mm = 300: .*0\.1 to 100 mm"):
        wind_at_half_metre_m_s(5, 10, 300)
