"""The rows of a shift sheet cut into pages of paper."""

from collections.abc import Sequence
from math import ceil

from exports.sheets.shift_sheet import SheetBreach, SheetPage, SheetRow

#: What fits one page beside head and foot in letters read at arm's length.
ROWS_A_PAGE = 12
LINES_A_PAGE = 32
#: Signs to a line in the columns of the sheet.
START_WIDTH, TITLE_WIDTH, PLACE_WIDTH, WATER_WIDTH, STATE_WIDTH = 11, 30, 40, 17, 17
BREACH_WIDTH = 110


def pages_of(rows: Sequence[SheetRow], above: int) -> tuple[SheetPage, ...]:
    """Share the rows evenly: two half-full pages read better than one and a rest.

    ``above`` are lines that the first page has to hold as well.
    """
    lines = above + sum(_lines_of(row) for row in rows)
    count = max(1, ceil(len(rows) / ROWS_A_PAGE), ceil(lines / LINES_A_PAGE))
    size = max(1, ceil(len(rows) / count))
    return tuple(
        SheetPage(
            number=f"{number + 1} of {count}",
            rows=tuple(rows[number * size : (number + 1) * size]),
        )
        for number in range(count)
    )


def lines_of_breach(breach: SheetBreach) -> int:
    """Estimate how many printed lines a breach takes."""
    texts = (breach.heading, breach.do, *breach.lines)
    return sum(ceil(len(text) / BREACH_WIDTH) for text in texts)


def _lines_of(row: SheetRow) -> int:
    """Estimate how many printed lines a row takes, by its fullest cell."""
    task = ceil(len(row.title) / TITLE_WIDTH) + ceil(len(row.place) / PLACE_WIDTH)
    water = ceil(len(row.water_point) / WATER_WIDTH) + ceil(
        len(row.water) / WATER_WIDTH
    )
    state = bool(row.dry_by) + ceil(len(row.state) / STATE_WIDTH)
    start = 2 + ceil(len(row.was) / START_WIDTH)
    return max(start, task, water, state)
