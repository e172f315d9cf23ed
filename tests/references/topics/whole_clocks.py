"""Both clocks from records to hours, where the answer is known: a week's water, ages.

A slab on ground as warm as the air, without heat of its own, in a fortnight that is the
same every day.
"""

from collections.abc import Callable
from datetime import timedelta
from functools import cache

import numpy as np
import pandas as pd
import refet
from structuralcodes.codes import ec2_2004

from models.drying import clock as drying_clock
from models.drying.surroundings import surroundings
from models.hydration import clock as hydration_clock
from models.records import (
    DryingHistory,
    Grid,
    HydrationHistory,
    SiteInput,
    Weather,
    WeatherHour,
)
from tests.builders import MONDAY, pour, site_input, surface, weather
from tests.references.case import Case
from tests.references.concretes import mix
from tests.references.penman import penman_mm_d

_DAYS, _STEPS_A_DAY = 12, 144
_MEAN_C, _HUMIDITY, _WIND_M_S = 20.0, 0.6, 3.0
#: Litres in the wettest hour of the tenth day, in place of its drought.
_RAIN_MM = 6.0
_RAIN_AT = MONDAY + timedelta(days=10, hours=12)


def _site(hours: tuple[WeatherHour, ...]) -> SiteInput:
    given = site_input()
    cold = mix(heat_j_kg=1.0).model_copy(update={"id": "C30"})
    return given.model_copy(
        update={
            "site": given.site.model_copy(
                update={"mixes": (cold,), "ground_temperature_c": _MEAN_C}
            ),
            "weather": Weather(wind_height_m=10, hours=hours),
        }
    )


def _hours(swing_k: float) -> tuple[WeatherHour, ...]:
    return weather(
        hours=24 * (_DAYS + 4), mean_c=_MEAN_C, swing_k=swing_k, humidity=_HUMIDITY,
        wind_m_s=_WIND_M_S,
    ).hours  # fmt: skip


def _run(
    hours: tuple[WeatherHour, ...], exposure: str = "open"
) -> tuple[HydrationHistory, DryingHistory]:
    given = _site(hours)
    grid = Grid(MONDAY, 10, _DAYS * _STEPS_A_DAY)
    top = surface(pour(exposure=exposure, placing_temperature_c=_MEAN_C))
    around = surroundings((top,), given, grid)
    hydration = hydration_clock.run((top,), given, around, grid)
    return hydration, drying_clock.run((top,), given, around, hydration)


@cache
def _dry() -> DryingHistory:
    return _run(_hours(6.0))[1]


@cache
def _rained_on() -> DryingHistory:
    return _run(
        tuple(
            hour.model_copy(update={"rain_mm": _RAIN_MM}) if hour.at == _RAIN_AT
            else hour
            for hour in _hours(6.0)
        )
    )[1]  # fmt: skip


@cache
def _indoors() -> HydrationHistory:
    still = tuple(
        hour.model_copy(update={"humidity_fraction": 1.0, "solar_w_m2": 0.0})
        for hour in _hours(0.0)
    )
    return _run(still, "indoors")[0]


def _mm_d() -> float:
    """Mean of the days from the fifth to the last."""
    rates = _dry().cover_loss_l_m2_h[4 * _STEPS_A_DAY :, 0]
    return 24 * float(rates.mean())


def _penman() -> float:
    hours = _hours(6.0)[48:72]
    day = pd.DatetimeIndex([MONDAY.date()])
    humidity = float(np.mean([hour.humidity_fraction for hour in hours]))
    series = {
        "tmean": _MEAN_C, "rh": 100 * humidity,
        "wind": float(refet.calcs.wind_height_adjust(_WIND_M_S, 10.0)),
        "rs": sum(h.solar_w_m2 for h in hours) * 3600 / 1e6,
    }  # fmt: skip
    frame = pd.DataFrame(series, index=day)
    return float(penman_mm_d(frame, 52.0, 0.0, 0.3)[0])


def _taken_by_rain_mm() -> float:
    wetter = _dry().cover_loss_l_m2_h - _rained_on().cover_loss_l_m2_h
    return float(wetter.sum()) / 6


def _placed_step() -> int:
    return 6 * 5


def _strength(days: int) -> Callable[[], float]:
    def ours() -> float:
        row = _placed_step() + days * _STEPS_A_DAY
        return float(_indoors().strength_fraction[row, 0])

    return ours


def _first_strength_h() -> float:
    strong = np.flatnonzero(_indoors().strength_fraction[:, 0] > 0)
    return (int(strong[0]) - _placed_step()) / 6


CASES = (
    # Another wind function and another sky; humidity swings against warmth.
    Case(
        "clock-day", "pyet, Penman (1948)", "package",
        "a day's loss of two layers of burlap, by both clocks", "mm/d", _penman(),
        _mm_d, 0.15, True,
    ),
    Case(
        "clock-rain", "a millimetre is a litre", "analytic",
        "water that 6 mm of rain put on a cover", "L/m²", _RAIN_MM, _taken_by_rain_mm,
        0.01,
    ),
    *(
        Case(
            f"clock-strength-{days}d", "EN 1992-1-1:2004, 3.2, structuralcodes",
            "package", f"share of strength {days} d after placing, 20 °C", "-",
            float(ec2_2004.beta_cc(days, 0.25)), _strength(days), 0.01,
        )
        for days in (3, 5, 10)
    ),
    # 6.5 h from batching (from memory), of which the haul takes 0.75.
    Case(
        "clock-sets", "final set at 20 °C less the haul", "analytic",
        "first strength after placing, 20 °C", "h", 5.75, _first_strength_h, 0.2,
    ),
)  # fmt: skip
