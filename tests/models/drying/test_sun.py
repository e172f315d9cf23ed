from collections.abc import Callable

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


# Meeus, Astronomical Algorithms (from memory), examples 25.a and 28.a: 1992-10-13 0 h,
# declination -7.78507°, equation of time 3.427340°. So it is noon 180 - 3.427° east of
# Greenwich.
OCTOBER_1992_D = -2636.5
NOON_IN_1992_DEG = 176.57266
CLAIMED_DEG = 0.01


def test_declination_is_that_of_meeus() -> None:
    # Seen from the pole the sun stands as far from the zenith as from the pole.
    zenith, _ = solar_position_deg(OCTOBER_1992_D, 90, 0)
    assert 90 - float(zenith) == pytest.approx(-7.78507, abs=CLAIMED_DEG)


@pytest.mark.parametrize(("latitude_deg", "azimuth_deg"), [(50.0, 180.0), (-50.0, 0.0)])
def test_the_equation_of_time_is_that_of_meeus(
    latitude_deg: float, azimuth_deg: float
) -> None:
    zenith, azimuth = solar_position_deg(OCTOBER_1992_D, latitude_deg, NOON_IN_1992_DEG)
    assert float(zenith) == pytest.approx(abs(latitude_deg + 7.78507), abs=CLAIMED_DEG)
    # A hundredth of a degree past noon is that times cos δ over sin z on the compass.
    turned = (float(azimuth) - azimuth_deg + 180) % 360 - 180
    assert abs(turned) < CLAIMED_DEG * np.cos(np.radians(7.785)) / np.sin(
        np.radians(abs(latitude_deg + 7.785))
    )


# Equinoxes of 2024: 20 March 03:06 and 22 September 12:44 UTC, in every almanac. The
# sun then crosses the equator, by 0.4° a day.
@pytest.mark.parametrize("days", [8844 + 15.1 / 24, 9031 + 0.7333 / 24])
def test_the_sun_stands_over_the_equator_at_an_equinox(days: float) -> None:
    zenith, _ = solar_position_deg(days, 90, 0)
    assert float(zenith) == pytest.approx(90, abs=CLAIMED_DEG)


# Obliquity of 1950.0: 23° 26' 44.84" (from memory); by 2050 it is 47" less.
@pytest.mark.parametrize(
    ("year", "obliquity_deg"), [(1950, 23.44579), (2050, 23.44579 - 46.8 / 3600)]
)
def test_the_sun_comes_less_far_north_from_century_to_century(
    year: int, obliquity_deg: float
) -> None:
    june_d = (year - 2000) * 365.2422 + 171.5
    zenith, _ = solar_position_deg(june_d + np.arange(-3, 3, 0.01), 90, 0)
    # Nutation, which the formula leaves out, is 0.0026° at most.
    assert 90 - float(zenith.min()) == pytest.approx(obliquity_deg, abs=0.003)


def test_zenith_and_azimuth_of_a_published_afternoon() -> None:
    # NREL's algorithm (Reda and Andreas, 2008; from memory): 2003-10-17 19:30:30 UTC,
    # 39.742476° north, 105.1786° west: zenith 50.11162° with 0.01633° of refraction,
    # azimuth 194.34024°.
    days = 1385 + 7.50833 / 24
    zenith, azimuth = solar_position_deg(days, 39.742476, -105.1786)
    assert float(zenith) == pytest.approx(50.11162 + 0.01633, abs=CLAIMED_DEG)
    assert float(azimuth) == pytest.approx(194.34024, abs=2 * CLAIMED_DEG)


def test_a_sun_overhead_or_underfoot_has_a_zenith_angle_however_it_is_rounded() -> None:
    def cosine(days: float, latitude_deg: float, longitude_deg: float) -> float:
        zenith, _ = solar_position_deg(days, latitude_deg, longitude_deg)
        return float(np.cos(np.radians(zenith)))

    for days in np.arange(-18_000, 18_000, 97.3):
        declination_deg = float(np.degrees(np.arcsin(cosine(days, 90, 0))))
        # Over the equator the cosine is cos δ cos h, and 90° further west cos δ sin h.
        hour_angle = np.arctan2(cosine(days, 0, -90), cosine(days, 0, 0))
        noon_deg = -float(np.degrees(hour_angle))
        zenith, _ = solar_position_deg(days, declination_deg, noon_deg)
        assert float(zenith) < 1e-5
        midnight_deg = noon_deg + (180 if noon_deg < 0 else -180)
        nadir, _ = solar_position_deg(days, -declination_deg, midnight_deg)
        assert float(nadir) > 180 - 1e-5


@given(st.floats(0, 1500), st.floats(0, 180))
def test_diffuse_is_a_share(ground: float, zenith: float) -> None:
    assert 0 < float(diffuse_fraction(ground, zenith)) <= 1


def test_a_dull_sky_is_all_diffuse_and_a_clear_one_little() -> None:
    assert float(diffuse_fraction(60, 30)) > 0.95
    assert float(diffuse_fraction(950, 30)) < 0.25


# Erbs, Klein and Duffie (1982), from memory: 1 - 0.09 k up to k = 0.22, 0.165 above
# 0.8, between them 0.9511 - 0.1604 k + 4.388 k² - 16.638 k³ + 12.336 k⁴; worked out by
# hand for a sun overhead, k of 1361 W/m².
@pytest.mark.parametrize(
    ("clearness", "diffuse"),
    [
        (0.22, 0.9802),  # the other branch has 0.97993
        (0.8, 0.16527),  # likewise 0.165
        (0.215, 0.98065),  # the other branch has 0.98046
        (0.225, 0.97925),  # and here 0.97975
        (0.5, 0.65915),
        (0.78, 0.16623),
        (0.82, 0.165),
    ],
)
def test_diffuse_is_that_of_erbs(clearness: float, diffuse: float) -> None:
    found = float(diffuse_fraction(1361 * clearness, 0))
    assert found == pytest.approx(diffuse, abs=1e-5)


def test_a_low_sun_counts_as_one_at_a_twentieth() -> None:
    # k = 13.61 / (1361 × 0.05) = 0.2 on the horizon: 1 - 0.09 × 0.2.
    assert float(diffuse_fraction(13.61, 90)) == pytest.approx(0.982)


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


def test_a_beam_is_never_stronger_than_that_of_space() -> None:
    # On the horizon 100 W/m² are k = 1 and more: 16.5 diffuse, 83.5 of beam over 0.05
    # would be 1670; 1361/π + 16.5/2 + 0.2 × 100/2 = 433.22 + 8.25 + 10.
    assert float(vertical_mean_w_m2(100, 90)) == pytest.approx(451.47, abs=0.005)


@pytest.mark.parametrize(
    ("days", "latitude_deg", "longitude_deg", "words"),
    [
        (20_001, 0, 0, "days_since_2000 = 20001: .* -20000 to 20000 days"),
        (0, 91, 0, "latitude_deg = 91: .* -90 to 90 °"),
        (0, 0, -181, "longitude_deg = -181: .* -180 to 180 °"),
    ],
)
def test_a_place_beyond_the_earth_is_refused(
    days: float, latitude_deg: float, longitude_deg: float, words: str
) -> None:
    with pytest.raises(OutOfRangeError, match=f"^{words}$"):
        solar_position_deg(days, latitude_deg, longitude_deg)


@pytest.mark.parametrize(
    ("formula", "source"),
    [(diffuse_fraction, r"Erbs et al. \(1982\)"), (vertical_mean_w_m2, "sunshine")],
)
@pytest.mark.parametrize(
    ("ground", "zenith", "named", "range_words"),
    [
        (1501, 0, "global_w_m2 = 1501", "0 to 1500 W/m²"),
        (0, 181, "zenith_deg = 181", "0 to 180 °"),
    ],
)
def test_impossible_sunshine_is_refused(
    formula: Callable[[float, float], object],
    source: str,
    ground: float,
    zenith: float,
    named: str,
    range_words: str,
) -> None:
    words = f"^{named}: {source} holds for {range_words}$"
    with pytest.raises(OutOfRangeError, match=words):
        formula(ground, zenith)
