"""Whether the recalled tables of EN 13670 hang together with two published models.

The Eurocode's strength curve, with the slope that gives the strength ratio of the
column's lower edge, reaches 35, 50 or 70 % of a characteristic 30 MPa after some days
at 20 °C; Freiesleben Hansen and Pedersen's age turns these into days at the band's
lower edge. The standard need not follow these models, so this only shows that magnitude
and pattern are right: single cells lie at 0.6 to 1.3 times the table, and the longest
class is longer in the standard by a fifth. It proves no cell; a person has to.
"""

from functools import partial
from math import exp, log, sqrt
from statistics import median

from models.profiles.loader import builtin_profile
from models.records.criterion import TableRow
from tests.references.case import Case

_GAS_J_MOL_K = 8.314
_MEAN_OVER_MPA = 8  # fcm = fck + 8 MPa, EN 1992-1-1, Table 3.1
_SOURCE = "EN 1992-1-1, 3.1.2; Freiesleben Hansen and Pedersen (1977)"
#: Class -> share of the characteristic strength.
_TARGETS = {2: 0.35, 3: 0.50, 4: 0.70}


def _pace(temperature_c: float) -> float:
    """Ageing relative to that at 20 °C."""
    energy = 33_500 + 1470 * max(0.0, 20 - temperature_c)
    per_k = 1 / 293.15 - 1 / (273.15 + temperature_c)
    return exp(energy / _GAS_J_MOL_K * per_k)


def _days_by_models(share: float, ratio: float, temperature_c: float) -> float:
    """Solve exp(s (1 - sqrt(28/t))) = share × fck / fcm for t, then divide by pace."""
    slope = -log(ratio) / (sqrt(14) - 1)
    wanted = share * 30 / (30 + _MEAN_OVER_MPA)
    at_20_c = 28 / (1 - log(wanted) / slope) ** 2
    return at_20_c / _pace(temperature_c)


def _table(curing_class: int) -> TableRow:
    (row,) = builtin_profile(f"en13670_class{curing_class}").ends
    assert isinstance(row, TableRow)
    return row


def ratios(curing_class: int) -> list[float]:
    """Days by the models over days of the table, every cell."""
    row = _table(curing_class)
    return [
        _days_by_models(_TARGETS[curing_class], ratio, band_c) / row.days[i][j]
        for i, band_c in enumerate(row.bands_c)
        for j, ratio in enumerate(row.ratios)
    ]


def _median(curing_class: int) -> float:
    return median(ratios(curing_class))


def _worst(curing_class: int) -> float:
    return max(max(ratio, 1 / ratio) for ratio in ratios(curing_class))


def _middle(curing_class: int) -> float:
    return _table(curing_class).days[1][1]


CASES = (
    *(
        Case(
            f"period-models-median-{of}", _SOURCE, "analytic",
            f"models over EN 13670 class {of}, median of cells", "-",
            1.0, partial(_median, of), 0.25,
        )
        for of in _TARGETS
    ),
    *(
        Case(
            f"period-models-worst-{of}", _SOURCE, "analytic",
            f"models and EN 13670 class {of}, factor of the worst cell", "-",
            1.0, partial(_worst, of), 0.7,
        )
        for of in _TARGETS
    ),
    # Medium concrete from 15 °C, the middle of each table.
    *(
        Case(
            f"period-models-middle-{of}", _SOURCE, "analytic",
            f"EN 13670 class {of}, medium, from 15 °C", "d",
            _days_by_models(share, 0.3, 15), partial(_middle, of), 0.35, True,
        )
        for of, share in _TARGETS.items()
    ),
)  # fmt: skip
