"""Ids: none twice, and none that names what is not there."""

from collections.abc import Iterable, Mapping
from typing import Any

from models.files.reading.gather import Gatherer
from models.files.reading.record_reader import Entry
from models.files.reading.words import called, did_you_mean, one_of

#: Table -> its ids; a table that could not be read is left out and not checked.
KnownIds = Mapping[str, tuple[str, ...]]


def ids_of(entries: Iterable[Entry[Any]]) -> tuple[str, ...]:
    """Return the ids that could be read, also of entries wrong elsewhere."""
    ids = (entry.text(entry.table.unique) for entry in entries)
    return tuple(text for text in ids if text)


def check_unique(entries: Iterable[Entry[Any]], gather: Gatherer) -> None:
    """Keep a problem for each id that stands a second time."""
    first: dict[str, Entry[Any]] = {}
    for entry in entries:
        field = entry.table.unique
        value = entry.text(field)
        if not value:
            continue
        if value in first:
            key = next(c.key for c in entry.table.columns if c.field == field)
            other = first[value].place(key)
            gather.add(
                entry.place(key), f"{entry.label}{key}", f"'{value}' again",
                "each of them once", f"it stands first at {other}",
            )  # fmt: skip
        first.setdefault(value, entry)


def check_references(
    entries: Iterable[Entry[Any]], known: KnownIds, gather: Gatherer
) -> None:
    """Keep a problem for each id that is not defined."""
    for entry in entries:
        for column in entry.table.readings:
            if column.refers not in known:
                continue
            value = entry.values.get(column.field, ())
            names = value if isinstance(value, tuple) else (value,)
            for name in names:
                if name not in known[column.refers]:
                    allowed = known[column.refers]
                    wanted = f"a {called(column.refers)} of the site, {one_of(allowed)}"
                    gather.add(
                        entry.place(column.key), f"{entry.label}{column.key}",
                        f"'{name}'", wanted, did_you_mean(str(name), allowed),
                    )  # fmt: skip
