import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from models.drying.air import (
    buck_kpa,
    dew_point_c,
    latent_heat_j_kg,
    vapour_pressure_kpa,
)
from models.drying.cover import cover_face_temperature_c, cover_loss_kg_m2_h
from models.drying.cover_stages import film_of, leak_of
from models.drying.covers import cover_properties
from models.drying.evaporation import menzel_rate_kg_m2_h, menzel_transfer_kg_m2_h_kpa
from models.drying.film import vapour_resistance_m2h_kpa_kg
from models.drying.ranges import Floats, Numbers
from models.drying.sky import sky_temperature_c
from models.drying.wind import wind_at_half_metre_m_s
from models.errors import OutOfRangeError
from models.records import CoverKind
from tests.references.wet_bulb import wet_bulb_c

C = st.floats(-40, 80)
SHARE = st.floats(0, 1)
RESISTANCE = st.floats(0, 5)
TO_VAPOUR = st.floats(0, 600) | st.just(np.inf)
PRESSURE_KPA = st.floats(45, 108)
SEA_KPA = 101.325


def burlap_loss(
    concrete_c: Numbers,
    air_c: float = 30.0,
    humidity: float = 0.48,
    wind_10m: Numbers = 4.1,
    solar_w_m2: Numbers = 0.0,
    resistance: float = 0.01,
    kind: CoverKind = "burlap_double",
    pressure_kpa: float = SEA_KPA,
    area_m2: float = 200,
) -> Floats:
    """A cover of a kind in the open, under a sky of little cloud."""
    cover = cover_properties(kind)
    wind_m_s = wind_at_half_metre_m_s(wind_10m, 10, 10)
    return cover_loss_kg_m2_h(
        concrete_c,
        air_c,
        humidity,
        wind_m_s,
        solar_w_m2,
        sky_temperature_c(air_c, dew_point_c(air_c, humidity), 0.2),
        resistance,
        cover.absorptivity_fraction,
        cover.emissivity_fraction,
        vapour_resistance_m2h_kpa_kg(film_of(cover), leak_of(cover, area_m2), wind_m_s),
        pressure_kpa,
    )


@given(st.floats(-30, 80), st.floats(0.05, 1), st.floats(1, 75), PRESSURE_KPA)
@settings(deadline=None)
def test_a_face_without_sun_sky_and_concrete_comes_to_the_wet_bulb(
    air_c: float, humidity: float, wind_m_s: float, kpa: float
) -> None:
    wet_c = float(wet_bulb_c(air_c, humidity, kpa))
    # On concrete of that temperature, so that nothing flows there either.
    face_c = float(
        cover_face_temperature_c(
            wet_c, air_c, humidity, wind_m_s, 0, 0, 5, 0, 0, 0, kpa
        )
    )
    assert face_c == pytest.approx(wet_c, abs=1e-6)


def test_a_dry_face_lies_between_air_and_concrete_by_their_conductances() -> None:
    # Still air: 0.315 × 0.253 kg/(m² h kPa) × 2.4538 MJ/kg / 3600 = 54.32 W/(m² kPa),
    # times 0.06736 kPa/K = 3.659 W/(m² K) to the air; 5 W/(m² K) to the concrete:
    # (3.659 × 20 + 5 × 30) / 8.659 = 25.774 °C.
    inputs = (30, 20, 0.5, 0, 0, 20, 0.2, 0, 0, np.inf)
    face_c = float(cover_face_temperature_c(*inputs, SEA_KPA))
    assert face_c == pytest.approx(25.774, abs=0.005)
    # Thin air carries off less heat: at 75 % of that pressure 3.659 × 0.75 = 2.744:
    # (2.744 × 20 + 5 × 30) / 7.744 = 26.457 °C.
    high_c = float(cover_face_temperature_c(*inputs, 0.75 * SEA_KPA))
    assert high_c == pytest.approx(26.457, abs=0.005)


@given(C, C, SHARE, st.floats(0, 75), st.floats(0, 1500), st.floats(-120, 80),
       RESISTANCE, SHARE, SHARE, TO_VAPOUR, PRESSURE_KPA)  # fmt: skip
@settings(deadline=None)
def test_heat_flows_balance_at_the_face(
    concrete_c: float, air_c: float, humidity: float, wind_m_s: float,
    solar: float, sky_c: float, resistance: float, absorptivity: float,
    emissivity: float, to_vapour: float, kpa: float,
) -> None:  # fmt: skip
    face_c = float(
        cover_face_temperature_c(
            concrete_c, air_c, humidity, wind_m_s, solar, sky_c,
            resistance, absorptivity, emissivity, to_vapour, kpa,
        )
    )  # fmt: skip
    open_kg = float(menzel_transfer_kg_m2_h_kpa(wind_m_s))
    latent_wh_kg = float(latent_heat_j_kg(air_c)) / 3600
    deficit_kpa = float(
        buck_kpa(np.array(face_c)) - vapour_pressure_kpa(air_c, humidity)
    )
    flows_w_m2 = (
        absorptivity * solar,
        emissivity * 5.670374e-8 * ((sky_c + 273.15) ** 4 - (face_c + 273.15) ** 4),
        (concrete_c - face_c) / max(resistance, 0.001),
        -latent_wh_kg * deficit_kpa / (1 / open_kg + to_vapour),
        # 1.013 kJ/(kg K) over 0.622 times 2450 kJ/kg, of FAO-56.
        -latent_wh_kg * open_kg * 0.00066475 * kpa * (face_c - air_c),
    )
    largest = max(1.0, *(abs(flow) for flow in flows_w_m2))
    assert abs(sum(flows_w_m2)) < 1e-4 * largest


@given(st.tuples(C, C, SHARE, st.floats(0, 75), st.floats(0, 1500),
                 st.floats(-120, 80), RESISTANCE, SHARE, SHARE,
                 TO_VAPOUR, PRESSURE_KPA))  # fmt: skip
@settings(deadline=None)
def test_loss_is_a_number_and_never_negative(inputs: tuple[float, ...]) -> None:
    loss = float(cover_loss_kg_m2_h(*inputs))
    assert loss >= 0
    assert np.isfinite(loss)


@given(C, st.floats(0, 75), st.floats(0, 5))
@settings(deadline=None)
def test_saturated_air_of_the_same_temperature_takes_nothing(
    air_c: float, wind_m_s: float, resistance: float
) -> None:
    loss = cover_loss_kg_m2_h(
        air_c, air_c, 1, wind_m_s, 0, air_c, resistance, 0.7, 0.9, 1, SEA_KPA
    )
    assert float(loss) == pytest.approx(0, abs=1e-9)


def test_thin_air_dries_a_sunny_cover_faster_and_a_shaded_one_slower() -> None:
    # The wind takes less heat from a face the sun keeps hotter than the air, and brings
    # less to one that evaporation keeps cooler.
    def lost(kpa: float, air_c: float, solar_w_m2: float) -> float:
        loss = burlap_loss(25, air_c, 0.2, solar_w_m2=solar_w_m2, pressure_kpa=kpa)
        return float(loss)

    assert lost(80, 20, 1000) > lost(101, 20, 1000)
    assert lost(80, 30, 0) < lost(101, 30, 0)


@given(st.floats(5, 45), st.floats(0, 45), st.floats(0.05, 0.95), st.floats(0, 15),
       st.floats(0, 1000))  # fmt: skip
@settings(deadline=None)
def test_twice_the_wind_never_takes_less(
    concrete_c: float, air_c: float, humidity: float, wind_m_s: float, solar: float
) -> None:
    once, twice = burlap_loss(
        concrete_c, air_c, humidity, np.array([wind_m_s, 2 * wind_m_s]), solar
    )
    assert twice >= once - 1e-9


@given(st.floats(5, 45), st.floats(5, 45), st.floats(0, 1000))
@settings(deadline=None)
def test_warmer_concrete_never_takes_less(
    one_c: float, other_c: float, sun: float
) -> None:
    cool, warm = burlap_loss(np.array(sorted((one_c, other_c))), solar_w_m2=sun)
    assert warm >= cool - 1e-9


def test_warm_young_concrete_dries_its_burlap_far_sooner_on_a_mild_night() -> None:
    cold, warm = burlap_loss(
        np.array([12.0, 30.0]), air_c=13.0, humidity=0.85, wind_10m=2.0
    )
    assert warm > 4 * cold > 0


def test_five_kelvin_under_single_burlap_cost_most_of_its_hours() -> None:
    # A mild July night: 15 °C, 85 %, 2 m/s; concrete as cool as the air, 5 K above it
    # and 5 K below it, where dew falls.
    cool, warm, cold = burlap_loss(
        np.array([15.0, 20.0, 10.0]),
        air_c=15.0, humidity=0.85, wind_10m=2.0, kind="burlap_single",
    )  # fmt: skip
    held_l_m2 = cover_properties("burlap_single").held_l_m2
    assert held_l_m2 / warm < 4.5  # gone before midnight
    assert held_l_m2 / cool > 10  # lasts the night
    assert cold <= 0


def test_a_thin_cover_without_sun_dries_like_the_concrete_under_it() -> None:
    # The face is that of the concrete but for a few tenths of a kelvin, worth 5 %.
    loss = float(burlap_loss(25.0, 20.0, 0.6, 3.0, resistance=0.0))
    bare = float(
        menzel_rate_kg_m2_h(25.0, 20.0, 0.6, wind_at_half_metre_m_s(3.0, 10, 10))
    )
    assert loss == pytest.approx(bare, rel=0.05)


def test_a_july_day_takes_about_seven_tenths_of_a_litre_an_hour() -> None:
    # 30 °C, 48 %, 4.1 m/s at 10 m, 878 W/m², nothing from below: 0.71 by an energy
    # balance of the same kind with other film coefficients, 0.81 by Penman (both own
    # calculations). The estimate's own 40 % covers far more than this band.
    assert 0.6 <= float(burlap_loss(30.0, solar_w_m2=878, resistance=5)) <= 0.85


def test_a_large_lapped_sheet_keeps_more_than_nine_tenths() -> None:
    under_sheet, bare = (
        float(burlap_loss(30.0, solar_w_m2=600, kind=kind))
        for kind in ("sheet_over_burlap", "burlap_double")
    )
    assert 0.01 <= under_sheet / bare <= 0.1


def test_wind_takes_from_open_burlap_but_hardly_through_a_film() -> None:
    # From 1 to 8 m/s at 10 m Menzel's transfer grows 0.388 / 0.118 = 3.3 times.
    bounds: dict[CoverKind, tuple[float, float]] = {
        "burlap_double": (2.5, 3.4), "compound_white": (0.85, 1.05),
    }  # fmt: skip
    for kind, (least, most) in bounds.items():
        calm, windy = burlap_loss(
            30.0, wind_10m=np.array([1.0, 8.0]), resistance=0, kind=kind
        )
        assert least <= windy / calm <= most


def test_a_compound_loses_as_much_in_a_calm_week_as_in_a_windy_one() -> None:
    # Concrete of 25 °C in air of 20 °C and half of saturation: 3.17 - 1.17 = 2.0 kPa
    # at most, times 0.00175 kg/(m² h kPa) and 168 h = 0.59 kg/m².
    for wind_10m in (1.0, 10.0):
        rate = float(
            burlap_loss(25.0, 20.0, 0.5, wind_10m, resistance=0, kind="compound_white")
        )
        assert 168 * rate == pytest.approx(0.59, abs=0.06)


def test_a_small_sheet_loses_more_than_a_large_one_and_wind_finds_its_edges() -> None:
    small_calm, small_windy = burlap_loss(
        30.0, wind_10m=np.array([2.0, 8.0]), kind="plastic_sheet", area_m2=6
    )
    large_calm, large_windy = burlap_loss(
        30.0, wind_10m=np.array([2.0, 8.0]), kind="plastic_sheet", area_m2=400
    )
    assert small_calm > 1.5 * large_calm
    assert small_windy > 1.8 * small_calm
    assert large_windy / large_calm < small_windy / small_calm


def test_white_compound_loses_less_than_clear_in_the_sun() -> None:
    white, clear = (
        float(burlap_loss(30.0, solar_w_m2=800, resistance=0, kind=kind))
        for kind in ("compound_white", "compound_clear")
    )
    assert white < clear


def test_arrays_give_what_plain_numbers_give() -> None:
    concrete_c = np.array([[15.0], [28.0]])
    sun = np.array([0.0, 300.0, 900.0])
    together = burlap_loss(concrete_c, solar_w_m2=sun)
    assert together.shape == (2, 3)
    apart = [
        [float(burlap_loss(float(t), solar_w_m2=float(s))) for s in sun]
        for t in concrete_c[:, 0]
    ]
    assert together == pytest.approx(np.array(apart), rel=1e-12)


def test_a_value_is_the_same_to_the_bit_whatever_stands_beside_it() -> None:
    # Planner and audit add the rates up separately; more values than one block holds,
    # and corners that take many of Newton's steps beside others that take few.
    draw = np.random.default_rng(4).uniform
    low = [-40, -40, 0, 0, 0, -120, 0, 0, 0, 0, 45]
    high = [80, 80, 1, 75, 1500, 80, 5, 1, 1, 600, 108]
    inputs = [draw(*bounds, (400, 100)) for bounds in zip(low, high, strict=True)]
    before = [values.copy() for values in inputs]
    together = cover_loss_kg_m2_h(*inputs)
    one = [values[7, 8] for values in inputs]
    column = [values[:, 9] for values in inputs]
    assert cover_loss_kg_m2_h(*one) == together[7, 8]
    assert (cover_loss_kg_m2_h(*column) == together[:, 9]).all()
    assert all((a == b).all() for a, b in zip(inputs, before, strict=True))


def test_a_dry_face_under_the_sky_has_the_root_of_its_own_equation() -> None:
    # Still air at 20 °C, 3.659 W/(m² K) as above, concrete of 30 °C under 0.2 W/(m² K),
    # a black face and a sky of -10 °C. Solved by another method; Newton's steps leave
    # a billionth of a kelvin.
    sky_w_m2 = 5.670374419e-8 * 263.15**4
    to_air = 0.315 * 0.253 * float(latent_heat_j_kg(20)) / 3600
    to_air *= 1.013 / (0.622 * 2450) * SEA_KPA

    def gains_w_m2(face_c: float) -> float:
        radiated = sky_w_m2 - 5.670374419e-8 * (face_c + 273.15) ** 4
        return radiated + (30 - face_c) / 5 + to_air * (20 - face_c)

    wanted_c = brentq(gains_w_m2, -10, 30, xtol=1e-12)
    found_c = cover_face_temperature_c(30, 20, 0.5, 0, 0, -10, 5, 0, 1, np.inf, SEA_KPA)
    assert float(found_c) == pytest.approx(wanted_c, abs=1e-7)


@pytest.mark.parametrize(
    ("place", "value", "named", "wanted"),
    [
        (0, 81.0, "concrete_temperature_c", "-40 to 80 °C"),
        (1, -41.0, "air_temperature_c", "-40 to 80 °C"),
        (2, 48.0, "humidity_fraction", "0 to 1"),
        (3, -1.0, "wind_m_s", "0 to 75 m/s"),
        (4, 1501.0, "solar_w_m2", "0 to 1500 W/m²"),
        (5, 300.0, "sky_temperature_c", "-120 to 80 °C"),
        (6, -0.1, "resistance_m2k_w", "0 to 5 m² K/W"),
        (7, 70.0, "absorptivity_fraction", "0 to 1"),
        (8, 1.1, "emissivity_fraction", "0 to 1"),
        (9, -1.0, "vapour_resistance_m2h_kpa_kg", "0 to inf m² h kPa/kg"),
        (10, 1013.0, "air_pressure_kpa", "40 to 110 kPa"),
    ],
)
def test_inputs_outside_their_range_are_refused(
    place: int, value: float, named: str, wanted: str
) -> None:
    inputs = [20.0, 20.0, 0.5, 2.0, 100.0, 5.0, 0.01, 0.7, 0.9, 0.0, 100.0]
    inputs[place] = value
    words = f"^{named} = {value:g}: .* holds for {wanted}$"
    with pytest.raises(OutOfRangeError, match=words):
        cover_loss_kg_m2_h(*inputs)
