"""A table before it is a file: headers with units, rows of plain values."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from models.quantities import Units, measure

Cell = str | int | float | datetime | None
Sort = Literal["text", "number", "local", "utc"]


@dataclass(frozen=True)
class Column:
    """One column: its header and what stands under it.

    ``local`` and ``utc`` hold instants; a local one carries the site's zone. A column
    with ``choices`` is filled in by people, who can pick one of them in a workbook.
    """

    header: str
    sort: Sort = "text"
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Table:
    """Rows as long as the columns, in an order that never changes."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


def header(name: str, kind: str, units: Units) -> str:
    """Give a column's name with its unit, ``Water [L]``."""
    return f"{name} [{measure(kind, units).unit}]"


def number(value: float | None, kind: str, units: Units) -> float | None:
    """Bring a value into the site's units, to a hundredth."""
    if value is None:
        return None
    return round(measure(kind, units).shown(value), 2)


def offset_words(local: datetime) -> str:
    """Say how far a local time is from UTC, ``UTC+02:00``; never begins with a sign."""
    return f"UTC{local.isoformat()[-6:]}"
