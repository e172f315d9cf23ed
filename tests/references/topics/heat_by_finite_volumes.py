"""A slab on ground with all its heat, against an independent finite-volume package.

No closed solution has hydration, weather and two materials at once: FiPy computes it.
"""

from collections.abc import Callable

from tests.references.case import Case
from tests.references.finite_volumes import by_fipy, ours

_FIPY = "FiPy, finite volumes"


def _mean_c(hour: int, *, same_cells: bool) -> Callable[[], float]:
    return lambda: float(ours(same_cells=same_cells).mean_c[6 * hour, 0])


def _core_c(hour: int) -> Callable[[], float]:
    return lambda: float(ours(same_cells=False).core_c[6 * hour, 0])


_HOURS = (3, 6, 12, 18, 24, 29)
_WARMEST_C, _MEAN_C = by_fipy()

CASES = (
    # The same cells: what is left are our longer steps, ten minutes and, for weather
    # and hydration, an hour.
    *(
        Case(
            f"fipy-same-cells-{hour}h", _FIPY, "package",
            f"mean of 0.25 m on ground under a quilt, same cells, {hour} h", "°C",
            float(_MEAN_C[hour]), _mean_c(hour, same_cells=True), 0.1,
        )
        for hour in _HOURS
    ),
    # The cells that the clock uses, fourteen and six: up to half a kelvin too warm, as
    # six are few for the ground to take up heat through.
    *(
        Case(
            f"fipy-mean-{hour}h", _FIPY, "package",
            f"mean of 0.25 m on ground under a quilt, {hour} h", "°C",
            float(_MEAN_C[hour]), _mean_c(hour, same_cells=False), 0.6,
        )
        for hour in _HOURS
    ),
    *(
        Case(
            f"fipy-core-{hour}h", _FIPY, "package",
            f"warmest of 0.25 m on ground under a quilt, {hour} h", "°C",
            float(_WARMEST_C[hour]), _core_c(hour), 0.6,
        )
        for hour in _HOURS
    ),
)  # fmt: skip
