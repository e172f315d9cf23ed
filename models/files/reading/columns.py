"""What a word of a file means: its record field and how its value is read.

A :class:`Column` says no more than the record does not say already: allowed words,
bounds, defaults and whether it must be there all come from the record itself.
"""

from dataclasses import dataclass
from datetime import date, datetime, time
from functools import cached_property
from types import NoneType, UnionType
from typing import (
    Annotated,
    Any,
    Generic,
    Literal,
    TypeVar,
    Union,
    get_args,
    get_origin,
)

from annotated_types import Ge, Gt, Le, Lt, MinLen
from pydantic import AwareDatetime
from pydantic.fields import FieldInfo

from models.quantities import UNITS
from models.records import Break
from models.records.base import Record

R = TypeVar("R", bound=Record)

Sort = Literal[
    "quantity", "whole", "flag", "word", "words", "text", "texts", "id", "instant",
    "clock", "date", "breaks", "pairs",
]  # fmt: skip


@dataclass(frozen=True)
class Bounds:
    """Lowest and highest value in the record's unit; open where so marked."""

    low: float | None = None
    high: float | None = None
    low_open: bool = False
    high_open: bool = False

    def hold(self, value: float) -> bool:
        """Say whether a value lies between them."""
        if self.low is not None and (
            value < self.low or (self.low_open and value == self.low)
        ):
            return False
        return self.high is None or not (
            value > self.high or (self.high_open and value == self.high)
        )


@dataclass(frozen=True)
class Column:
    """One key of a table or one column of a sheet.

    Attributes
    ----------
    key, field : str
        The word in the file and the record's name for it.
    kind : str
        Kind of quantity, a key of :data:`models.quantities.UNITS`; "" if none.
    bare : str
        Unit of a number without one; "" for the record's own.
    second : str
        Kind of the second number where a value is a list of pairs; ``kind`` is that
        of the first.
    refers : str
        Name of the table whose ids it names.
    required : bool or None
        None to follow the record.
    of : type of Record or None
        Record that has the field, if not that of the table.
    """

    key: str
    field: str
    kind: str = ""
    bare: str = ""
    second: str = ""
    refers: str = ""
    required: bool | None = None
    of: type[Record] | None = None


@dataclass(frozen=True)
class Inner:
    """Tables inside a table, such as the deliveries of a water point."""

    key: str
    field: str
    table: "Table[Any]"


@dataclass(frozen=True)
class Table(Generic[R]):
    """A table of ``site.toml`` or a sheet, and the record a row of it becomes."""

    name: str
    record: type[R]
    columns: tuple[Column, ...]
    inner: tuple[Inner, ...] = ()
    unique: str = ""

    @cached_property
    def readings(self) -> tuple["ColumnReading", ...]:
        """Columns joined with what the record says about them."""
        return tuple(ColumnReading.of(column, self.record) for column in self.columns)

    @property
    def keys(self) -> tuple[str, ...]:
        """All words that may stand in the table."""
        return (*(c.key for c in self.columns), *(i.key for i in self.inner))


@dataclass(frozen=True)
class ColumnReading:
    """A column with the record's side of it: all that is needed to read a value.

    ``pair`` is the two numbers of each pair, in a list of pairs.
    """

    key: str
    field: str
    sort: Sort
    required: bool
    bounds: Bounds
    words: tuple[str, ...]
    kind: str
    unit: str
    whole: bool
    refers: str
    default: object
    pair: tuple["ColumnReading", ...] = ()

    @classmethod
    def of(cls, column: Column, record: type[Record]) -> "ColumnReading":
        """Join a column with its field.

        Raises
        ------
        TypeError
            If the field is of a type that no file can give: a bug in the table.
        """
        info = (column.of or record).model_fields[column.field]
        plain, is_list = _plain(info.annotation)
        words = get_args(plain) if get_origin(plain) is Literal else ()
        required = info.is_required() if column.required is None else column.required
        return cls(
            key=column.key, field=column.field, required=required,
            sort=_sort(column, plain, is_list, bool(words)), bounds=_bounds(info),
            words=tuple(str(word) for word in words), kind=column.kind,
            unit=column.bare or (next(iter(UNITS[column.kind])) if column.kind else ""),
            whole=plain is int, refers=column.refers,
            default=None if info.is_required() else info.get_default(),
            pair=_pair(column, plain) if column.second else (),
        )  # fmt: skip


def _plain(annotation: object) -> tuple[object, bool]:
    """Strip ``| None`` and ``tuple[..., ...]``; say whether the latter was there."""
    if get_origin(annotation) in (Union, UnionType):
        (annotation,) = (a for a in get_args(annotation) if a is not NoneType)
    if get_origin(annotation) is tuple:
        return get_args(annotation)[0], True
    return annotation, False


def _pair(column: Column, plain: object) -> tuple[ColumnReading, ...]:
    """Read the two numbers of a pair as columns of their own."""
    return tuple(
        ColumnReading(
            key=column.key, field=column.field, sort="quantity", required=True,
            bounds=_bounds(get_args(part)[1]), words=(), kind=kind,
            unit=next(iter(UNITS[kind])), whole=False, refers="", default=None,
        )
        for kind, part in zip(
            (column.kind, column.second), get_args(plain), strict=True
        )
    )  # fmt: skip


def _sort(column: Column, plain: object, is_list: bool, has_words: bool) -> Sort:
    if column.second:
        return "pairs"
    if column.kind:
        return "quantity"
    if column.field == "id" or (column.refers and not is_list):
        return "id"
    if has_words:
        return "words" if is_list else "word"
    if plain is Break:
        return "breaks"
    if plain is str:
        return "texts" if is_list else "text"
    sorts: dict[object, Sort] = {
        int: "whole", bool: "flag", time: "clock", date: "date",
        AwareDatetime: "instant", datetime: "instant",
    }  # fmt: skip
    if plain not in sorts:
        raise TypeError(f"no file can give {column.field}: {plain}")
    return sorts[plain]


def _bounds(info: FieldInfo) -> Bounds:
    low: object = None
    high: object = None
    low_open = high_open = False
    for rule in (*info.metadata, *_optional_metadata(info.annotation)):
        match rule:
            case Ge(ge=value):
                low = value
            case Gt(gt=value):
                low, low_open = value, True
            case Le(le=value):
                high = value
            case Lt(lt=value):
                high, high_open = value, True
            case MinLen(min_length=value):
                low = value
    # The rules' own types allow any comparable; the records have numbers only.
    return Bounds(_number(low), _number(high), low_open, high_open)


def _optional_metadata(annotation: object) -> tuple[object, ...]:
    """Rules of the type in ``Annotated[..., rules] | None``."""
    if get_origin(annotation) not in (Union, UnionType):
        return ()
    inner = (part for part in get_args(annotation) if get_origin(part) is Annotated)
    fields = (rule for part in inner for rule in get_args(part)[1:])
    return tuple(rule for field in fields for rule in getattr(field, "metadata", ()))


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) else None
