"""A site from what of a folder could be read, so that the rest is checked as well.

One bad cell must not hide that a method suits no wall. What cannot be trusted is
replaced by a stand-in that refuses nothing: a gang with every skill, water without end,
mild weather. Such a site is never planned; ``stand_ins`` says what it cannot be asked.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any, Literal, get_args

from pydantic import ValidationError

from models.files.inputs.hose_reach import with_reached
from models.files.inputs.pairs import all_in_pairs
from models.files.inputs.site_profiles import SiteProfiles
from models.files.inputs.site_toml import SiteFile
from models.files.inputs.weather_hours import HOUR, WeatherHours
from models.files.reading.problems import ProblemCollector
from models.files.reading.record_reader import RawEntry
from models.files.reading.site_tables import LISTED
from models.records import (
    Crew,
    Horizon,
    Mix,
    Places,
    Pour,
    Profile,
    Reading,
    ShiftPattern,
    Site,
    SiteInput,
    WaterPoint,
    Weather,
    WeatherHour,
    Zone,
)
from models.records.crew import Skill, Weekday

#: Parts of a site that may be stand-ins.
Part = Literal["head", "crews", "water", "mixes", "profiles", "weather", "readings"]

_ID = "stand-in"
_PROFILE = Profile(id=_ID, title="", edition="", maturity="arrhenius")
#: Of a pour whose area or thickness cannot be read; no method asks for either.
_POUR = {"area_m2": 100.0, "thickness_mm": 200.0, "zone_id": _ID, "mix_id": _ID}


@dataclass(frozen=True)
class ReadParts:
    """What could be read of each file, and the problems so far."""

    site: SiteFile | None
    horizon: Horizon | None
    pours: tuple[RawEntry[Pour], ...]
    weather: WeatherHours | None
    readings: tuple[RawEntry[Reading], ...]
    profiles: SiteProfiles
    problems: ProblemCollector

    def sound(self, entry: RawEntry[Any]) -> bool:
        """Whether an entry was read and no value in it has a problem."""
        inner = (each for found in entry.inner.values() for each in found)
        places = map(entry.place, ("", *entry.table.keys))
        bad = entry.record is None or any(map(self.problems.at, places))
        return not bad and all(map(self.sound, inner))


def site_of(
    parts: ReadParts, places: Places
) -> tuple[SiteInput | None, frozenset[Part]]:
    """Give the site, and which parts of it are stand-ins; none if no pour was read."""
    pours = tuple(_pours(parts))
    if not pours:
        return None, frozenset()
    stand_ins: set[Part] = set()
    horizon = parts.horizon or _horizon(pours)
    site = _site(parts, pours, horizon, stand_ins)
    names = {site.profile, *(pour.profile or site.profile for pour in pours)}
    profiles = {name: _profile(parts.profiles, name) for name in sorted(names)}
    if any(profile is _PROFILE for profile in profiles.values()):
        stand_ins.add("profiles")
    weather = _sound_weather(parts)
    if weather is None:
        stand_ins.add("weather")
        weather = _mild(pours, horizon)
    if not all(map(parts.sound, parts.readings)):
        stand_ins.add("readings")
    readings = () if "readings" in stand_ins else tuple(_records(parts.readings))
    read = SiteInput(
        site=site, horizon=horizon, pours=pours, weather=weather, readings=readings,
        profiles=profiles, places=places,
    )  # fmt: skip
    return read, frozenset(stand_ins)


def _pours(parts: ReadParts) -> Iterator[Pour]:
    """Give each pour that can be judged, with its reported times only if they fit."""
    seen: set[str] = set()
    for entry in parts.pours:
        pour = entry.record or _guessed(entry)
        if pour is None or pour.id in seen:
            continue
        seen.add(pour.id)
        if parts.sound(entry):
            yield pour
        else:
            yield pour.model_copy(update={"covered_at": None, "wetted_at": None})


def _guessed(entry: RawEntry[Pour]) -> Pour | None:
    reported = ("covered_at", "wetted_at")
    values = {k: v for k, v in entry.values.items() if k not in reported}
    try:
        return Pour.model_validate(_POUR | values)
    except ValidationError:
        return None


def _site(
    parts: ReadParts, pours: tuple[Pour, ...], horizon: Horizon, stand_ins: set[Part]
) -> Site:
    head: dict[str, Any] = {}
    lists: dict[str, tuple[Any, ...]] = {inner.field: () for inner in LISTED}
    if parts.site:
        values = parts.site.head.values
        head = {k: v for k, v in values.items() if k in Site.model_fields}
        head["timezone"] = parts.site.local.timezone  # UTC where the name is none
        for inner in LISTED:
            entries = parts.site.entries[inner.key]
            lists[inner.field] = tuple(_records(filter(parts.sound, entries)))
        single = {f: entry.record for f, entry in parts.site.singles.items()}
        head |= {f: record for f, record in single.items() if record is not None}
        head["rates"] = dict(parts.site.rates.figures)
    if parts.site is None or not parts.horizon or not _head_sound(parts, parts.site):
        stand_ins.add("head")
    if not _all_sound(parts, "shift", "crew"):
        stand_ins.add("crews")
        lists["shifts"], lists["crews"] = (_SHIFT,), (_CREW,)
    if not _all_sound(parts, "zone", "water"):
        stand_ins.add("water")
        lists["water_points"] = (_WATER,)
        named = {crew.home_zone for crew in lists["crews"]}
        named |= {pour.zone_id for pour in pours}
        lists["zones"] = tuple(_zone(name) for name in sorted(named))
    known_zones = {zone.id for zone in lists["zones"]}
    strange = sorted({pour.zone_id for pour in pours} - known_zones)
    lists["zones"] = (
        *(with_reached(zone, lists["water_points"]) for zone in lists["zones"]),
        *(_zone(name, lists["water_points"][0].id) for name in strange),
    )
    lists["crews"] = all_in_pairs(lists["crews"], lists["shifts"])
    known_mixes = {mix.id for mix in lists["mixes"]}
    strange = sorted({pour.mix_id for pour in pours} - known_mixes)
    if strange:
        stand_ins.add("mixes")
    lists["mixes"] = (*lists["mixes"], *(_mix(name) for name in strange))
    defaults = {
        "name": "", "timezone": "UTC", "latitude_deg": 0.0, "longitude_deg": 0.0,
        "profile": _ID, "week_starts_at": horizon.starts_at,
    }  # fmt: skip
    return Site.model_validate(defaults | head | lists)


def _head_sound(parts: ReadParts, site: SiteFile) -> bool:
    """Whether all values of ``[site]`` are there; it has no record of its own."""
    head = site.head
    given = {column.field for column in head.table.readings if column.required}
    places = map(head.place, ("", *head.table.keys))
    return given <= head.values.keys() and not any(map(parts.problems.at, places))


def _all_sound(parts: ReadParts, *tables: str) -> bool:
    """Whether all entries of some tables of ``site.toml`` are there and sound."""
    if parts.site is None:
        return False
    found = [parts.site.entries[table] for table in tables]
    return all(found) and all(parts.sound(entry) for of in found for entry in of)


def _horizon(pours: tuple[Pour, ...]) -> Horizon:
    """Take a week from the first pour on where the folder gives none."""
    first = min(pour.placing_starts_at for pour in pours)
    starts_at = first.replace(minute=0, second=0, microsecond=0)
    return Horizon(starts_at=starts_at, ends_at=starts_at + timedelta(days=7))


def _profile(profiles: SiteProfiles, name: str) -> Profile:
    known = name in profiles.known_ids() and name not in profiles.unread
    return profiles.get(name) if known else _PROFILE


def _sound_weather(parts: ReadParts) -> Weather | None:
    weather = parts.weather
    if weather is None or weather.late or not parts.horizon:
        return None
    return None if parts.problems.about(weather.file) else weather.record()


def _mild(pours: tuple[Pour, ...], horizon: Horizon) -> Weather:
    """Lay mild, damp, still hours over all placings and the week."""
    first = min((horizon.starts_at, *(pour.placing_starts_at for pour in pours)))
    at = first.replace(minute=0, second=0, microsecond=0)
    hours = []
    while at < horizon.ends_at + HOUR:
        hours.append(_mild_hour(at))
        at += HOUR
    return Weather(hours=tuple(hours))


def _mild_hour(at: datetime) -> WeatherHour:
    return WeatherHour(at=at, air_temperature_c=18, humidity_fraction=0.7, wind_m_s=1)


def _records(entries: Iterable[RawEntry[Any]]) -> Iterator[Any]:
    return (entry.record for entry in entries if entry.record is not None)


_SHIFT = ShiftPattern(
    id=_ID, days=get_args(Weekday), starts=time(0), ends=time(0)
)  # fmt: skip
_CREW = Crew(
    id=_ID, name="", people=50, skills=get_args(Skill), home_zone=_ID, shifts=(_ID,)
)  # fmt: skip
_WATER = WaterPoint(id=_ID, name="", kind="mains", flow_l_min=2000)


def _zone(name: str, point_id: str = _ID) -> Zone:
    return Zone(id=name, name=name, x_m=0, y_m=0, water_points=(point_id,))


def _mix(name: str) -> Mix:
    return Mix(id=name, strength_mpa=30, cement_kg_m3=340)
