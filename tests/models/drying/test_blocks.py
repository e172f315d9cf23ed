import numpy as np
import pytest

from models.drying.blocks import BLOCK_VALUES, in_blocks, row_blocks
from models.drying.ranges import Floats


@pytest.mark.parametrize(
    "shape", [(1,), (100_000,), (3, 7), (2016, 1000), (5, 2 * BLOCK_VALUES), (0, 4)]
)
def test_blocks_cover_every_row_once(shape: tuple[int, ...]) -> None:
    rows = [i for block in row_blocks(shape) for i in range(block.start, block.stop)]
    assert rows == list(range(shape[0]))


def test_blocks_are_small() -> None:
    blocks = list(row_blocks((2016, 1000)))
    assert max(block.stop - block.start for block in blocks) == BLOCK_VALUES // 1000


def test_columns_rows_and_numbers_broadcast_as_in_numpy() -> None:
    column = np.arange(500.0)[:, None]
    row = np.arange(300.0)
    sizes: list[int] = []

    def sum_of(*terms: Floats) -> Floats:
        total: Floats = sum(terms[1:], start=terms[0])
        sizes.append(total.size)
        return total

    found = in_blocks(sum_of, column, row, row[None, :], column * row, 0.5)
    assert (found == column + 2 * row + column * row + 0.5).all()
    assert len(sizes) > 1
    assert max(sizes) <= BLOCK_VALUES


def test_as_many_columns_as_rows_are_not_taken_for_rows() -> None:
    side = np.arange(300.0)
    found = in_blocks(np.subtract, side[:, None], side)
    assert found[299, 0] == 299
    assert found[0, 299] == -299


def test_plain_numbers_give_an_array_of_no_dimension() -> None:
    assert in_blocks(np.add, 1, 2).shape == ()
