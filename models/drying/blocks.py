"""Large arrays some rows at a time.

What a formula needs on its way is then as small as a block and stays in the processor's
cache, however many surfaces and days there are.
"""

from collections.abc import Callable, Iterator
from math import prod

import numpy as np

from models.drying.ranges import Floats, Numbers

#: Values worked on at a time: 256 kB an array.
BLOCK_VALUES = 32_768


def row_blocks(shape: tuple[int, ...]) -> Iterator[slice]:
    """Give the rows of an array in blocks of some :data:`BLOCK_VALUES` values."""
    rows = max(1, BLOCK_VALUES // max(1, prod(shape[1:])))
    for first in range(0, shape[0], rows):
        yield slice(first, min(first + rows, shape[0]))


def in_blocks(formula: Callable[..., Floats], *inputs: Numbers) -> Floats:
    """Give what a formula gives for inputs that broadcast, worked out in blocks.

    Parameters
    ----------
    formula : callable
        Each value of its result comes from the inputs at that place alone.
    *inputs : float or array
        Arguments of the formula, which gets them as arrays.
    """
    arrays = [np.asarray(values, dtype=np.float64) for values in inputs]
    shape = np.broadcast_shapes(*(array.shape for array in arrays))
    if not shape:
        return np.asarray(formula(*arrays))
    has_rows = [a.ndim == len(shape) and len(a) == shape[0] for a in arrays]
    result = np.empty(shape)
    for rows in row_blocks(shape):
        result[rows] = formula(
            *(
                array[rows] if sliced else array
                for array, sliced in zip(arrays, has_rows, strict=True)
            )
        )
    return result
