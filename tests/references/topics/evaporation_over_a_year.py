"""What a wet cover loses in a year of weather, against Penman and FAO-56 by pyet.

The cover lies on concrete that does not heat it: as warm as the air and, for the least
of what may still pass, as well insulated as the formula allows. So its face has a
balance of its own, as Penman's water has, and daily sums can be compared. Both send
back 0.23 of the sun. Ours are sums of hours; his come from means of days, with another
wind function and another sky.
"""

from collections.abc import Callable
from functools import cache

import numpy as np
import pandas as pd
import pyet
import refet

from models.drying.air import air_pressure_kpa
from models.drying.cover import cover_loss_kg_m2_h
from models.drying.ranges import Floats
from models.drying.sky import sky_temperature_c
from models.drying.wind import wind_at_half_metre_m_s
from tests.references.case import Case
from tests.references.penman import penman_mm_d
from tests.references.weather_years import WIND_HEIGHT_M, WeatherYear, weather_years

_ALBEDO, _EMISSIVITY, _INSULATED_M2K_W, _ROUGHNESS_MM = 0.23, 0.9, 5.0, 10.0
_DATES = pd.date_range("1990-01-01", periods=365)
_MONTH = _DATES.month.to_numpy()
_SEASON = (4, 5, 6, 7, 8, 9)
#: FAO-56, table 12: open water, shallow, as a multiple of its grass.
_WATER_OVER_GRASS = 1.05


def _theirs(year: WeatherYear) -> pd.DataFrame:
    """Take the day's figures that a package wants, by its own formulas."""
    columns = {
        "tmean": year.air_c.mean(axis=1),
        "tmax": year.air_c.max(axis=1),
        "tmin": year.air_c.min(axis=1),
        "ea": refet.calcs.sat_vapor_pressure(year.dew_point_c).mean(axis=1),
        "wind": refet.calcs.wind_height_adjust(year.wind_m_s, WIND_HEIGHT_M).mean(
            axis=1
        ),
        "rs": year.solar_w_m2.sum(axis=1) * 3600 / 1e6,
    }
    return pd.DataFrame(columns, index=_DATES)


def _by_penman(year: WeatherYear) -> Floats:
    return penman_mm_d(_theirs(year), year.latitude_deg, year.elevation_m, _ALBEDO)


def _by_fao_56(year: WeatherYear) -> Floats:
    day = _theirs(year)
    found = pyet.pm_fao56(
        **{str(name): day[name] for name in day},
        lat=float(np.radians(year.latitude_deg)), elevation=year.elevation_m,
    )  # fmt: skip
    return np.asarray(found, dtype=np.float64)


@cache
def _ours_l_m2(which: int) -> Floats:
    """Daily sums of one of the years."""
    year = weather_years()[which]
    hourly = cover_loss_kg_m2_h(
        year.air_c,
        year.air_c,
        year.humidity_fraction,
        wind_at_half_metre_m_s(year.wind_m_s, WIND_HEIGHT_M, _ROUGHNESS_MM),
        year.solar_w_m2,
        sky_temperature_c(year.air_c, year.dew_point_c, year.cloud_fraction),
        _INSULATED_M2K_W,
        1 - _ALBEDO,
        _EMISSIVITY,
        0.0,
        float(air_pressure_kpa(year.elevation_m)),
    )
    return np.asarray(hourly.sum(axis=1))


def _july(which: int) -> Callable[[], float]:
    return lambda: float(_ours_l_m2(which)[_MONTH == 7].mean())


def _sum(which: int) -> Callable[[], float]:
    return lambda: float(_ours_l_m2(which).sum())


def _farthest_month(which: int, theirs: Floats) -> Callable[[], float]:
    def ours() -> float:
        daily = _ours_l_m2(which)
        ratios = [
            float(daily[month == _MONTH].sum() / theirs[month == _MONTH].sum())
            for month in _SEASON
        ]
        return max(ratios, key=lambda ratio: abs(ratio - 1))

    return ours


def _correlation(which: int, theirs: Floats) -> Callable[[], float]:
    return lambda: float(np.corrcoef(_ours_l_m2(which), theirs)[0, 1])


def _of_year(which: int, year: WeatherYear) -> tuple[Case, ...]:
    name, key = year.name, year.name.lower().replace(" ", "-")
    penman, grass = _by_penman(year), _by_fao_56(year)
    source = "pyet, Penman (1948), over typical years in pvlib"
    return (
        Case(
            f"year-july-{key}", source, "package", f"a July day of a cover, {name}",
            "L/(m² d)", float(penman[_MONTH == 7].mean()), _july(which), 0.1, True,
        ),
        # Menzel's transfer is 0.73 (calm) to 0.87 (gale) of Penman's wind function. It
        # shows where there is little sun: Sand Point's winter comes out a quarter less.
        Case(
            f"year-sum-{key}", source, "package", f"a year of a cover, {name}",
            "L/m²", float(penman.sum()), _sum(which), 0.15, True,
        ),
        Case(
            f"year-month-{key}", source, "package",
            f"farthest month of April to September, ours over Penman, {name}", "-",
            1.0, _farthest_month(which, penman), 0.2,
        ),
        Case(
            f"year-days-{key}", source, "package",
            f"correlation of 365 daily sums with Penman's, {name}", "-",
            1.0, _correlation(which, penman), 0.04,
        ),
        # One factor for all climates, and for water, which is darker than a cover.
        Case(
            f"year-water-{key}", "FAO-56 (1998) by pyet, table 12 from memory",
            "package", f"a year of a cover against shallow water, {name}", "L/m²",
            _WATER_OVER_GRASS * float(grass.sum()), _sum(which), 0.2, True,
        ),
    )  # fmt: skip


CASES = tuple(
    case for which, year in enumerate(weather_years()) for case in _of_year(which, year)
)
