"""Dew point, wet bulb, psychrometer constant and latent heat of moist air."""

from collections.abc import Callable

import iapws
import psychrolib
from CoolProp.CoolProp import HAPropsSI

from models.drying.air import (
    PSYCHROMETER_1_K,
    air_pressure_kpa,
    dew_point_c,
    latent_heat_j_kg,
)
from models.drying.cover import cover_face_temperature_c
from tests.references.case import Case

_AIR = ((20.0, 0.7), (30.0, 0.5), (38.0, 0.15), (8.0, 0.9))
#: A high plateau.
_HIGH_M = 2500.0
# FAO-56 (1998), annex 2, tables 2.1 and 2.2, from memory: pressure [kPa] to one
# decimal, psychrometer constant [kPa/K] to three.
_FAO56_HEIGHTS = ((0, 101.3, 0.067), (500, 95.5, 0.064), (1000, 90.0, 0.060),
                  (2000, 79.8, 0.053), (3000, 70.5, 0.047))  # fmt: skip


def _dew(air_c: float, humidity: float) -> Callable[[], float]:
    return lambda: float(dew_point_c(air_c, humidity))


def _wet(air_c: float, humidity: float) -> Callable[[], float]:
    return lambda: _face_c(air_c, humidity, 101.325)


def _wet_on_high(air_c: float, humidity: float) -> Callable[[], float]:
    kpa = _standard_kpa(_HIGH_M)
    return lambda: _face_c(air_c, humidity, kpa)


def _face_c(air_c: float, humidity: float, kpa: float) -> float:
    """An open wet face in a gale, without sun and sky, all but off the concrete."""
    concrete_c = (air_c + float(dew_point_c(air_c, humidity))) / 2
    found = cover_face_temperature_c(
        concrete_c, air_c, humidity, 75, 0, air_c, 5, 0, 0, 0, kpa
    )
    return float(found)


def _pressure(elevation_m: float) -> Callable[[], float]:
    return lambda: float(air_pressure_kpa(elevation_m))


def _psychrometer(elevation_m: float) -> Callable[[], float]:
    return lambda: PSYCHROMETER_1_K * float(air_pressure_kpa(elevation_m))


def _standard_kpa(elevation_m: float) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetStandardAtmPressure(elevation_m)) / 1000


def _latent(temperature_c: float) -> Callable[[], float]:
    return lambda: float(latent_heat_j_kg(temperature_c)) / 1000


def _psychrolib_dew_c(air_c: float, humidity: float) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTDewPointFromRelHum(air_c, humidity))


def _psychrolib_wet_c(air_c: float, humidity: float, kpa: float = 101.325) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTWetBulbFromRelHum(air_c, humidity, 1000 * kpa))


def _coolprop_c(what: str, air_c: float, humidity: float) -> float:
    state = ("T", air_c + 273.15, "P", 101_325, "R", humidity)
    return float(HAPropsSI(what, *state)) - 273.15


def _iapws_latent_kj_kg(temperature_c: float) -> float:
    kelvin = temperature_c + 273.15
    return float(iapws.IAPWS97(T=kelvin, x=1).h - iapws.IAPWS97(T=kelvin, x=0).h)


CASES = (
    *(
        Case(
            f"dew-{t:g}-{rh:g}", "psychrolib (ASHRAE 2017)", "package",
            f"dew point at {t:g} °C, {rh:.0%}", "°C", _psychrolib_dew_c(t, rh),
            _dew(t, rh), 0.02,
        )
        for t, rh in _AIR
    ),
    *(
        Case(
            f"dew-coolprop-{t:g}-{rh:g}", "CoolProp, humid air (ASHRAE RP-1485)",
            "package", f"dew point at {t:g} °C, {rh:.0%}", "°C",
            _coolprop_c("Tdp", t, rh), _dew(t, rh), 0.02,
        )
        for t, rh in _AIR
    ),
    # A psychrometer constant for all temperatures against the full enthalpy balance:
    # 0.1 K in ordinary air, 0.2 K in very hot and dry air, a little more high up.
    *(
        Case(
            f"wet-bulb-{t:g}-{rh:g}", "psychrolib (ASHRAE 2017)", "package",
            f"wet bulb at {t:g} °C, {rh:.0%}", "°C", _psychrolib_wet_c(t, rh),
            _wet(t, rh), 0.2,
        )
        for t, rh in _AIR
    ),
    *(
        Case(
            f"wet-bulb-coolprop-{t:g}-{rh:g}", "CoolProp, humid air (ASHRAE RP-1485)",
            "package", f"wet bulb at {t:g} °C, {rh:.0%}", "°C",
            _coolprop_c("Twb", t, rh), _wet(t, rh), 0.2,
        )
        for t, rh in _AIR
    ),
    *(
        Case(
            f"wet-bulb-high-{t:g}-{rh:g}", "psychrolib (ASHRAE 2017)", "package",
            f"wet bulb at {t:g} °C, {rh:.0%}, {_HIGH_M:g} m", "°C",
            _psychrolib_wet_c(t, rh, _standard_kpa(_HIGH_M)), _wet_on_high(t, rh),
            0.25,
        )
        for t, rh in _AIR
    ),
    *(
        Case(
            f"pressure-{z}-m", "FAO-56 (1998), table 2.1", "from memory",
            f"air pressure at {z} m", "kPa", kpa, _pressure(z), 0.06,
        )
        for z, kpa, _ in _FAO56_HEIGHTS
    ),
    *(
        Case(
            f"psychrometer-{z}-m", "FAO-56 (1998), table 2.2", "from memory",
            f"psychrometer constant at {z} m", "kPa/K", constant, _psychrometer(z),
            0.0006,
        )
        for z, _, constant in _FAO56_HEIGHTS
    ),
    Case(
        "pressure-1800-m", "FAO-56 (1998), example 2", "from memory",
        "air pressure at 1800 m", "kPa", 81.8, _pressure(1800), 0.06,
    ),
    Case(
        "psychrometer-1800-m", "FAO-56 (1998), example 2", "from memory",
        "psychrometer constant at 1800 m", "kPa/K", 0.054, _psychrometer(1800), 0.0006,
    ),
    # The standard atmosphere is 15 °C at sea level where FAO-56 takes 20 °C.
    *(
        Case(
            f"standard-pressure-{z:g}-m", "psychrolib (ASHRAE 2017)", "package",
            f"air pressure at {z:g} m", "kPa", _standard_kpa(z), _pressure(z), 0.008,
            True,
        )
        for z in (-400.0, 200.0, 1000.0, 3000.0)
    ),
    *(
        Case(
            f"latent-{t:g}", "IAPWS-97, iapws package", "package",
            f"latent heat at {t:g} °C", "kJ/kg", _iapws_latent_kj_kg(t), _latent(t),
            0.002, True,
        )
        for t in (5.0, 20.0, 35.0, 80.0)
    ),
)  # fmt: skip
