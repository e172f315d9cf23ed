"""Printed tables of curing periods, at the lower edge of each temperature band.

Found through the built-in rule and a steady history, so to a step of ten minutes.
"""

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from models.profiles.loader import builtin_profile
from models.profiles.period import curing_end
from models.records import Mix
from tests.builders import surface
from tests.references.case import Case, How

_STEP_MIN = 10
_STEP_DAYS = _STEP_MIN / 1440
_BANDS_C = (25, 15, 10, 5)
#: A strength ratio (2 days over 28) inside each column.
_COLUMNS = {"rapid": 0.55, "medium": 0.40, "slow": 0.20, "very slow": 0.10}

_EN_13670 = "EN 13670:2009, Table"
_CLASS_2 = [(1, 1.5, 2.5), (1, 2.5, 5), (1.5, 4, 8), (2, 5, 11)]
_CLASS_3 = [(1.5, 2.5, 3.5), (2, 4, 7), (2.5, 7, 12), (3.5, 9, 18)]
_CLASS_4 = [(3, 5, 6), (5, 9, 12), (7, 13, 21), (9, 18, 30)]
_DIN_1045_3 = [(1, 2, 2, 3), (1, 2, 4, 5), (2, 4, 7, 10), (3, 6, 10, 15)]
#: BS 8110-1, Table 6.1: binder, conditions -> C in C/(t + 10).
_BS_8110 = {
    ("plain", "sheltered"): 60,
    ("plain", "open"): 80,
    ("blended", "sheltered"): 80,
    ("blended", "open"): 140,
}


def _days(rule: str, at_c: float, exposure: str, **mix: float) -> Callable[[], float]:
    def ours() -> float:
        of = {"id": "x", "strength_mpa": 30, "cement_kg_m3": 340}
        steps = round(40 / _STEP_DAYS)
        end = curing_end(
            builtin_profile(rule),
            Mix.model_validate(of | mix),
            surface(exposure=exposure),
            step_min=_STEP_MIN,
            placed_step=0,
            initial_set_h=4.5,
            surface_temperature_c=np.full(steps, float(at_c)),
            strength_fraction=np.zeros(steps),
        )
        return float("nan") if end.step is None else end.step * _STEP_DAYS

    return ours


def _table(
    rule: str, source: str, how: How, table: Sequence[tuple[float, ...]]
) -> Iterator[Case]:
    for band_c, row in zip(_BANDS_C, table, strict=True):
        for (column, ratio), days in zip(_COLUMNS.items(), row, strict=False):
            ours = _days(rule, band_c, "open", strength_ratio_fraction=ratio)
            yield Case(
                f"period-{rule}-{band_c}-{column.replace(' ', '-')}", source, how,
                f"curing of {column} concrete from {band_c} °C", "d", days, ours,
                _STEP_DAYS,
            )  # fmt: skip


def _bs_8110() -> Iterator[Case]:
    for (binder, exposure), sum_c_d in _BS_8110.items():
        scm = 0.0 if binder == "plain" else 0.3
        for at_c in (5, 10, 20):
            yield Case(
                f"period-bs8110-{binder}-{exposure}-{at_c}",
                "BS 8110-1, Table 6.1", "from memory",
                f"curing of {binder} concrete, {exposure}, at {at_c} °C", "d",
                sum_c_d / (at_c + 10),
                _days("bs8110", at_c, exposure, scm_fraction=scm), _STEP_DAYS,
            )  # fmt: skip


CASES = (
    *_table("en13670_class2", f"{_EN_13670} F.1", "from memory", _CLASS_2),
    *_table("en13670_class3", f"{_EN_13670} F.2", "from memory", _CLASS_3),
    *_table("en13670_class4", f"{_EN_13670} F.3", "from memory", _CLASS_4),
    *_table("din1045_3", "DIN 1045-3 (secondary copies)", "read", _DIN_1045_3),
    *_bs_8110(),
)
