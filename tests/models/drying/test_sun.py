import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.sun import diffuse_fraction, solar_position_deg, vertical_mean_w_m2
from models.errors import OutOfRangeError

# Solstice of 2024-06-20 20:51 UTC; days since 2000-01-01 12:00 UTC. The year's greatest
# declination is 23.44°.
JUNE_2024_D = 8937.37


def test_midsummer_noon_stands_at_latitude_less_declination() -> None:
    days = JUNE_2024_D + np.linspace(-0.5, 0.5, 1441)
    zenith, _ = solar_position_deg(days, 52.0, 9.0)
    assert float(zenith.min()) == pytest.approx(52.0 - 23.44, abs=0.02)
    assert float(zenith.max()) == pytest.approx(180 - 52.0 - 23.44, abs=0.02)


def test_noon_comes_from_the_south_in_the_north_and_the_other_way_round() -> None:
    days = JUNE_2024_D + np.linspace(-0.5, 0.5, 1441)
    for latitude, wanted in ((52.0, 180.0), (-35.0, 0.0)):
        zenith, azimuth = solar_position_deg(days, latitude, 9.0)
        at_noon = float(azimuth[zenith.argmin()])
        assert abs((at_noon - wanted + 180) % 360 - 180) < 1


def test_the_sun_rises_in_the_east() -> None:
    days = JUNE_2024_D + np.linspace(-0.5, 0.5, 1441)
    zenith, azimuth = solar_position_deg(days, 10.0, 0.0)
    rises = np.flatnonzero((zenith[:-1] > 90) & (zenith[1:] <= 90))
    assert 60 < float(azimuth[rises[0]]) < 90


@given(st.floats(0, 1500), st.floats(0, 180))
def test_diffuse_is_a_share(ground: float, zenith: float) -> None:
    assert 0 < float(diffuse_fraction(ground, zenith)) <= 1


def test_a_dull_sky_is_all_diffuse_and_a_clear_one_little() -> None:
    assert float(diffuse_fraction(60, 30)) > 0.95
    assert float(diffuse_fraction(950, 30)) < 0.25


@given(st.floats(0, 1500), st.floats(0, 180))
def test_upright_faces_get_a_finite_share(ground: float, zenith: float) -> None:
    upright = float(vertical_mean_w_m2(ground, zenith))
    # Beam at most the solar constant over pi, sky and ground half of the view each.
    assert 0 <= upright <= 1361 / np.pi + 0.6 * ground


def test_a_dull_sky_gives_an_upright_face_about_half_and_its_share_of_the_ground() -> (
    None
):
    # 100 W/m², nearly all diffuse: 100/2 + 0.2 × 100/2 = 60.
    assert float(vertical_mean_w_m2(100, 30)) == pytest.approx(60, rel=0.05)


def test_mean_over_the_compass_is_that_of_faces_turned_by_hand() -> None:
    ground, zenith = 700.0, 50.0
    diffuse = ground * float(diffuse_fraction(ground, zenith))
    beam = (ground - diffuse) / np.cos(np.radians(zenith))
    turned = np.radians(np.arange(0.5, 360))
    on_face = beam * np.sin(np.radians(zenith)) * np.maximum(np.cos(turned), 0)
    by_hand = float(on_face.mean()) + diffuse / 2 + 0.1 * ground
    assert float(vertical_mean_w_m2(ground, zenith)) == pytest.approx(by_hand, rel=1e-3)


def test_no_sun_at_night() -> None:
    assert float(vertical_mean_w_m2(0, 120)) == 0


def test_a_latitude_beyond_the_pole_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"latitude_deg = 91: .* -90 to 90 °"):
        solar_position_deg(0, 91, 0)
