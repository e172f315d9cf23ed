"""Dew point, wet bulb, psychrometer constant and latent heat of moist air."""

from collections.abc import Callable

import iapws
import psychrolib
from CoolProp.CoolProp import HAPropsSI

from models.drying.air import (
    PRESSURE_KPA,
    PSYCHROMETER_1_K,
    dew_point_c,
    latent_heat_j_kg,
    wet_bulb_c,
)
from tests.references.case import Case

_AIR = ((20.0, 0.7), (30.0, 0.5), (38.0, 0.15), (8.0, 0.9))


def _dew(air_c: float, humidity: float) -> Callable[[], float]:
    return lambda: float(dew_point_c(air_c, humidity))


def _wet(air_c: float, humidity: float) -> Callable[[], float]:
    return lambda: float(wet_bulb_c(air_c, humidity))


def _latent(temperature_c: float) -> Callable[[], float]:
    return lambda: float(latent_heat_j_kg(temperature_c)) / 1000


def _psychrolib_dew_c(air_c: float, humidity: float) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTDewPointFromRelHum(air_c, humidity))


def _psychrolib_wet_c(air_c: float, humidity: float) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetTWetBulbFromRelHum(air_c, humidity, 101325))


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
    # 0.1 K in ordinary air, 0.2 K in very hot and dry air.
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
    Case(
        "psychrometer-sea-level", "FAO-56 (1998), table 2.2", "from memory",
        "psychrometer constant at sea level", "kPa/K", 0.067,
        lambda: PSYCHROMETER_1_K * PRESSURE_KPA, 0.0005,
    ),
    Case(
        "psychrometer-1800-m", "FAO-56 (1998), example 2", "from memory",
        "psychrometer constant at 81.8 kPa", "kPa/K", 0.054,
        lambda: PSYCHROMETER_1_K * 81.8, 0.0005,
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
