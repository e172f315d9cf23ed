"""From raw values under the file's words to a record, with every problem kept."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Generic

from pydantic import ValidationError

from models.errors import Place
from models.files.reading.columns import R, Table
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector, ValueRefused
from models.files.reading.values import is_blank, read_value
from models.files.reading.wanted import wanted
from models.records.base import RulesBrokenError
from models.wording import did_you_mean, nearest, one_of, say


@dataclass(frozen=True)
class RawEntry(Generic[R]):
    """One row or table as read.

    Attributes
    ----------
    values : mapping
        Record field to value, for the fields that could be read.
    record : Record or None
        None if anything in it is wrong.
    place : callable
        Place of a key, or of the entry for "".
    label : str
        Put before a key in messages, such as ``[[crew]] ``.
    inner : mapping
        Key to the entries of the tables inside it.
    """

    table: Table[R]
    values: Mapping[str, object]
    record: R | None
    place: Callable[[str], Place]
    label: str = ""
    inner: "Mapping[str, tuple[RawEntry[Any], ...]]" = field(default_factory=dict)

    @property
    def id(self) -> str:
        """What tells it from others of its table; "" if nothing does."""
        return self.text(self.table.unique) if self.table.unique else ""

    def text(self, field: str) -> str:
        """Return a field that holds text; "" if it could not be read."""
        value = self.values.get(field)
        return value if isinstance(value, str) else ""

    def refuse(
        self,
        problems: ProblemCollector,
        key: str,
        found: str,
        wanted: str = "",
        hint: str = "",
    ) -> None:
        """Keep a problem of one of its keys, or of the whole of it for ""."""
        field = f"{self.label}{key}".rstrip()
        problems.add(self.place(key), field, found, wanted, hint)

    def places(self) -> Iterator[tuple[tuple[str, str, str], Place]]:
        """Give table, id and key of the entry and of each value, with its place."""
        yield (self.table.name, self.id, ""), self.place("")
        for column in self.table.columns:
            if column.field in self.values:
                yield (self.table.name, self.id, column.key), self.place(column.key)


def every(entries: Iterable[RawEntry[Any]]) -> Iterator[RawEntry[Any]]:
    """Give entries and those of the tables inside them."""
    for entry in entries:
        yield entry
        for inner in entry.inner.values():
            yield from every(inner)


def read_values(
    table: Table[R],
    raw: Mapping[str, object],
    place: Callable[[str], Place],
    local: LocalTime,
    problems: ProblemCollector,
    label: str = "",
    absent: frozenset[str] = frozenset(),
) -> tuple[dict[str, object], bool]:
    """Read the columns of one entry; say too whether all were in order.

    Keys of inner tables are left to the caller; ``absent`` columns have been refused
    already, for the whole sheet.
    """
    values: dict[str, object] = {}
    sound = not absent

    def refuse(key: str, found: str, what: str, hint: str = "") -> None:
        nonlocal sound
        sound = False
        problems.add(place(key), f"{label}{key}", found, what, hint)

    meant = set(absent)
    for key in (key for key in raw if key not in table.keys):
        hint = did_you_mean(key, table.keys)
        refuse(key, "unknown key", "", hint or f"Keys: {one_of(table.keys)}")
        meant.add(nearest(key, table.keys))  # so that it is not missed as well
    for column in table.readings:
        given = raw.get(column.key)
        if is_blank(given):
            if column.required and column.key not in meant:
                refuse(column.key, "", wanted(column))
            continue
        try:
            values[column.field] = read_value(given, column, local)
        except ValueRefused as no:
            refuse(column.key, no.found or say(given), no.wanted, no.hint)
    return values, sound


def read_entry(
    table: Table[R],
    raw: Mapping[str, object],
    place: Callable[[str], Place],
    local: LocalTime,
    problems: ProblemCollector,
    label: str = "",
    absent: frozenset[str] = frozenset(),
) -> RawEntry[R]:
    """Read one entry without inner tables and make its record."""
    values, sound = read_values(table, raw, place, local, problems, label, absent)
    record = build(table, values, raw, place, problems, label) if sound else None
    return RawEntry(table, values, record, place, label)


def build(
    table: Table[R],
    values: Mapping[str, object],
    raw: Mapping[str, object],
    place: Callable[[str], Place],
    problems: ProblemCollector,
    label: str = "",
) -> R | None:
    """Make the record of values that are each sound; refuse what does not fit together.

    Raises
    ------
    ValidationError
        If the record refuses a value that its column let through: a bug of ours.
    """
    try:
        return table.record.model_validate(dict(values))
    except ValidationError as error:
        keys = {column.field: column.key for column in table.columns}
        for detail in error.errors(include_url=False):
            broken = detail.get("ctx", {}).get("error")
            if not isinstance(broken, RulesBrokenError):
                raise
            for field_name, wanted_in_it in broken.rules:
                key = keys[field_name]
                found = say(raw.get(key))
                problems.add(place(key), f"{label}{key}", found, wanted_in_it)
        return None
