"""Vapour pressure of saturated air: packages, the steam tables, FAO-56's examples."""

from collections.abc import Callable

import iapws
import psychrolib
import refet
import thermofeel
from CoolProp.CoolProp import PropsSI

from models.drying.air import saturation_vapour_pressure_kpa
from tests.references.case import Case


def _ours(temperature_c: float) -> Callable[[], float]:
    return lambda: float(saturation_vapour_pressure_kpa(temperature_c))


def _psychrolib_kpa(temperature_c: float) -> float:
    psychrolib.SetUnitSystem(psychrolib.SI)
    return float(psychrolib.GetSatVapPres(temperature_c)) / 1000


def _iapws_kpa(temperature_c: float) -> float:
    return float(iapws.iapws97._PSat_T(temperature_c + 273.15)) * 1000


def _coolprop_kpa(temperature_c: float) -> float:
    return float(PropsSI("P", "T", temperature_c + 273.15, "Q", 0, "Water")) / 1000


def _thermofeel_kpa(temperature_c: float) -> float:
    kelvin = temperature_c + 273.15
    return float(thermofeel.calculate_saturation_vapour_pressure(kelvin)) / 10


def _refet_kpa(temperature_c: float) -> float:
    return float(refet.calcs.sat_vapor_pressure(temperature_c)[0])


# IAPWS-97 to four decimals, as computed with the package and noted down; the package
# itself is run below. Buck's fit keeps within 0.04 %.
_IAPWS_NOTED = {
    5.0: 0.8726,
    10.0: 1.2282,
    20.0: 2.3392,
    25.0: 3.1697,
    30.0: 4.2467,
    35.0: 5.6286,
    40.0: 7.3844,
}
# An equation of state, a fit that goes on over water below freezing, and Tetens' old
# fit, which bends away by 0.1 % at 45 °C.
_PACKAGES = (
    ("coolprop", "CoolProp, water (IAPWS-95)", _coolprop_kpa, 0.0005,
     (0.5, 12.5, 25.0, 37.5, 50.0, 65.0, 80.0)),
    ("thermofeel", "thermofeel (Hardy 1998)", _thermofeel_kpa, 0.0005,
     (-20.0, -10.0, -5.0, 12.5, 25.0, 37.5, 50.0)),
    ("refet", "refet (Tetens, as ASCE 2005)", _refet_kpa, 0.0015,
     (5.0, 12.5, 25.0, 37.5, 45.0)),
)  # fmt: skip
# FAO-56 (1998), example 3, as quoted in the tests of two packages; its own formula is
# Tetens', up to 0.13 % from the steam tables.
_FAO56_EXAMPLE_3 = {24.5: 3.075, 15.0: 1.705}
# Above its own range, to 80 °C.
_WARM = (60.0, 70.0, 80.0)

CASES = (
    *(
        Case(
            f"saturation-{key}-{t:g}", source, "package",
            f"saturation pressure at {t:g} °C", "kPa", theirs_kpa(t), _ours(t),
            tolerance, True,
        )
        for key, source, theirs_kpa, tolerance, temperatures_c in _PACKAGES
        for t in temperatures_c
    ),
    *(
        Case(
            f"saturation-noted-{t:g}", "IAPWS-97", "package",
            f"saturation pressure at {t:g} °C", "kPa", kpa, _ours(t), 0.0004, True,
        )
        for t, kpa in _IAPWS_NOTED.items()
    ),
    *(
        Case(
            f"saturation-psychrolib-{t:g}", "psychrolib (ASHRAE 2017)", "package",
            f"saturation pressure at {t:g} °C", "kPa", _psychrolib_kpa(t), _ours(t),
            0.0005, True,
        )
        for t in (1.0, 12.5, 25.0, 37.5, 50.0)
    ),
    *(
        Case(
            f"saturation-iapws-{t:g}", "IAPWS-97, iapws package", "package",
            f"saturation pressure at {t:g} °C", "kPa", _iapws_kpa(t), _ours(t),
            0.0005, True,
        )
        for t in _WARM
    ),
    *(
        Case(
            f"saturation-fao56-{t:g}", "FAO-56 (1998), example 3", "from memory",
            f"saturation pressure at {t:g} °C", "kPa", kpa, _ours(t), 0.0015, True,
        )
        for t, kpa in _FAO56_EXAMPLE_3.items()
    ),
)  # fmt: skip
