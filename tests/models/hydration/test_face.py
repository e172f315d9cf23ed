import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import erfcx

from models.drying.evaporation import menzel_rate_kg_m2_h, menzel_transfer_kg_m2_h_kpa
from models.errors import OutOfRangeError
from models.hydration.face import (
    Climate,
    climate,
    convection_w_m2k,
    face_soon_c,
    film_and_outside,
    with_capacity,
)
from tests.models.hydration.heat_builders import layers


def one(
    air_c: float, humidity: float, wind: float, solar: float, sky_c: float
) -> Climate:
    parts = (air_c, humidity, wind, solar, sky_c)
    return climate(*(np.array([[part]]) for part in parts)).row(0)


# NISTIR 6551 (Bentz 2000), from memory: 5.6 + 4.0 v to 5 m/s, 7.2 v^0.78 above.
# 10^0.78 = 6.0256, times 7.2 = 43.38.
@pytest.mark.parametrize(
    ("wind_m_s", "film"), [(0, 5.6), (3, 17.6), (5, 25.6), (10, 43.38)]
)
def test_convection_matches_nistir_6551(wind_m_s: float, film: float) -> None:
    assert convection_w_m2k(wind_m_s) == pytest.approx(film, abs=0.01)


def test_branches_of_convection_nearly_meet() -> None:
    assert convection_w_m2k(5.0001) == pytest.approx(convection_w_m2k(5.0), rel=0.014)


@pytest.mark.parametrize("wind_m_s", [-1, 41, np.nan])
def test_convection_refuses_an_impossible_wind(wind_m_s: float) -> None:
    with pytest.raises(OutOfRangeError, match="NISTIR 6551 holds for 0 to 40 m/s"):
        convection_w_m2k(wind_m_s)


def balance_w_m2(
    face_c: float, air_c: float, humidity: float, wind: float, solar: float,
    sky_c: float, absorptivity: float, emissivity: float, film_kg: float,
    leak_kg: float = 0,
) -> float:  # fmt: skip
    """Heat into a face, term by term."""
    film = 5.6 + 4.0 * wind if wind <= 5 else 7.2 * wind**0.78
    long_wave = 5.670374419e-8 * ((sky_c + 273.15) ** 4 - (face_c + 273.15) ** 4)
    evaporated = float(menzel_rate_kg_m2_h(face_c, air_c, humidity, wind))
    # A film and the seams beside it, in series with the air over them.
    through = film_kg + leak_kg * (wind + 0.5)
    share = 1 / (1 + float(menzel_transfer_kg_m2_h_kpa(wind)) / through)
    return (
        film * (air_c - face_c)
        + absorptivity * solar
        + emissivity * long_wave
        - share * evaporated / 3600 * 2.45e6
    )


@settings(deadline=None)
@given(
    face_c=st.floats(-10, 60),
    air_c=st.floats(-15, 45),
    humidity=st.floats(0.05, 1),
    wind=st.floats(0, 12),
    solar=st.floats(0, 1100),
    sky_c=st.floats(-40, 30),
    absorptivity=st.floats(0.2, 0.9),
    film_kg=st.floats(1e-4, 1) | st.just(np.inf),
    leak_kg=st.floats(0, 0.1),
)
def test_flow_at_the_tangent_point_is_the_balance_itself(
    face_c: float, air_c: float, humidity: float, wind: float, solar: float,
    sky_c: float, absorptivity: float, film_kg: float, leak_kg: float,
) -> None:  # fmt: skip
    film, outside_c = film_and_outside(
        np.array([face_c]),
        one(air_c, humidity, wind, solar, sky_c),
        layers(1, 0.0, absorptivity, film_kg, leak_kg),
    )
    exact = balance_w_m2(
        face_c,
        air_c,
        humidity,
        wind,
        solar,
        sky_c,
        absorptivity,
        0.9,
        film_kg,
        leak_kg,
    )
    assert film[0] * (outside_c[0] - face_c) == pytest.approx(exact, abs=1e-6)


def test_film_is_the_slope_of_the_balance() -> None:
    given_weather = (18.0, 0.5, 3.0, 400.0, 5.0)
    film, _ = film_and_outside(
        np.array([28.0]), one(*given_weather), layers(1, 0.0, 0.7, np.inf)
    )
    at = [balance_w_m2(c, *given_weather, 0.7, 0.9, np.inf) for c in (27.9, 28.1)]
    assert film[0] == pytest.approx((at[0] - at[1]) / 0.2, rel=1e-4)


def test_dry_face_in_shade_under_a_sky_of_its_own_warmth_only_meets_air() -> None:
    film, outside_c = film_and_outside(
        np.array([18.0]), one(18.0, 0.5, 2.0, 0.0, 18.0), layers(1, 0.0, 0.7, 0.0)
    )
    assert outside_c[0] == pytest.approx(18.0)
    assert film[0] > 13.6  # 5.6 + 4 × 2, and radiation


def test_wet_face_sees_a_colder_outside_than_a_dry_one() -> None:
    weather = one(25.0, 0.3, 3.0, 0.0, 10.0)
    found = [
        film_and_outside(np.array([25.0]), weather, layers(1, 0.0, 0.7, wet))[1][0]
        for wet in (0.0, 0.01, np.inf)
    ]
    assert found == sorted(found, reverse=True)


@given(
    film=st.floats(5, 80), outside_c=st.floats(-20, 70), before_c=st.floats(0, 40),
    capacity=st.floats(0, 4e5), within_s=st.sampled_from([600, 3600]),
)  # fmt: skip
def test_what_enters_a_pond_warms_it(
    film: float, outside_c: float, before_c: float, capacity: float, within_s: float
) -> None:
    """With nothing behind it, its face comes to the temperature that it sees."""
    both, seen_c = with_capacity(
        np.array([film]), np.array([outside_c]), np.array([before_c]),
        np.array([capacity]), within_s,
    )  # fmt: skip
    entered_j_m2 = film * (outside_c - seen_c[0]) * within_s
    assert capacity * (seen_c[0] - before_c) == pytest.approx(entered_j_m2, abs=1e-3)
    assert both[0] >= film


@pytest.mark.parametrize("film", [5.0, 20.0, 60.0])
def test_face_that_meets_the_wind_is_guessed_as_a_deep_solid_s(film: float) -> None:
    # Carslaw and Jaeger: 1 - erfcx(h sqrt(a t) / k) of the way, here within a tenth.
    at_once = film * np.sqrt(1800 / (2.0 * 2.4e6))
    found = face_soon_c(
        np.array([20.0]), np.zeros(1), np.sqrt(np.array([2.0 * 2.4e6])), np.zeros(1),
        np.array([film]), np.array([0.0]), 1800.0,
    )  # fmt: skip
    assert found[0] == pytest.approx(20 * erfcx(at_once), abs=2.0)


@given(
    concrete_c=st.floats(-5, 60), film=st.floats(2, 80), outside_c=st.floats(-30, 60),
    lies_m2k_w=st.floats(0, 2),
)  # fmt: skip
def test_face_that_meets_what_it_met_stays_as_it_is(
    concrete_c: float, film: float, outside_c: float, lies_m2k_w: float
) -> None:
    flow_w_m2 = (outside_c - concrete_c) / (lies_m2k_w + 1 / film)
    found = face_soon_c(
        np.array([concrete_c]), np.array([flow_w_m2]), np.array([2190.0]),
        np.array([lies_m2k_w]), np.array([film]), np.array([outside_c]), 1800.0,
    )  # fmt: skip
    assert found[0] == pytest.approx(concrete_c + flow_w_m2 * lies_m2k_w, abs=1e-6)
