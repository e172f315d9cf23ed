"""Printed tables of curing periods, at the lower edge of each temperature band.

Those of EN 13670 and BS 8110 were recalled for the rules as well as for here: they show
that a rule still says what it said, not that it says what the standard does.
"""

from collections.abc import Iterator, Sequence

from tests.references.case import Case, How, as_quoted
from tests.references.periods import STEP_DAYS, days

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


def _table(
    rule: str, source: str, how: How, table: Sequence[tuple[float, ...]]
) -> Iterator[Case]:
    for band_c, row in zip(_BANDS_C, table, strict=True):
        for (column, ratio), printed in zip(_COLUMNS.items(), row, strict=False):
            ours = days(rule, band_c, strength_ratio_fraction=ratio)
            yield Case(
                f"period-{rule}-{band_c}-{column.replace(' ', '-')}", source, how,
                f"curing of {column} concrete from {band_c} °C", "d", printed, ours,
                STEP_DAYS,
            )  # fmt: skip


def _bs_8110() -> Iterator[Case]:
    for (binder, exposure), sum_c_d in _BS_8110.items():
        scm = 0.0 if binder == "plain" else 0.3
        for at_c in (5, 10, 20):
            yield Case(
                f"period-bs8110-{binder}-{exposure}-{at_c}",
                "BS 8110-1, Table 6.1", "regression",
                f"curing of {binder} concrete, {exposure}, at {at_c} °C", "d",
                sum_c_d / (at_c + 10),
                days("bs8110", at_c, exposure=exposure, scm_fraction=scm), STEP_DAYS,
            )  # fmt: skip


CASES = as_quoted((
    *_table("en13670_class2", f"{_EN_13670} F.1", "regression", _CLASS_2),
    *_table("en13670_class3", f"{_EN_13670} F.2", "regression", _CLASS_3),
    *_table("en13670_class4", f"{_EN_13670} F.3", "regression", _CLASS_4),
    *_table("din1045_3", "DIN 1045-3 (secondary copies)", "read", _DIN_1045_3),
    *_bs_8110(),
))  # fmt: skip
