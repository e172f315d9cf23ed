"""A site folder, read and checked as a whole.

Each file is read as far as it goes, then held against the others. Problems are raised
together at the end; nothing is ever written.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime
from pathlib import Path

from models.files.formats.toml_file import read_toml
from models.files.inputs.horizon import horizon_of
from models.files.inputs.pours_file import (
    PourEntries,
    check_pours,
    first_placing,
    read_pours,
    surface_ids,
)
from models.files.inputs.readings_file import read_readings
from models.files.inputs.site_checks import check_site
from models.files.inputs.site_profiles import read_own_profiles
from models.files.inputs.site_toml import SiteFile, read_site_toml
from models.files.inputs.weather_file import read_weather
from models.files.inputs.weather_hours import Span
from models.files.reading.columns import R
from models.files.reading.gather import Gatherer, Place
from models.files.reading.local_time import LocalTime
from models.files.reading.record_reader import Entry
from models.files.reading.references import check_references, check_unique
from models.files.reading.refused import Refused
from models.records import Horizon, Site, SiteInput, Weather

SITE_NAME = "site.toml"


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
    gather = Gatherer()
    if not path.is_dir():
        gather.add(Place(path.name or str(path)), "", "no such folder", "a site folder")
        gather.raise_if_any()
    file = read_toml(path / SITE_NAME, gather)
    site = read_site_toml(file, gather) if file else None
    local = site.local if site else LocalTime()
    horizon = _horizon(site, gather) if site else None
    pours = read_pours(path, local, gather)
    span = _weather_span(horizon, pours or ()) if horizon else None
    height_m = site.wind_height_m if site else None
    weather = read_weather(path, height_m, span, local, gather)
    readings = read_readings(path, local, gather)
    profiles = read_own_profiles(path, gather)

    known = (site.known_ids() if site else {}) | {"profile": profiles.known_ids()}
    if pours is not None:
        known["surface"] = surface_ids(pours)
    if site:
        check_site(site, known, gather)
    check_unique(pours or (), gather)
    check_references((*(pours or ()), *readings), known, gather)
    check_pours(pours or (), horizon, local, gather)
    gather.raise_if_any()

    # Had one of them not been read, a problem would have been raised.
    assert site
    assert horizon
    assert pours
    assert weather
    named = {site.head.text("profile"), *(pour.text("profile") for pour in pours)}
    return SiteInput(
        site=site.whole(),
        horizon=horizon,
        pours=tuple(_records(pours)),
        weather=Weather(
            wind_height_m=weather.wind_height_m, hours=tuple(_records(weather.entries))
        ),
        readings=tuple(_records(readings)),
        profiles={name: profiles.get(name) for name in sorted(named) if name},
    )


def _horizon(site: SiteFile, gather: Gatherer) -> Horizon | None:
    starts_at = site.head.values.get("week_starts_at")
    days = site.head.values.get("days", Site.model_fields["days"].get_default())
    if not isinstance(starts_at, datetime) or not isinstance(days, int):
        return None
    try:
        return horizon_of(starts_at, days, site.local)
    except Refused as no:
        found = f"a plan of {days} days that ends at {site.local.words(starts_at)[11:]}"
        gather.add(
            site.head.place("week_start"),
            "[site] week_start",
            found,
            no.wanted,
            no.hint,
        )
        return None


def _weather_span(horizon: Horizon, pours: PourEntries) -> Span:
    """From the hour of the first placing, if that is before the week, to its end."""
    first = min(horizon.starts_at, first_placing(pours) or horizon.starts_at)
    return Span(first.replace(minute=0, second=0, microsecond=0), horizon.ends_at)


def _records(entries: Iterable[Entry[R]]) -> Iterator[R]:
    return (entry.record for entry in entries if entry.record is not None)
