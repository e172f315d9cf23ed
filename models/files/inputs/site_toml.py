"""``site.toml``: read table by table; what it says about itself must fit together."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from models.files.formats.toml_file import TomlFile
from models.files.inputs.hose_reach import with_reached
from models.files.inputs.rates import read_rates
from models.files.reading.columns import Inner, R, Table
from models.files.reading.gather import Gatherer, Place
from models.files.reading.local_time import LocalTime
from models.files.reading.record_reader import Entry, build, read_entry, read_values
from models.files.reading.references import ids_of
from models.files.reading.refused import Refused
from models.files.reading.tables import LISTED, SINGLE, SITE
from models.files.reading.words import did_you_mean, nearest, one_of, say
from models.records import Site

_TOP = ("site", *(i.key for i in LISTED), *(i.key for i in SINGLE), "rates")


@dataclass(frozen=True)
class SiteFile:
    """What of ``site.toml`` could be read, whole or not.

    Attributes
    ----------
    head : Entry
        The table ``[site]``.
    entries : mapping
        Name to entries of the tables that may stand many times.
    singles : mapping
        Field of the site to what stands once: rules, costs, rates.
    """

    local: LocalTime
    head: Entry[Site]
    entries: Mapping[str, tuple[Entry[Any], ...]]
    singles: Mapping[str, object]

    @property
    def wind_height_m(self) -> float | None:
        """Height of the wind in ``weather.csv``, if it is said here."""
        height = self.head.values.get("wind_height_m")
        return height if isinstance(height, float) else None

    def known_ids(self) -> dict[str, tuple[str, ...]]:
        """Return the ids of each table whose ids could all be read."""
        ids = {name: ids_of(found) for name, found in self.entries.items()}
        return {n: i for n, i in ids.items() if i and len(i) == len(self.entries[n])}

    def whole(self) -> Site:
        """Make the site of a file without problems."""
        own = {k: v for k, v in self.head.values.items() if k in Site.model_fields}
        lists: dict[str, tuple[Any, ...]] = {
            inner.field: tuple(entry.record for entry in self.entries[inner.key])
            for inner in LISTED
        }
        points = lists["water_points"]
        lists["zones"] = tuple(with_reached(zone, points) for zone in lists["zones"])
        return Site.model_validate(own | lists | dict(self.singles))


def read_site_toml(file: TomlFile, gather: Gatherer) -> SiteFile:
    """Read the whole document, keeping every problem."""
    document = file.document
    meant = set()
    for key in (key for key in document if key not in _TOP):
        hint = did_you_mean(key, _TOP)
        gather.add(file.place(key), key, "an unknown table", one_of(_TOP), hint)
        meant.add(nearest(key, _TOP))  # so that it is not missed as well
    local = _local_time(file, gather)
    reader = _Reader(file, local, gather)
    entries = {}
    for inner in LISTED:
        raw = document.get(inner.key)
        entries[inner.key] = reader.listed(inner.table, (inner.key,), raw)
        missing = not raw and isinstance(raw, list | None)
        if missing and inner.field in _REQUIRED and inner.key not in meant:
            wanted = f"at least one table [[{inner.key}]]"
            gather.add(Place(file.name), f"[[{inner.key}]]", "nothing", wanted)
    singles: dict[str, object] = {"rates": read_rates(file, gather)}
    for inner in SINGLE:
        singles |= reader.single(inner)
    return SiteFile(local, reader.site("site" in meant), entries, singles)


_REQUIRED = frozenset(n for n, f in Site.model_fields.items() if f.is_required())


def _local_time(file: TomlFile, gather: Gatherer) -> LocalTime:
    """Return the site's clock; UTC while its timezone is wrong, to read on."""
    table = file.document.get("site")
    name = table.get("timezone") if isinstance(table, dict) else None
    if not isinstance(name, str) or not name.strip():
        return LocalTime()  # said with the other missing keys
    try:
        return LocalTime(name.strip())
    except Refused as no:
        place = file.place("site", "timezone")
        gather.add(place, "[site] timezone", say(name), no.wanted, no.hint)
        return LocalTime()


@dataclass(frozen=True)
class _Reader:
    file: TomlFile
    local: LocalTime
    gather: Gatherer

    def site(self, misspelt: bool) -> Entry[Site]:
        """Read ``[site]``; its record waits for the other tables."""
        table = self.file.document.get("site")
        label = "[site] "
        values: dict[str, object] = {}
        place = partial(self.file.place, "site")
        if isinstance(table, dict):
            values, _ = read_values(SITE, table, place, self.local, self.gather, label)
        elif table is not None or not misspelt:
            self._wrong(("site",), "[site]", table, "a table [site]")
        return Entry(SITE, values, None, place, label)

    def listed(
        self, table: Table[R], path: tuple[str | int, ...], raw: object
    ) -> tuple[Entry[R], ...]:
        """Read an array of tables."""
        if raw is None:
            return ()
        label = f"[[{'.'.join(str(part) for part in path if isinstance(part, str))}]]"
        if not isinstance(raw, list):
            self._wrong(path, label, raw, f"a table {label}, in two brackets")
            return ()
        found = []
        for index, item in enumerate(raw):
            if isinstance(item, dict):
                found.append(self._entry(table, (*path, index), item, f"{label} "))
            else:
                self._wrong((*path, index), label, item, f"a table {label}")
        return tuple(found)

    def single(self, inner: Inner) -> dict[str, object]:
        """Read a table that stands once, if it is there and sound."""
        raw = self.file.document.get(inner.key)
        if raw is None:
            return {}
        if not isinstance(raw, dict):
            self._wrong((inner.key,), inner.key, raw, f"a table [{inner.key}]")
            return {}
        entry = self._entry(inner.table, (inner.key,), raw, f"[{inner.key}] ")
        return {inner.field: entry.record} if entry.record else {}

    def _entry(
        self,
        table: Table[R],
        path: tuple[str | int, ...],
        raw: dict[str, object],
        label: str,
    ) -> Entry[R]:
        place = partial(self.file.place, *path)
        if not table.inner:
            return read_entry(table, raw, place, self.local, self.gather, label)
        values, sound = read_values(table, raw, place, self.local, self.gather, label)
        inside: dict[str, tuple[Entry[Any], ...]] = {}
        for inner in table.inner:
            found = self.listed(inner.table, (*path, inner.key), raw.get(inner.key))
            values[inner.field] = records = tuple(entry.record for entry in found)
            sound = sound and None not in records
            inside[inner.key] = found
        record = build(table, values, raw, place, self.gather, label) if sound else None
        return Entry(table, values, record, place, label, inside)

    def _wrong(
        self, path: tuple[str | int, ...], label: str, raw: object, wanted: str
    ) -> None:
        self.gather.add(self.file.place(*path), label, say(raw), wanted)
