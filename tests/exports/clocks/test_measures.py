"""The site's units, against their definitions."""

import pytest

from exports.clocks.measures import COOLING, DIFFERENCE, LOSS, TEMPERATURE


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (-40, -40)])
def test_fahrenheit_at_its_fixed_points(celsius: float, fahrenheit: float) -> None:
    assert TEMPERATURE["us"].shown(celsius) == pytest.approx(fahrenheit)


def test_differences_have_no_offset() -> None:
    assert DIFFERENCE["us"].shown(10) == pytest.approx(18)
    assert COOLING["us"].words(2) == "3.6 °F/h"


def test_a_litre_a_square_metre_in_gallons_a_hundred_square_feet() -> None:
    # 100 ft² = 9.290304 m²; 1 US gal = 3.785411784 L (both by definition):
    # 9.290304 L / 3.785411784 L = 2.45424 US gal.
    assert LOSS["us"].shown(1) == pytest.approx(2.45424, abs=1e-5)


def test_si_is_as_recorded() -> None:
    assert TEMPERATURE["si"].words(41.26) == "41.3 °C"
    assert LOSS["si"].words(0.25) == "0.25 L/(m² h)"
