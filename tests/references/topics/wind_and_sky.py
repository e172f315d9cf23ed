"""Wind near the ground, the sky's radiation and the sun's place."""

from collections.abc import Callable
from datetime import UTC, datetime

from models.drying.air import sky_temperature_c, wind_at_half_metre_m_s
from models.drying.sun import solar_position_deg
from tests.references.case import Case

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


def _sky_w_m2() -> float:
    return 5.670374e-8 * (float(sky_temperature_c(20.0, 10.0, 0.0)) + 273.15) ** 4


def _sun(which: int) -> Callable[[], float]:
    noon_2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
    at = datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC)
    days = (at - noon_2000).total_seconds() / 86400
    return lambda: float(solar_position_deg(days, 39.742476, -105.1786)[which])


CASES = (
    *(
        Case(
            f"wind-share-{z0:g}", "log law", "analytic",
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
        _sun(0), 0.03,
    ),
    Case(
        "sun-azimuth", "NREL SPA, its example as pvlib 0.16 gives it", "package",
        "azimuth, 2003-10-17 12:30:30 -07:00, 39.74° N 105.18° W", "°", 194.34024,
        _sun(1), 0.02,
    ),
)  # fmt: skip
