import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.drying.evaporation import menzel_transfer_kg_m2_h_kpa
from models.drying.film import (
    film_kg_m2_h_kpa,
    seam_leak_kg_m2_h_kpa,
    seams_m_m2,
    through_cover_kg_m2_h_kpa,
    vapour_resistance_m2h_kpa_kg,
)
from models.errors import OutOfRangeError

WIND = st.floats(0, 30)
FILM = st.floats(1e-5, 0.1)
LEAK = st.floats(0, 0.1)


def test_a_film_passes_what_its_test_let_out() -> None:
    # 37.8 °C and 32 %: 6.56 × 0.68 = 4.46 kPa; 0.55 / 72 = 0.00764 kg/(m² h), so film
    # and still air together 584 m² h kPa/kg, of which the air 1 / 0.0797 = 12.5.
    assert float(film_kg_m2_h_kpa(0.55, 72)) == pytest.approx(1 / 571.5, rel=0.005)


def test_a_stricter_class_is_tighter_than_in_proportion() -> None:
    # 0.40 kg/m² in 72 h (ASTM C1315, read on a trade page): the air takes its share.
    of_c1315, of_c309 = film_kg_m2_h_kpa(np.array([0.40, 0.55]), 72)
    assert 0.99 < of_c1315 / of_c309 * 55 / 40 < 1


def test_the_same_loss_in_a_longer_test_is_a_tighter_film() -> None:
    assert float(film_kg_m2_h_kpa(0.31, 168)) < float(film_kg_m2_h_kpa(0.31, 72))


def test_a_test_of_no_length_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match=r"test_h = 0: .* 1 to 1000 h"):
        film_kg_m2_h_kpa(0.55, 0)


@pytest.mark.parametrize(
    ("area_m2", "length_m"),
    [
        (8, 12),  # 4 m × 2 m: round it
        (32, 24),  # 8 m × 4 m: one strip, round it
        (128, 48 + 16),  # 16 m × 8 m: round it, and one lap between two strips
        (288, 72 + 48),  # 24 m × 12 m: round it, and two laps
    ],
)
def test_seams_are_edges_and_the_laps_between_strips(
    area_m2: float, length_m: float
) -> None:
    assert seams_m_m2(area_m2) == pytest.approx(length_m / area_m2)


@given(st.floats(0.1, 1e5), st.floats(1.01, 100))
def test_a_larger_sheet_has_fewer_seams_for_its_size(
    area_m2: float, times: float
) -> None:
    assert seams_m_m2(times * area_m2) < seams_m_m2(area_m2)


def test_a_metre_of_edge_loses_its_figure_in_the_air_it_is_measured_in() -> None:
    # A metre a square metre, 0.12 L a day, no film: a wind of 2 m/s, 1 kPa, 24 h.
    leak = seam_leak_kg_m2_h_kpa(0.12, 1.0)
    resistance = float(vapour_resistance_m2h_kpa_kg(0, leak, 2))
    assert 24 / resistance == pytest.approx(0.12)


@given(WIND)
def test_an_open_face_loses_by_menzel(wind_m_s: float) -> None:
    to_vapour = vapour_resistance_m2h_kpa_kg(np.inf, 0, wind_m_s)
    assert float(to_vapour) == 0
    assert float(through_cover_kg_m2_h_kpa(wind_m_s, to_vapour)) == float(
        menzel_transfer_kg_m2_h_kpa(wind_m_s)
    )


@given(FILM, LEAK, WIND)
def test_a_cover_never_loses_more_than_open_water_nor_than_it_lets_through(
    film: float, leak: float, wind_m_s: float
) -> None:
    to_vapour = vapour_resistance_m2h_kpa_kg(film, leak, wind_m_s)
    through = float(through_cover_kg_m2_h_kpa(wind_m_s, to_vapour))
    assert 0 < through < float(menzel_transfer_kg_m2_h_kpa(wind_m_s))
    assert through < 1 / float(to_vapour)


@given(FILM, LEAK, WIND, WIND)
def test_more_wind_never_takes_less(
    film: float, leak: float, one: float, other: float
) -> None:
    winds = np.array(sorted((one, other)))
    calm, windy = through_cover_kg_m2_h_kpa(
        winds, vapour_resistance_m2h_kpa_kg(film, leak, winds)
    )
    assert calm <= windy * (1 + 1e-12)


def test_a_film_alone_hardly_minds_the_wind() -> None:
    # A resistance of 571 in series with 12.5 in still air, 1.5 at 8 m/s: 2 % more.
    calm, windy = through_cover_kg_m2_h_kpa(np.array([0.0, 8.0]), 571.0)
    assert 1 < windy / calm < 1.025


def test_a_cover_that_passes_nothing_loses_nothing() -> None:
    to_vapour = vapour_resistance_m2h_kpa_kg(0, 0, 5)
    assert float(through_cover_kg_m2_h_kpa(5, to_vapour)) == pytest.approx(0, abs=1e-9)


def test_a_negative_resistance_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="vapour_resistance_m2h_kpa_kg = -1"):
        through_cover_kg_m2_h_kpa(3, -1)
