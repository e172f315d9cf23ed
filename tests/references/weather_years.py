"""Typical weather years, hour by hour, out of the package that ships them.

Three stations of the United States' typical meteorological years, read where pvlib
keeps them; the project holds no copy. A year is 365 days of 24 hours as the files give
them, whichever calendar year a month was taken from.
"""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pandas as pd

from models.drying.ranges import Floats
from tests.references.packages import pvlib

_DATA = Path(pvlib.__file__).with_name("data")
#: Height of the anemometers: airports of the time (assumption).
WIND_HEIGHT_M = 10.0


@dataclass(frozen=True)
class WeatherYear:
    """Hourly weather, arrays ``(365, 24)``; ``solar_w_m2`` falls on flat ground."""

    name: str
    latitude_deg: float
    elevation_m: float
    air_c: Floats
    dew_point_c: Floats
    humidity_fraction: Floats
    wind_m_s: Floats
    solar_w_m2: Floats
    cloud_fraction: Floats


@cache
def weather_years() -> tuple[WeatherYear, ...]:
    """Read a humid inland, a cold sea and a tropical sea climate."""
    return (
        _third("723170TYA.CSV", "Greensboro"),
        _third("703165TY.csv", "Sand Point"),
        _second("12839.tm2", "Miami"),
    )


def _third(file: str, name: str) -> WeatherYear:
    """Read a file of the third collection (TMY3)."""
    hours, station = pvlib.iotools.read_tmy3(
        _DATA / file, coerce_year=1990, map_variables=True
    )
    return WeatherYear(
        name,
        station["latitude"],
        station["altitude"],
        air_c=_days(hours["temp_air"]),
        dew_point_c=_days(hours["temp_dew"]),
        humidity_fraction=_days(hours["relative_humidity"]) / 100,
        wind_m_s=_days(hours["wind_speed"]),
        solar_w_m2=_days(hours["ghi"]),
        cloud_fraction=_days(hours["OpqCld (tenths)"]) / 10,
    )


def _second(file: str, name: str) -> WeatherYear:
    """Read a file of the second (TMY2), in tenths of a degree and of a metre."""
    hours, station = pvlib.iotools.read_tmy2(_DATA / file)
    return WeatherYear(
        name,
        station["latitude"],
        station["altitude"],
        air_c=_days(hours["DryBulb"]) / 10,
        dew_point_c=_days(hours["DewPoint"]) / 10,
        humidity_fraction=_days(hours["RHum"]) / 100,
        wind_m_s=_days(hours["Wspd"]) / 10,
        solar_w_m2=_days(hours["GHI"]),
        cloud_fraction=_days(hours["OpqCld"]) / 10,
    )


def _days(column: pd.Series) -> Floats:
    return np.asarray(column, dtype=np.float64).reshape(365, 24)
