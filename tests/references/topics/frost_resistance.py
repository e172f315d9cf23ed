"""When concrete withstands its first frost, 5 N/mm² on average, by a printed table.

A table of the German cement industry gives days by cement, water and temperature of the
concrete. It names no strength of the concretes: we take 60, 52 and 43 N/mm² on average
at a ratio of 0.40 and 38, 33 and 25 at 0.60 (assumption; 25 to 45 would move a cell by
30 %). What errs on the long side counts as met: too early is what can hurt.
"""

from collections.abc import Callable
from functools import cache, partial
from statistics import median
from typing import get_args

from tests.references.case import Case
from tests.references.concretes import Maturity, hours_to, mix

_SOURCE = "Betontechnische Daten, 10.4 (DIN 1045-3), first frost"
_AT_C = (5.0, 12.0, 20.0)
#: Class and water -> average strength [MPa] and printed days at 5, 12 and 20 °C.
_PRINTED = {
    ("R", 0.40): (60, (0.5, 0.25, 0.25)),
    ("R", 0.60): (38, (0.75, 0.5, 0.5)),
    ("N", 0.40): (52, (1, 0.75, 0.5)),
    ("N", 0.60): (33, (2, 1.5, 1)),
    ("S", 0.40): (43, (2, 1.5, 1)),
    ("S", 0.60): (25, (5, 3.5, 2)),
}
_CELLS = [
    (cement, water, at_c, mean_mpa, days)
    for (cement, water), (mean_mpa, row) in _PRINTED.items()
    for at_c, days in zip(_AT_C, row, strict=True)
]


@cache
def model_over_printed(by: Maturity) -> tuple[float, ...]:
    """Model over table, every cell."""
    return tuple(
        hours_to(
            mix(mean_mpa - 8, cement_class=cement, water_cement_fraction=water),
            5 / mean_mpa, at_c, by,
        )
        / (24 * days)
        for cement, water, at_c, mean_mpa, days in _CELLS
    )  # fmt: skip


def _median_met(by: Maturity) -> float:
    return min(1.0, median(model_over_printed(by)))


def _met(index: int) -> Callable[[], float]:
    return lambda: min(1.0, model_over_printed("eurocode")[index])


CASES = (
    *(
        Case(
            f"frost-{cement}-{water:g}-{at_c:g}c", _SOURCE, "read",
            f"hours to 5 N/mm² over the printed {24 * days:g} h, 1 at most: class "
            f"{cement}, water {water:g}, {at_c:g} °C", "-", 1.0, _met(i), 0.42,
        )
        for i, (cement, water, at_c, _, days) in enumerate(_CELLS)
    ),
    *(
        Case(
            f"frost-median-{by}", _SOURCE, "read",
            f"the same, median of all cells, by the age of {by}", "-", 1.0,
            partial(_median_met, by), 0.1,
        )
        for by in get_args(Maturity)
    ),
)  # fmt: skip
