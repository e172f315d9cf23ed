"""A site folder, read and checked as a whole.

Each file is read as far as it goes, then held against the others. Problems are raised
together at the end; nothing is ever written.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from models.errors import Place, Problem
from models.files.formats.toml_file import read_toml
from models.files.inputs.party_checks import check_busy
from models.files.inputs.pours_file import (
    PourEntries,
    check_pours,
    first_placing,
    read_pours,
    surface_ids,
)
from models.files.inputs.readings_file import read_readings
from models.files.inputs.site_checks import check_site
from models.files.inputs.site_profiles import SiteProfiles, read_own_profiles
from models.files.inputs.site_toml import read_site_toml
from models.files.inputs.stand_ins import Part, ReadParts, site_of
from models.files.inputs.weather_file import read_weather
from models.files.inputs.weather_hours import Span, WeatherHours
from models.files.reading.local_time import LocalTime
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry, every
from models.files.reading.references import (
    KnownIds,
    check_references,
    check_unique,
)
from models.records import Horizon, Places, Reading, SiteInput, Weather

SITE_NAME = "site.toml"
_NO_PROFILES = SiteProfiles({})


@dataclass(frozen=True)
class LateWeather:
    """Weather in order that begins too late, and what to say where nothing is before.

    The site itself has a stand-in for it.
    """

    weather: Weather
    problem: Problem


@dataclass(frozen=True)
class StrayReading:
    """A reading of a surface that no pour of the folder has, and what to say of it."""

    surface_id: str
    problem: Problem


@dataclass(frozen=True)
class SiteFiles:
    """What of a folder could be read, for more to be checked before any is refused.

    Attributes
    ----------
    problems : ProblemCollector
        Those of the files so far.
    entries : tuple of RawEntry
        Every table of ``site.toml`` and every pour, the bad ones too.
    site_input : SiteInput or None
        The site; None if no pour could be read. Where ``problems`` are, it is fit for
        checks alone.
    stand_ins : frozenset
        Parts of it that are stand-ins.
    late : LateWeather or None
        Its weather, if all that is wrong with it is a late begin: whoever has no hours
        from before has to refuse it.
    profiles : SiteProfiles
        All that a pour may name.
    strays : tuple of StrayReading
        Readings to refuse where nobody knows their surface.
    """

    path: Path
    problems: ProblemCollector
    entries: tuple[RawEntry[Any], ...]
    site_input: SiteInput | None
    stand_ins: frozenset[Part]
    late: LateWeather | None = None
    profiles: SiteProfiles = _NO_PROFILES
    strays: tuple[StrayReading, ...] = ()


def read_site(path: Path) -> SiteInput:
    """Read a site folder.

    Parameters
    ----------
    path : Path
        Folder with ``site.toml``, ``pours.csv`` or ``pours.xlsx``, ``weather.csv`` or
        an EPW file, and if wanted ``readings.csv`` and ``profiles/*.toml``.

    Raises
    ------
    InputError
        With every problem of every file.
    """
    folder = read_folder(path)
    if folder.late is not None:
        folder.problems.keep(folder.late.problem)
    folder.problems.keep(*(stray.problem for stray in folder.strays))
    folder.problems.raise_if_any()
    # Had no pour been read, a problem would have been raised.
    assert folder.site_input
    return folder.site_input


def read_folder(path: Path) -> SiteFiles:
    """Read a site folder as far as it goes."""
    problems = ProblemCollector()
    if not path.is_dir():
        problems.add(Place(path.name or str(path)), "", "folder not found")
        return SiteFiles(path, problems, (), None, frozenset())
    file = read_toml(path / SITE_NAME, problems)
    site = read_site_toml(file, problems) if file else None
    local = site.local if site else LocalTime()
    horizon = site.horizon(problems) if site else None
    pours = read_pours(path, local, problems)
    span = _weather_span(horizon, pours or ()) if horizon else None
    height_m = site.wind_height_m if site else None
    weather = read_weather(path, height_m, span, local, problems)
    readings = read_readings(path, local, problems)
    profiles = read_own_profiles(path, problems)

    known = (site.known_ids() if site else {}) | {"profile": profiles.known_ids()}
    if pours is not None:
        known["surface"] = surface_ids(pours)
    if site:
        check_site(site, known, problems)
    if site and horizon:
        check_busy(site.entries["crew"], horizon, local, problems)
    check_unique(pours or (), problems)
    check_references(pours or (), known, problems)
    strays = tuple(_strays(readings, known))
    check_pours(pours or (), horizon, local, problems)

    entries = (*(site.all_entries() if site else ()), *(pours or ()))
    places = {key: at for entry in every(entries) for key, at in entry.places()}
    rates = site.rates.places if site else {}
    places |= {("rates", "", name): place for name, place in rates.items()}
    parts = ReadParts(site, horizon, pours or (), weather, readings, profiles, problems)
    site_input, stand_ins = site_of(parts, Places(places))
    late = _late(weather, problems)
    return SiteFiles(
        path, problems, entries, site_input, stand_ins, late, profiles, strays
    )


def _strays(
    readings: Iterable[RawEntry[Reading]], known: KnownIds
) -> Iterator[StrayReading]:
    for entry in readings:
        apart = ProblemCollector()
        check_references([entry], known, apart)
        for problem in apart.in_order():
            yield StrayReading(entry.text("surface_id"), problem)


def _late(
    weather: WeatherHours | None, problems: ProblemCollector
) -> LateWeather | None:
    """Give weather that begins too late; a problem at once if more is wrong with it."""
    if weather is None or weather.late is None:
        return None
    if problems.about(weather.file):
        problems.keep(weather.late)
        return None
    return LateWeather(weather.record(), weather.late)


def _weather_span(horizon: Horizon, pours: PourEntries) -> Span:
    """From the hour of the first placing, if that is before the week, to its end."""
    first = min(horizon.starts_at, first_placing(pours) or horizon.starts_at)
    return Span(first.replace(minute=0, second=0, microsecond=0), horizon.ends_at)
