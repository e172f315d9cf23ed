"""Quantities: the one closed table of units, read from text and shown as text.

A record's field carries its unit in the name and its bounds in the type. Files may
say "4200 ft2" or "60 degF"; :func:`read_quantity` turns that into the record's unit,
:func:`show` turns it back into words in the site's own units. The factors are exact
by definition (international yard and pound, 1959; US and imperial gallon).
"""

import re
from dataclasses import dataclass
from math import isfinite
from typing import Annotated, Literal

from pydantic import AwareDatetime, Field

AreaM2 = Annotated[float, Field(gt=0, le=200_000, description="Area [m²]")]
TemperatureC = Annotated[float, Field(ge=-60, le=90, description="[°C]")]
Fraction = Annotated[float, Field(ge=0, le=1, description="0 to 1 [-]")]
Instant = AwareDatetime
Units = Literal["si", "us"]


@dataclass(frozen=True)
class Unit:
    """One spelling of a unit: value in the record's unit = text × factor + offset."""

    factor: float
    offset: float = 0.0


_FOOT_M, _INCH_M, _POUND_KG = 0.3048, 0.0254, 0.45359237
_POUND_N = _POUND_KG * 9.80665
_US_GALLON_L, _IMPERIAL_GALLON_L = 3.785411784, 4.54609
_FT2_M2 = _FOOT_M**2
_PSI_MPA = 0.006894757293168361

#: What a value of a kind is called where one is missing; others are numbers.
CALLED = {
    "area": "an area",
    "length": "a length",
    "thickness": "a thickness",
    "temperature": "a temperature",
    "temperature difference": "a temperature difference",
    "speed": "a speed",
    "volume": "a volume",
    "flow": "a flow",
    "water per area": "an amount of water per area",
    "evaporation": "an evaporation rate",
    "depth of water": "a depth of water",
    "irradiance": "an irradiance",
    "pressure": "a pressure",
    "mass per volume": "a mass per volume",
    "energy per amount": "an energy per mole",
    "duration in hours": "a duration",
    "duration in minutes": "a duration",
    "rate": "a rate",
}
#: kind -> spelling -> unit; the first spelling of a kind is that of the record.
UNITS: dict[str, dict[str, Unit]] = {
    "area": {
        "m2": Unit(1), "m²": Unit(1), "sqm": Unit(1), "ft2": Unit(_FT2_M2),
        "ft²": Unit(_FT2_M2), "sqft": Unit(_FT2_M2), "yd2": Unit(9 * _FT2_M2),
    },
    "length": {
        "m": Unit(1), "mm": Unit(0.001), "cm": Unit(0.01), "km": Unit(1000),
        "ft": Unit(_FOOT_M), "in": Unit(_INCH_M), "yd": Unit(3 * _FOOT_M),
    },
    "thickness": {
        "mm": Unit(1), "m": Unit(1000), "cm": Unit(10),
        "in": Unit(_INCH_M * 1000), "ft": Unit(_FOOT_M * 1000),
    },
    "temperature": {
        "degC": Unit(1), "°C": Unit(1), "C": Unit(1), "K": Unit(1, -273.15),
        "degF": Unit(5 / 9, -160 / 9), "°F": Unit(5 / 9, -160 / 9),
        "F": Unit(5 / 9, -160 / 9),
    },
    "temperature difference": {"K": Unit(1), "degC": Unit(1), "degF": Unit(5 / 9)},
    "speed": {
        "m/s": Unit(1), "km/h": Unit(1 / 3.6), "mph": Unit(0.44704),
        "kn": Unit(1852 / 3600), "ft/s": Unit(_FOOT_M),
    },
    "volume": {
        "L": Unit(1), "l": Unit(1), "m3": Unit(1000), "m³": Unit(1000),
        "US gal": Unit(_US_GALLON_L), "imp gal": Unit(_IMPERIAL_GALLON_L),
    },
    "flow": {
        "L/min": Unit(1), "l/min": Unit(1), "L/h": Unit(1 / 60), "L/s": Unit(60),
        "m3/h": Unit(1000 / 60), "US gpm": Unit(_US_GALLON_L),
        "imp gpm": Unit(_IMPERIAL_GALLON_L),
    },
    "water per area": {
        "L/m2": Unit(1), "L/m²": Unit(1), "mm": Unit(1),
        "US gal/ft2": Unit(_US_GALLON_L / _FT2_M2),
    },
    "evaporation": {
        "kg/m2/h": Unit(1), "kg/(m² h)": Unit(1),
        "lb/ft2/h": Unit(_POUND_KG / _FT2_M2),
    },
    "depth of water": {"mm": Unit(1), "cm": Unit(10), "in": Unit(_INCH_M * 1000)},
    "irradiance": {"W/m2": Unit(1), "W/m²": Unit(1)},
    "pressure": {
        "MPa": Unit(1), "N/mm2": Unit(1), "psi": Unit(_PSI_MPA),
        "ksi": Unit(1000 * _PSI_MPA),
    },
    "mass per volume": {
        "kg/m3": Unit(1), "kg/m³": Unit(1),
        "lb/yd3": Unit(_POUND_KG / (3 * _FOOT_M) ** 3),
    },
    "energy per amount": {"J/mol": Unit(1), "kJ/mol": Unit(1000)},
    "duration in hours": {"h": Unit(1), "min": Unit(1 / 60), "d": Unit(24)},
    "duration in minutes": {"min": Unit(1), "h": Unit(60)},
    "rate": {"1/h": Unit(1), "1/d": Unit(1 / 24)},
    "share": {"": Unit(1), "%": Unit(0.01)},
    "percent": {"%": Unit(1)},
    "number": {"": Unit(1)},
}  # fmt: skip


class UnreadableQuantityError(ValueError):
    """A text that is no quantity, and what is expected instead.

    ``numeric`` is False where it holds no number at all, ``unit`` a unit that is not
    known.
    """

    def __init__(self, wanted: str, *, numeric: bool = True, unit: str = "") -> None:
        super().__init__(wanted)
        self.wanted, self.numeric, self.unit = wanted, numeric, unit


_NUMBER = re.compile(r"[+-]?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?(?:[eE][+-]?\d+)?")
_GALLONS = re.compile(r"(?<!US )(?<!imp )\b(?:gal|gpm|gallons?)\b")


def read_quantity(text: str, kind: str) -> float:
    """Read a number with or without its unit.

    Parameters
    ----------
    text : str
        For example ``"4200 ft2"``, ``"1,200"`` or ``"60 degF"``. A bare number has
        the unit of the record, the first of its kind in :data:`UNITS`.
    kind : str
        Key of :data:`UNITS`.

    Returns
    -------
    float
        The value in the record's unit.

    Raises
    ------
    UnreadableQuantityError
        With what is expected instead.
    """
    units, called = UNITS[kind], CALLED.get(kind, "a number")
    stripped = text.strip()
    match = _NUMBER.match(stripped)
    if not match:
        if re.match(r"[+-]?\.\d", stripped):
            wanted = "a number with a digit before its decimal point"
            raise UnreadableQuantityError(wanted)
        raise UnreadableQuantityError(called, numeric=False)
    rest = stripped[match.end() :]
    if rest.startswith((",", ".")):
        raise UnreadableQuantityError(
            "a number with a decimal point; commas only between thousands (1,200)"
        )
    spelling = rest.strip()
    if _GALLONS.search(spelling):
        wanted = "'US gal' or 'imp gal' in full: the two differ by 20 %"
        raise UnreadableQuantityError(wanted)
    unit = units.get(spelling) if spelling else next(iter(units.values()))
    if unit is None and spelling[:1].isdigit():
        raise UnreadableQuantityError("a number without spaces (4200 or 4,200)")
    if unit is None:
        allowed = ", ".join(name for name in units if name)
        of = f"in one of: {allowed}" if allowed else "without a unit"
        raise UnreadableQuantityError(f"{called} {of}", unit=spelling)
    value = float(match[0].replace(",", "")) * unit.factor + unit.offset
    if not isfinite(value):
        raise UnreadableQuantityError("a finite number")
    return value


@dataclass(frozen=True)
class Measure:
    """How a quantity is written: shown = value × factor + offset, then the unit."""

    unit: str
    digits: int
    factor: float = 1.0
    offset: float = 0.0

    def shown(self, value: float) -> float:
        """Convert from the record's unit."""
        return value * self.factor + self.offset

    def words(self, value: float) -> str:
        """Say a value of the record's unit, rounded as people read it."""
        return f"{self.shown(value):z,.{self.digits}f} {self.unit}"


_GALLONS_100_FT2 = 100 * _FT2_M2 / _US_GALLON_L  # in a litre per m²

#: kind -> how it is written in SI, and in US units; ``exact`` ones are for charts.
_SHOWN: dict[str, tuple[Measure, Measure]] = {
    "length": (Measure("m", 0), Measure("ft", 0, 1 / _FOOT_M)),
    "area": (Measure("m²", 0), Measure("ft²", 0, 1 / _FT2_M2)),
    "temperature": (Measure("°C", 0), Measure("°F", 0, 1.8, 32)),
    "exact temperature": (Measure("°C", 1), Measure("°F", 0, 1.8, 32)),
    "temperature difference": (Measure("K", 0), Measure("°F", 0, 1.8)),
    "exact temperature difference": (Measure("K", 1), Measure("°F", 1, 1.8)),
    "cooling": (Measure("K/h", 1), Measure("°F/h", 1, 1.8)),
    "speed": (Measure("m/s", 1), Measure("mph", 0, 1 / 0.44704)),
    "volume": (Measure("L", 0), Measure("US gal", 0, 1 / _US_GALLON_L)),
    "small volume": (Measure("L", 1), Measure("US gal", 1, 1 / _US_GALLON_L)),
    "flow": (Measure("L/min", 0), Measure("US gpm", 1, 1 / _US_GALLON_L)),
    "water per area": (
        Measure("L/m²", 2), Measure("US gal/100 ft²", 1, _GALLONS_100_FT2),
    ),
    "loss": (
        Measure("L/(m² h)", 2), Measure("US gal/(100 ft² h)", 2, _GALLONS_100_FT2),
    ),
    "evaporation": (
        Measure("kg/(m² h)", 1), Measure("lb/ft²/h", 2, _FT2_M2 / _POUND_KG),
    ),
    "pressure": (Measure("MPa", 1), Measure("psi", 0, 1 / _PSI_MPA)),
    "rain": (Measure("mm", 1), Measure("in", 2, 1 / (1000 * _INCH_M))),
    "depth": (Measure("mm", 0), Measure("in", 1, 1 / (1000 * _INCH_M))),
    "load": (Measure("kN/m²", 2), Measure("psf", 0, _FT2_M2 * 1000 / _POUND_N)),
}  # fmt: skip


def measure(kind: str, units: Units) -> Measure:
    """Give the way in which a kind is written in a system of units.

    Raises
    ------
    KeyError
        If the kind is never shown.
    """
    return _SHOWN[kind][units == "us"]


def show(kind: str, value: float, units: Units) -> str:
    """Say a quantity in the site's units, rounded as people read it.

    Raises
    ------
    KeyError
        If the kind is never shown.
    """
    return measure(kind, units).words(value)


def show_volume(litres_l: float, units: Units) -> str:
    """Say a volume in the site's units, below ten litres to a tenth."""
    return show("volume" if litres_l >= 10 else "small volume", litres_l, units)


def show_share(fraction: float) -> str:
    """``42 %``."""
    return f"{100 * fraction:.0f} %"


def show_hours(hours_h: float) -> str:
    """``1.4 h``, from ten on ``17 h``."""
    return f"{hours_h:.1f} h" if hours_h < 10 else f"{hours_h:.0f} h"


def duration(minutes: int) -> str:
    """``45 min``, ``2 h``, ``2 h 10 min`` or ``3 d 4 h``."""
    days, rest = divmod(minutes, 24 * 60)
    hours, left = divmod(rest, 60)
    parts = [(days, "d"), (hours, "h"), (0 if days else left, "min")]
    return " ".join(f"{count} {unit}" for count, unit in parts if count) or "0 min"
