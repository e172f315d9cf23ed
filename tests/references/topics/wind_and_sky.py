"""Wind near the ground, the sky's radiation and the sun's place."""

from collections.abc import Callable
from datetime import UTC, datetime
from functools import partial

import numpy as np
import refet

from models.drying.sky import sky_temperature_c
from models.drying.sun import solar_position_deg
from models.drying.wind import wind_at_half_metre_m_s
from tests.references.case import Case
from tests.references.packages import pvlib

# ln(0.5/z0) / ln(10/z0) by logarithm tables: 4.605170/7.600902, 3.912023/6.907755 and
# 2.813411/5.809143.
_SHARE_OF_TEN_METRES = {5.0: 0.605872, 10.0: 0.566323, 30.0: 0.484307}
_GRASS_ROUGHNESS_MM = 14.76  # 0.123 × 0.12 m, the grass of FAO-56


def _share(roughness_mm: float) -> Callable[[], float]:
    return lambda: float(wind_at_half_metre_m_s(1.0, 10, roughness_mm))


def _ten_to_two_metres(wind_m_s: float) -> float:
    """Both heights brought to half a metre; their quotient is the share at 2 m."""
    from_ten = float(wind_at_half_metre_m_s(wind_m_s, 10, _GRASS_ROUGHNESS_MM))
    from_two = float(wind_at_half_metre_m_s(1.0, 2, _GRASS_ROUGHNESS_MM))
    return from_ten / from_two


def _half_over_two_metres() -> float:
    """Wind at half a metre, brought there from 2 m over grass."""
    return float(wind_at_half_metre_m_s(1.0, 2, _GRASS_ROUGHNESS_MM))


def _sky_w_m2(cloud: float = 0.0) -> float:
    return 5.670374e-8 * (float(sky_temperature_c(20.0, 10.0, cloud)) + 273.15) ** 4


def _cloudy_w_m2(cloud: float) -> float:
    """Unsworth and Monteith (1975) on the clear sky that EnergyPlus prints."""
    black_w_m2 = 5.670374e-8 * 293.15**4
    return (1 - 0.84 * cloud) * 340.6 + 0.84 * cloud * black_w_m2


def _sun(which: int, place: tuple[datetime, float, float]) -> Callable[[], float]:
    at, latitude_deg, longitude_deg = place
    days = (at - datetime(2000, 1, 1, 12, tzinfo=UTC)).total_seconds() / 86400
    return lambda: float(solar_position_deg(days, latitude_deg, longitude_deg)[which])


def _pvlib_sun_deg(which: int, place: tuple[datetime, float, float]) -> float:
    """Zenith angle without refraction, or azimuth."""
    at, latitude_deg, longitude_deg = place
    # At sea level, 1013 hPa, 12 °C, 67 s of delta T, usual refraction at the horizon.
    _, zenith, _, _, azimuth, _ = pvlib.spa.solar_position_numpy(
        np.array([at.timestamp()]), latitude_deg, longitude_deg,
        0, 1013.25, 12, 67.0, 0.5667, 1,
    )  # fmt: skip
    return float((zenith, azimuth)[which][0])


_NREL = (datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC), 39.742476, -105.1786)
_PLACES = {
    "summer, 51.5° N": (datetime(2027, 6, 21, 6, tzinfo=UTC), 51.5, 0.0),
    "summer, 33.9° S": (datetime(2027, 12, 21, 3, tzinfo=UTC), -33.9, 151.2),
    "equinox, 1.3° N": (datetime(2027, 3, 20, 9, tzinfo=UTC), 1.3, 3.0),
    "low sun, 60.2° N": (datetime(2030, 9, 1, 16, 20, tzinfo=UTC), 60.2, 25.0),
}

CASES = (
    *(
        Case(
            f"wind-share-{z0:g}", "log law", "regression",
            f"wind at 0.5 m over wind at 10 m, roughness {z0:g} mm", "-", share,
            _share(z0), 1e-6,
        )
        for z0, share in _SHARE_OF_TEN_METRES.items()
    ),
    # FAO-56's profile has a displacement height, ours none; printed to one decimal.
    Case(
        "wind-fao56-14", "FAO-56 (1998), example 14", "from memory",
        "3.2 m/s at 10 m brought to 2 m", "m/s", 2.4,
        lambda: _ten_to_two_metres(3.2), 0.05,
    ),
    Case(
        "wind-refet-10", "refet (ASCE 2005, eq. 33)", "package",
        "5 m/s at 10 m brought to 2 m", "m/s",
        float(refet.calcs.wind_height_adjust(5.0, 10.0)),
        lambda: _ten_to_two_metres(5.0), 0.05,
    ),
    # Its profile is 8 cm up in the grass.
    Case(
        "wind-refet-half", "refet (ASCE 2005, eq. 33)", "package",
        "wind at 0.5 m over wind at 2 m", "-",
        float(1 / refet.calcs.wind_height_adjust(1.0, 0.5)), _half_over_two_metres,
        0.04,
    ),
    # Two fits of measured skies lie up to a twentieth apart.
    *(
        Case(
            f"cloudy-sky-{cloud:g}", "Unsworth and Monteith (1975)", "from memory",
            f"radiation of a sky {cloud:.0%} under cloud, air 20 °C, dew point 10 °C",
            "W/m²", _cloudy_w_m2(cloud), partial(_sky_w_m2, cloud), 20.0,
        )
        for cloud in (0.3, 0.6, 1.0)
    ),
    # The reference's figure was computed with 0 °C = 273 K and a rounded constant.
    Case(
        "clear-sky", "EnergyPlus Engineering Reference", "read",
        "radiation of a clear sky, air 20 °C, dew point 10 °C", "W/m²", 340.6,
        _sky_w_m2, 1.0,
    ),
    # The example includes 0.016° of refraction, which we leave out, and our ephemeris
    # is good to 0.01°.
    Case(
        "sun-zenith", "NREL SPA, its example as pvlib 0.16 gives it", "package",
        "zenith, 2003-10-17 12:30:30 -07:00, 39.74° N 105.18° W", "°", 50.11162,
        _sun(0, _NREL), 0.03,
    ),
    Case(
        "sun-azimuth", "NREL SPA, its example as pvlib 0.16 gives it", "package",
        "azimuth, 2003-10-17 12:30:30 -07:00, 39.74° N 105.18° W", "°", 194.34024,
        _sun(1, _NREL), 0.02,
    ),
    # An azimuth is worth less than its degrees, the more so the higher the sun.
    *(
        Case(
            f"sun-{name}-at-{place[1]:g}", "NREL SPA, pvlib", "package",
            f"{name}, {when}", "°", _pvlib_sun_deg(which, place), _sun(which, place),
            tolerance,
        )
        for when, place in _PLACES.items()
        for which, name, tolerance in ((0, "zenith", 0.01), (1, "azimuth", 0.02))
    ),
)  # fmt: skip
