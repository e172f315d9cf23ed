"""``site.toml``: read table by table; what it says about itself must fit together."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from typing import Any

from models.errors import Place
from models.files.formats.toml_file import TomlFile
from models.files.inputs.rates import SiteRates, read_rates
from models.files.reading.columns import Inner, R, Table
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector, ValueRefused
from models.files.reading.record_reader import RawEntry, build, read_entry, read_values
from models.files.reading.references import ids_of
from models.files.reading.site_tables import LISTED, SINGLE, SITE
from models.records import Horizon, Site
from models.wording import did_you_mean, nearest, one_of, say

_TOP = ("site", *(i.key for i in LISTED), *(i.key for i in SINGLE), "rates")


@dataclass(frozen=True)
class SiteFile:
    """What of ``site.toml`` could be read, whole or not.

    Attributes
    ----------
    head : RawEntry
        The table ``[site]``.
    entries : mapping
        Name to entries of the tables that may stand many times.
    singles : mapping
        Field of the site to the table that may stand once: rules, costs.
    """

    local: LocalTime
    head: RawEntry[Site]
    entries: Mapping[str, tuple[RawEntry[Any], ...]]
    singles: Mapping[str, RawEntry[Any]]
    rates: SiteRates

    @property
    def wind_height_m(self) -> float | None:
        """Height of the wind in ``weather.csv``, if it is given here."""
        height = self.head.values.get("wind_height_m")
        return height if isinstance(height, float) else None

    def known_ids(self) -> dict[str, tuple[str, ...]]:
        """Return the ids of each table whose ids could all be read."""
        ids = {name: ids_of(found) for name, found in self.entries.items()}
        return {n: i for n, i in ids.items() if i and len(i) == len(self.entries[n])}

    def all_entries(self) -> Iterator[RawEntry[Any]]:
        """Every table that was read, those inside others left out."""
        yield self.head
        for found in self.entries.values():
            yield from found
        yield from self.singles.values()

    def horizon(self, problems: ProblemCollector) -> Horizon | None:
        """Give the planned stretch; None if it could not be read."""
        starts_at = self.head.values.get("week_starts_at")
        days = self.head.values.get("days", Site.model_fields["days"].get_default())
        if not isinstance(starts_at, datetime) or not isinstance(days, int):
            return None
        try:
            return horizon_of(starts_at, days, self.local)
        except ValueRefused as no:
            clock = self.local.words(starts_at)[11:]
            found = f"a plan of {days} days that ends at {clock}"
            self.head.refuse(problems, "week_start", found, no.wanted, no.hint)
            return None


def horizon_of(week_starts_at: datetime, days: int, local: LocalTime) -> Horizon:
    """Plan from an instant to the same clock time some days later.

    Calendar days, so that a week with a clock change has 167 or 169 hours.

    Raises
    ------
    ValueRefused
        If the clocks skip that time on the last day.
    """
    wall_end = local.wall(week_starts_at) + timedelta(days=days)
    ends_at = local.of_wall(wall_end, first_of_two=True)
    return Horizon(starts_at=week_starts_at, ends_at=ends_at)


def read_site_toml(file: TomlFile, problems: ProblemCollector) -> SiteFile:
    """Read the whole document, keeping every problem."""
    document = file.document
    meant = set()
    for key in (key for key in document if key not in _TOP):
        hint = did_you_mean(key, _TOP)
        hint = hint or f"Tables: {one_of(_TOP)}"
        problems.add(file.place(key), key, "unknown table", hint=hint)
        meant.add(nearest(key, _TOP))  # so that it is not missed as well
    local = _local_time(file, problems)
    reader = _Reader(file, local, problems)
    entries = {}
    for inner in LISTED:
        raw = document.get(inner.key)
        entries[inner.key] = reader.listed(inner.table, (inner.key,), raw)
        missing = not raw and isinstance(raw, list | None)
        if missing and inner.field in _REQUIRED and inner.key not in meant:
            wanted = f"at least one table [[{inner.key}]]"
            problems.add(Place(file.name), f"[[{inner.key}]]", "", wanted)
    singles = {inner.field: reader.single(inner) for inner in SINGLE}
    rates = read_rates(file, problems)
    return SiteFile(local, reader.site("site" in meant), entries, singles, rates)


_REQUIRED = frozenset(n for n, f in Site.model_fields.items() if f.is_required())


def _local_time(file: TomlFile, problems: ProblemCollector) -> LocalTime:
    """Return the site's clock; UTC while its timezone is wrong, to read on."""
    table = file.document.get("site")
    name = table.get("timezone") if isinstance(table, dict) else None
    if not isinstance(name, str) or not name.strip():
        return LocalTime()  # refused with the other missing keys
    try:
        return LocalTime(name.strip())
    except ValueRefused as no:
        place = file.place("site", "timezone")
        problems.add(place, "[site] timezone", say(name), no.wanted, no.hint)
        return LocalTime()


@dataclass(frozen=True)
class _Reader:
    file: TomlFile
    local: LocalTime
    problems: ProblemCollector

    def site(self, misspelt: bool) -> RawEntry[Site]:
        """Read ``[site]``; its record waits for the other tables."""
        table = self.file.document.get("site")
        label = "[site] "
        values: dict[str, object] = {}
        place = partial(self.file.place, "site")
        if isinstance(table, dict):
            values, _ = read_values(
                SITE, table, place, self.local, self.problems, label
            )
        elif table is not None or not misspelt:
            self._wrong(("site",), "[site]", table, "a table [site]")
        return RawEntry(SITE, values, None, place, label)

    def listed(
        self, table: Table[R], path: tuple[str | int, ...], raw: object
    ) -> tuple[RawEntry[R], ...]:
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

    def single(self, inner: Inner) -> RawEntry[Any]:
        """Read a table that may stand once; without it all its defaults hold."""
        raw = self.file.document.get(inner.key, {})
        if not isinstance(raw, dict):
            self._wrong((inner.key,), inner.key, raw, f"a table [{inner.key}]")
            raw = {}
        return self._entry(inner.table, (inner.key,), raw, f"[{inner.key}] ")

    def _entry(
        self,
        table: Table[R],
        path: tuple[str | int, ...],
        raw: dict[str, object],
        label: str,
    ) -> RawEntry[R]:
        place = partial(self.file.place, *path)
        if not table.inner:
            return read_entry(table, raw, place, self.local, self.problems, label)
        values, sound = read_values(table, raw, place, self.local, self.problems, label)
        inside: dict[str, tuple[RawEntry[Any], ...]] = {}
        for inner in table.inner:
            found = self.listed(inner.table, (*path, inner.key), raw.get(inner.key))
            values[inner.field] = records = tuple(entry.record for entry in found)
            sound = sound and None not in records
            inside[inner.key] = found
        record = (
            build(table, values, raw, place, self.problems, label) if sound else None
        )
        return RawEntry(table, values, record, place, label, inside)

    def _wrong(
        self, path: tuple[str | int, ...], label: str, raw: object, wanted: str
    ) -> None:
        self.problems.add(self.file.place(*path), label, say(raw), wanted)
