"""Steam: the air of a cycle beside a trapezoid, and how old it makes concrete."""

from collections.abc import Callable

import numpy as np

from models.drying.ranges import Floats
from models.drying.steam import CycleHours, steam_air_c
from models.hydration.equivalent_age import nurse_saul_rate
from tests.references.case import Case

#: 20 °C outside; up at Hanson's 22 K/h from 4 h to 60 °C, held 8 h, down at 20 K/h.
_UP_K_H, _OUTSIDE_C, _HOLD_C = 40 * 5 / 9, 20.0, 60.0
_UP_H = (_HOLD_C - _OUTSIDE_C) / _UP_K_H
_CYCLE = CycleHours(4.0, 4.0 + _UP_H, 12.0 + _UP_H, 14.0 + _UP_H)
_STEP_H = 0.05
_HANSON = "Hanson, ACI Journal 60 (1963), abstract"


def _air_c() -> Floats:
    steps = round(16 / _STEP_H)
    outside_c = np.full(steps, _OUTSIDE_C)
    return steam_air_c(outside_c, _STEP_H, _CYCLE, _HOLD_C)[0]


def _at(hour: float) -> Callable[[], float]:
    return lambda: float(_air_c()[round(hour / _STEP_H)])


def _above_outside_k_h() -> float:
    return float((_air_c() - _OUTSIDE_C).sum()) * _STEP_H


def _age_by_saul_h() -> float:
    """Sum over the 16 h that the cycle is looked at."""
    return float(nurse_saul_rate(_air_c()).sum()) * _STEP_H


#: 40 K over a trapezoid that is 8 h long at the top, its sides 1.8 and 2 h.
_TRAPEZOID_K_H = 40 * (8 + (_UP_H + 2) / 2)

CASES = (
    Case(
        "steam-rise-1h", _HANSON, "read", "air an hour after it began to rise by 40 °F",
        "°C", _OUTSIDE_C + _UP_K_H, _at(5), 0.5,
    ),
    *(
        Case(
            f"steam-held-{hour}h", "a study of 4 h, 60 °C and 8 h (abstract)", "read",
            f"air {hour} h after the concrete was placed", "°C", 60.0, _at(hour), 0.01,
        )
        for hour in (6, 10, 13)
    ),
    Case(
        "steam-above-outside", "area of a trapezoid", "analytic",
        "warmth of the cycle above the air outside", "K h", _TRAPEZOID_K_H,
        _above_outside_k_h, 0.02, True,
    ),
    # Saul's sum is straight: 30 K over -10 °C are an hour's worth.
    Case(
        "steam-age-saul", "Saul (1951), area of a trapezoid", "analytic",
        "age of the 16 h", "h", 16 + _TRAPEZOID_K_H / 30, _age_by_saul_h, 0.02, True,
    ),
)  # fmt: skip
