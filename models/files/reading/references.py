"""Ids: no duplicates, and none that is not defined."""

from collections.abc import Iterable, Mapping
from typing import Any

from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.wording import called, did_you_mean, one_of

#: Table -> its ids; a table that could not be read is left out and not checked.
KnownIds = Mapping[str, tuple[str, ...]]


def ids_of(entries: Iterable[RawEntry[Any]]) -> tuple[str, ...]:
    """Return the ids that could be read, also of entries wrong elsewhere."""
    ids = (entry.text(entry.table.unique) for entry in entries)
    return tuple(text for text in ids if text)


def check_unique(entries: Iterable[RawEntry[Any]], problems: ProblemCollector) -> None:
    """Refuse each id that was used before."""
    first: dict[str, RawEntry[Any]] = {}
    for entry in entries:
        field = entry.table.unique
        value = entry.text(field)
        if not value:
            continue
        if value in first:
            key = next(c.key for c in entry.table.columns if c.field == field)
            hint = f"First used at {first[value].place(key)}"
            entry.refuse(problems, key, f"duplicate {key} '{value}'", hint=hint)
        first.setdefault(value, entry)


def check_references(
    entries: Iterable[RawEntry[Any]], known: KnownIds, problems: ProblemCollector
) -> None:
    """Refuse each id that is not defined."""
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
                    hint = did_you_mean(str(name), allowed)
                    entry.refuse(problems, column.key, f"'{name}'", wanted, hint)
