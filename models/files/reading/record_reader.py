"""From raw values under the file's words to a record, with every problem kept."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Generic

from pydantic import ValidationError

from models.files.reading.columns import R, Table
from models.files.reading.gather import Gatherer, Place
from models.files.reading.local_time import LocalTime
from models.files.reading.refused import Refused
from models.files.reading.values import is_blank, read_value, wanted
from models.files.reading.words import did_you_mean, nearest, one_of, say


@dataclass(frozen=True)
class Entry(Generic[R]):
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
    inner: "Mapping[str, tuple[Entry[Any], ...]]" = field(default_factory=dict)

    def text(self, field: str) -> str:
        """Return a field that holds text; "" if it could not be read."""
        value = self.values.get(field)
        return value if isinstance(value, str) else ""


def read_values(
    table: Table[R],
    raw: Mapping[str, object],
    place: Callable[[str], Place],
    local: LocalTime,
    gather: Gatherer,
    label: str = "",
    absent: frozenset[str] = frozenset(),
) -> tuple[dict[str, object], bool]:
    """Read the columns of one entry; say too whether all were in order.

    Keys of inner tables are left to the caller; that ``absent`` ones are missing has
    been said already, for the whole sheet.
    """
    values: dict[str, object] = {}
    sound = not absent

    def refuse(key: str, found: str, what: str, hint: str = "") -> None:
        nonlocal sound
        sound = False
        gather.add(place(key), f"{label}{key}", found, what, hint)

    meant = set(absent)
    for key in (key for key in raw if key not in table.keys):
        hint = did_you_mean(key, table.keys)
        refuse(key, "an unknown word", one_of(table.keys), hint)
        meant.add(nearest(key, table.keys))  # so that it is not missed as well
    for column in table.readings:
        given = raw.get(column.key)
        if is_blank(given):
            if column.required and column.key not in meant:
                refuse(column.key, "nothing", wanted(column))
            continue
        try:
            values[column.field] = read_value(given, column, local)
        except Refused as no:
            refuse(column.key, no.found or say(given), no.wanted, no.hint)
    return values, sound


def read_entry(
    table: Table[R],
    raw: Mapping[str, object],
    place: Callable[[str], Place],
    local: LocalTime,
    gather: Gatherer,
    label: str = "",
    absent: frozenset[str] = frozenset(),
) -> Entry[R]:
    """Read one entry without inner tables and make its record."""
    values, sound = read_values(table, raw, place, local, gather, label, absent)
    record = build(table, values, raw, place, gather, label) if sound else None
    return Entry(table, values, record, place, label)


def build(
    table: Table[R],
    values: Mapping[str, object],
    raw: Mapping[str, object],
    place: Callable[[str], Place],
    gather: Gatherer,
    label: str = "",
) -> R | None:
    """Make the record of values that are each sound; keep what does not fit together.

    A record words such a rule as ``placing_end after placing_start``: the first word of
    it that is not filled in, else the first at all, is the one to mend.
    """
    try:
        return table.record.model_validate(dict(values))
    except ValidationError as error:
        for detail in error.errors(include_url=False):
            rule = str(detail.get("ctx", {}).get("error", "")) or "another value"
            keys = [word for word in rule.split() if word in table.keys]
            unfilled = [key for key in keys if is_blank(raw.get(key))]
            key = next(iter(unfilled + keys), "")
            gather.add(place(key), f"{label}{key}", say(raw.get(key)), rule)
        return None
