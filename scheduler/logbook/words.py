"""Entries in words, as they are listed and read back to whoever hands one in."""

from collections.abc import Iterator

from models.local_clock import LocalClock
from models.quantities import Units, show, show_share
from models.records import (
    TASK_KINDS,
    ConcreteReading,
    CoversTaken,
    CrewOut,
    Found,
    NewEntry,
    Signed,
    Slipped,
    WaterOut,
    WeatherObserved,
    WorkDone,
    WorkFailed,
    WorkStarted,
)

_PLAIN = {
    "placing_started": "placing started",
    "placing_finished": "placing finished",
    "cancelled": "pour cancelled",
    "takes_cover": "takes a cover",
    "struck": "forms off",
}


def entry_words(entry: NewEntry, clock: LocalClock, units: Units) -> str:
    """Say what happened, without when and by whom: ``P3-top found dry, 180 L``."""
    words = ", ".join(_parts(entry, clock, units))
    return f"{words} ({entry.note})" if entry.note else words


def _parts(entry: NewEntry, clock: LocalClock, units: Units) -> Iterator[str]:
    about, values = entry.about, entry.values
    if entry.kind in _PLAIN:
        yield f"{about}: {_PLAIN[entry.kind]}"
    elif isinstance(values, Slipped):
        yield f"{about}: placing put off to {clock.day_time(values.starts_at)}"
    elif isinstance(values, WorkStarted | WorkDone | WorkFailed):
        yield from _work(about, values, clock, units)
    elif isinstance(values, Found):
        yield f"{about}: found {values.condition}"
        yield from _amounts(values.litres_l, values.area_m2, units)
    elif isinstance(values, WeatherObserved):
        yield from _weather(values, units)
    elif isinstance(values, CrewOut | WaterOut):
        yield f"{about}: out from {clock.day_time(values.starts_at)}"
        ends_at = values.ends_at
        yield f"to {clock.day_time(ends_at)}" if ends_at else "nobody knows how long"
        if isinstance(values, CrewOut) and values.people:
            yield f"{values.people} of its people"
    elif isinstance(values, CoversTaken):
        yield f"{about}: covers taken off for other trades"
        yield from _amounts(None, values.area_m2, units)
        if values.back_at:
            yield f"back {clock.day_time(values.back_at)}"
    elif isinstance(values, ConcreteReading):
        read = show("exact temperature", values.temperature_c, units)
        yield f"{about}: {values.place} {read}"
    elif isinstance(values, Signed):
        yield f"{about}: record signed by {values.name}"
        if values.role:
            yield values.role
    else:
        yield f"entry {entry.corrects} is withdrawn"


def _work(
    about: str,
    values: WorkStarted | WorkDone | WorkFailed,
    clock: LocalClock,
    units: Units,
) -> Iterator[str]:
    doing = TASK_KINDS[values.work].doing
    if isinstance(values, WorkStarted):
        yield f"{about}: {doing} started"
    elif isinstance(values, WorkFailed):
        yield f"{about}: {doing} NOT done"
        if values.why:
            yield values.why
        if values.found:
            yield f"found {values.found}"
    else:
        yield f"{about}: {doing} done"
        if values.started_at:
            yield f"begun {clock.day_time(values.started_at)}"
        if values.found:
            yield f"found {values.found}"
        yield from _amounts(values.litres_l, values.area_m2, units)


def _amounts(
    litres_l: float | None, area_m2: float | None, units: Units
) -> Iterator[str]:
    if litres_l is not None:
        yield show("volume", litres_l, units)
    if area_m2 is not None:
        yield show("area", area_m2, units)


def _weather(values: WeatherObserved, units: Units) -> Iterator[str]:
    shown = [
        ("air", "exact temperature", values.air_temperature_c),
        ("wind", "speed", values.wind_m_s),
        ("rain", "rain", values.rain_mm),
    ]
    yield "weather"
    for name, kind, value in shown:
        if value is not None:
            yield f"{name} {show(kind, value, units)}"
    if values.humidity_fraction is not None:
        yield f"humidity {show_share(values.humidity_fraction)}"
    if values.cloud_fraction is not None:
        yield f"cloud {show_share(values.cloud_fraction)}"
    if values.solar_w_m2 is not None:
        yield f"sun {values.solar_w_m2:.0f} W/m²"
