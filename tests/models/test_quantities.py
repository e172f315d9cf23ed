"""Units against their published definitions, not against our own factors."""

from math import isfinite

import pytest
import scipy.constants as const
from hypothesis import given
from hypothesis import strategies as st

from models.quantities import (
    UNITS,
    duration,
    measure,
    read_quantity,
    show,
    show_hours,
    show_share,
)

# scipy.constants takes its factors from NIST SP 811 and the 1959 yard and pound; they
# are exact but for the pound-force per square inch, printed there to seven figures.
PUBLISHED = [
    ("1 ft2", "area", const.foot**2),
    ("1 sqft", "area", const.foot**2),
    ("1 yd2", "area", const.yard**2),
    ("1 ft", "length", const.foot),
    ("1 in", "length", const.inch),
    ("1 yd", "length", const.yard),
    ("1 in", "thickness", const.inch / const.milli),
    ("1 ft", "thickness", const.foot / const.milli),
    ("1 mph", "speed", const.mph),
    ("1 kn", "speed", const.knot),
    ("1 km/h", "speed", const.kmh),
    ("1 ft/s", "speed", const.foot),
    ("1 US gal", "volume", const.gallon_US / const.liter),
    ("1 imp gal", "volume", const.gallon_imp / const.liter),
    ("1 m3", "volume", 1 / const.liter),
    ("1 US gpm", "flow", const.gallon_US / const.liter),
    ("1 imp gpm", "flow", const.gallon_imp / const.liter),
    ("1 m3/h", "flow", 1 / const.liter / 60),
    ("1 L/s", "flow", 60),
    ("1 L/h", "flow", 1 / 60),
    ("1 US gal/ft2", "water per area", const.gallon_US / const.liter / const.foot**2),
    ("1 lb/ft2/h", "evaporation", const.pound / const.foot**2),
    ("1 in", "depth of water", const.inch / const.milli),
    ("1 psi", "pressure", const.psi / const.mega),
    ("1 ksi", "pressure", const.psi / const.kilo),
    ("1 lb/yd3", "mass per volume", const.pound / const.yard**3),
    ("1 kJ/mol", "energy per amount", const.kilo),
    ("1 d", "duration in hours", const.day / const.hour),
    ("1 h", "duration in minutes", const.hour / const.minute),
    ("1 %", "share", 0.01),
]


@pytest.mark.parametrize(("text", "kind", "published"), PUBLISHED)
def test_factor_is_the_published_one(text: str, kind: str, published: float) -> None:
    assert read_quantity(text, kind) == pytest.approx(published, rel=1e-12)


# Fixed points of the scales: by definition, and where the two scales meet.
@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("32 degF", 0), ("212 °F", 100), ("-40 F", -40), ("0 K", -273.15),
        ("273.15 K", 0), ("21.5", 21.5), ("-5 C", -5),
    ],
)  # fmt: skip
def test_temperature_scales_meet_at_their_fixed_points(
    text: str, celsius: float
) -> None:
    assert read_quantity(text, "temperature") == pytest.approx(celsius, abs=1e-12)


def test_a_temperature_difference_has_no_zero_point() -> None:
    assert read_quantity("9 degF", "temperature difference") == pytest.approx(5)


# ACI 305R's action levels are the same number twice: 0.2 lb/(ft² h) is given as
# 1.0 kg/(m² h) (from memory), rounded to one figure.
def test_action_level_agrees_in_both_systems() -> None:
    rate = read_quantity("0.2 lb/ft2/h", "evaporation")
    assert rate == pytest.approx(1.0, abs=0.05)


@pytest.mark.parametrize("kind", UNITS)
def test_a_bare_number_has_the_first_unit_of_its_kind(kind: str) -> None:
    first = next(iter(UNITS[kind]))
    assert read_quantity("12.5", kind) == read_quantity(f"12.5 {first}", kind) == 12.5


EVERY_UNIT = [(kind, name) for kind, names in UNITS.items() for name in names]


@given(
    st.sampled_from(EVERY_UNIT),
    st.floats(-1e6, 1e6, allow_subnormal=False),
)
def test_a_quantity_comes_back_from_its_text(
    unit: tuple[str, str], value: float
) -> None:
    kind, name = unit
    by = UNITS[kind][name]
    in_unit = (value - by.offset) / by.factor
    tolerance = 1e-9 * (1 + abs(value) + abs(by.offset))
    assert read_quantity(f"{in_unit!r} {name}", kind) == pytest.approx(
        value, abs=tolerance
    )


@given(st.integers(0, 10**9))
def test_thousands_may_be_parted_by_commas(value: int) -> None:
    assert read_quantity(f"{value:,}", "area") == value


@pytest.mark.parametrize(
    ("text", "kind", "wanted"),
    [
        ("1,5", "area", "commas only between thousands"),
        ("1.234,5", "area", "commas only between thousands"),
        ("12,34 m2", "area", "commas only between thousands"),
        ("nan", "area", "an area"),
        ("inf", "area", "an area"),
        ("-inf", "temperature", "a temperature"),
        ("1e999", "area", "a finite number"),
        ("", "flow", "a flow"),
        (".5", "length", "a digit before its decimal point"),
        ("4 200 ft2", "area", "a number without spaces"),
        ("300 ft", "area", "an area in one of: m2, m²"),
        ("60 deg", "temperature", "a temperature in one of: degC"),
        ("12 gal", "volume", "'US gal' or 'imp gal' in full"),
        ("35 gpm", "flow", "'US gal' or 'imp gal' in full"),
        ("2 gallons", "volume", "'US gal' or 'imp gal' in full"),
        ("3 K", "number", "a number without a unit"),
    ],
)
def test_refused_with_what_is_wanted(text: str, kind: str, wanted: str) -> None:
    with pytest.raises(ValueError, match=wanted):
        read_quantity(text, kind)


@given(st.text(max_size=20), st.sampled_from(sorted(UNITS)))
def test_any_text_is_a_finite_number_or_refused(text: str, kind: str) -> None:
    try:
        value = read_quantity(text, kind)
    except ValueError:
        return
    assert isfinite(value)


@pytest.mark.parametrize(
    ("kind", "value", "si", "us"),
    [
        # 100 m² = 1076.39 ft²; 20 °C = 68 °F; 10 m/s = 22.37 mph; 100 L = 26.4 US gal
        ("area", 100, "100 m²", "1,076 ft²"),
        ("temperature", 20, "20 °C", "68 °F"),
        ("speed", 10, "10.0 m/s", "22 mph"),
        ("volume", 100, "100 L", "26 US gal"),
        ("flow", 40, "40 L/min", "10.6 US gpm"),
        # 0.8 L/m² = 0.8 / 3.785 × 9.290 US gal per 100 ft² = 1.96
        ("water per area", 0.8, "0.80 L/m²", "2.0 US gal/100 ft²"),
        ("evaporation", 1.0, "1.0 kg/(m² h)", "0.20 lb/ft²/h"),
        # 5 MPa at 145.04 psi
        ("pressure", 5.0, "5.0 MPa", "725 psi"),
        # 12.7 mm = half an inch; 50 mm = 1.97 in.
        ("rain", 12.7, "12.7 mm", "0.50 in"),
        ("depth", 50, "50 mm", "2.0 in"),
        # 0.5 kN/m² = 500 N × 0.0929 m²/ft² / 4.448 N/lbf = 10.4 lb/ft²
        ("load", 0.5, "0.50 kN/m²", "10 psf"),
    ],
)
def test_shown_in_the_units_of_the_site(
    kind: str, value: float, si: str, us: str
) -> None:
    assert show(kind, value, "si") == si
    assert show(kind, value, "us") == us


@pytest.mark.parametrize(
    ("share", "words"), [(0.0, "0 %"), (0.416, "42 %"), (1, "100 %")]
)
def test_shares(share: float, words: str) -> None:
    assert show_share(share) == words


@pytest.mark.parametrize(
    ("minutes", "words"),
    [
        (0, "0 min"),
        (45, "45 min"),
        (120, "2 h"),
        (130, "2 h 10 min"),
        (1440, "1 d"),
        (4573, "3 d 4 h"),
    ],
)
def test_duration(minutes: int, words: str) -> None:
    assert duration(minutes) == words


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (-40, -40)])
def test_fahrenheit_at_its_fixed_points(celsius: float, fahrenheit: float) -> None:
    exact = measure("exact temperature", "us")
    assert exact.shown(celsius) == pytest.approx(fahrenheit)


def test_differences_have_no_offset() -> None:
    exact = measure("exact temperature difference", "us")
    assert exact.shown(10) == pytest.approx(18)
    assert show("cooling", 2, "us") == "3.6 °F/h"


def test_a_litre_a_square_metre_in_gallons_a_hundred_square_feet() -> None:
    # 100 ft² = 9.290304 m²; 1 US gal = 3.785411784 L (both by definition):
    # 9.290304 L / 3.785411784 L = 2.45424 US gal.
    assert measure("loss", "us").shown(1) == pytest.approx(2.45424, abs=1e-5)


def test_charts_show_tenths_and_hundredths() -> None:
    assert show("exact temperature", 41.26, "si") == "41.3 °C"
    assert show("loss", 0.25, "si") == "0.25 L/(m² h)"


@pytest.mark.parametrize(
    ("hours_h", "words"), [(1.44, "1.4 h"), (9.94, "9.9 h"), (17.4, "17 h")]
)
def test_hours(hours_h: float, words: str) -> None:
    assert show_hours(hours_h) == words


def test_a_little_below_nought_is_written_as_nought() -> None:
    assert show("temperature", -0.3, "si") == "0 °C"
    assert show("temperature", -0.6, "si") == "-1 °C"
