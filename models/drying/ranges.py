"""The range check all drying formulas share: refuse, never guess."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from models.errors import OutOfRangeError

Floats: TypeAlias = NDArray[np.float64]
Flags: TypeAlias = NDArray[np.bool_]
Numbers: TypeAlias = float | Floats


def in_range(
    name: str, values: Numbers, low: float, high: float, unit: str, source: str
) -> Floats:
    """Give the values as an array if all lie in the range of their source.

    Raises
    ------
    OutOfRangeError
        With the first value outside; NaN is outside.
    """
    array = np.asarray(values, dtype=np.float64)
    outside = ~((array >= low) & (array <= high))
    if outside.any():
        wanted = f"{low:g} to {high:g} {unit}".rstrip()
        found = float(array[outside].flat[0])
        raise OutOfRangeError(name=name, found=found, wanted=wanted, source=source)
    return array
