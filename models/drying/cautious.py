"""A week's weather as the forecast's spread could make it, to either side.

Put through ``surroundings`` and the clock in place of the forecast it gives an early
drying clock, when a cover may be dry, and a late one, when it is dry at the latest.
"""

from typing import Literal

import numpy as np

from models.drying.air import saturation_vapour_pressure_kpa, vapour_pressure_kpa
from models.records import SiteInput

#: Where the weather gives no spread: at once, and more with each day ahead. About what
#: deterministic forecasts of the first week miss by; assumptions.
_SPREAD_K, _SPREAD_K_PER_DAY = 1.0, 0.3
_SPREAD_M_S, _SPREAD_M_S_PER_DAY = 1.0, 0.2
#: The bounds of the record.
_COLDEST_C, _HOTTEST_C, _WINDIEST_M_S = -40.0, 60.0, 40.0


def cautious(site_input: SiteInput) -> SiteInput:
    """Shift the forecast by its spread to the side on which covers dry sooner.

    Warmer, windier, no rain. Hours before the plan's start count as measured and stay.
    The water in the air stays too, so warmer air is drier; sun and cloud are left as
    they are.
    """
    return _shifted(site_input, 1)


def lenient(site_input: SiteInput) -> SiteInput:
    """Shift it to the other side: cooler, calmer, rain as forecast.

    Air that could not hold its water any more is saturated.
    """
    return _shifted(site_input, -1)


def _shifted(site_input: SiteInput, side: Literal[1, -1]) -> SiteInput:
    """Shift air and wind by the spread times ``side``; the drier side has no rain."""
    hours = site_input.weather.hours
    starts_at = site_input.horizon.starts_at
    ahead_d = np.asarray([(h.at - starts_at).total_seconds() / 86400 for h in hours])
    air_c = np.asarray([h.air_temperature_c for h in hours])
    humidity = np.asarray([h.humidity_fraction for h in hours])
    spread_k = _given([h.air_temperature_spread_k for h in hours])
    spread_m_s = _given([h.wind_spread_m_s for h in hours])

    default_k = _SPREAD_K + _SPREAD_K_PER_DAY * ahead_d
    default_m_s = _SPREAD_M_S + _SPREAD_M_S_PER_DAY * ahead_d
    more_k = np.where(np.isnan(spread_k), default_k, spread_k)
    more_m_s = np.where(np.isnan(spread_m_s), default_m_s, spread_m_s)
    moved_c = np.clip(air_c + side * more_k, _COLDEST_C, _HOTTEST_C)
    saturated_kpa = saturation_vapour_pressure_kpa(moved_c)
    share = np.minimum(vapour_pressure_kpa(air_c, humidity) / saturated_kpa, 1.0)
    shifted = tuple(
        hour
        if days < 0
        else hour.model_copy(
            update={
                "air_temperature_c": float(moved),
                "humidity_fraction": float(humid),
                "wind_m_s": float(np.clip(hour.wind_m_s + wind, 0, _WINDIEST_M_S)),
                "rain_mm": 0.0 if side > 0 else hour.rain_mm,
            }
        )
        for hour, days, moved, humid, wind in zip(
            hours, ahead_d, moved_c, share, side * more_m_s, strict=True
        )
    )
    weather = site_input.weather.model_copy(update={"hours": shifted})
    return site_input.model_copy(update={"weather": weather})


def _given(values: list[float | None]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Spreads as the weather gives them, NaN where it does not."""
    return np.asarray([np.nan if v is None else v for v in values], dtype=np.float64)
