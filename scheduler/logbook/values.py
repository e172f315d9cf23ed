"""From the words of a row to what happened, sort by sort."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

from models.records import (
    Cancelled,
    ConcreteReading,
    CoversTaken,
    CrewOut,
    EntryKind,
    Found,
    Happening,
    LogRow,
    PlacingFinished,
    PlacingStarted,
    Slipped,
    Struck,
    TakesCover,
    TaskKind,
    WaterOut,
    WeatherObserved,
    Withdrawn,
    WorkDone,
    WorkFailed,
    WorkStarted,
)


@dataclass(frozen=True)
class Words:
    """A row with its times read, and the visit that it names.

    Attributes
    ----------
    from_at, to_at : datetime or None
        None where the row says nothing.
    visit : mapping
        Fields of a work entry that name the visit.
    """

    row: LogRow
    from_at: datetime | None
    to_at: datetime | None
    work: TaskKind | None
    visit: Mapping[str, str | int | None]


def happening(words: Words) -> Happening:
    """Give what happened; all that the row needs has been found in it."""
    kind: EntryKind = words.row.what
    return _MAKERS[kind](words)


def _work_done(words: Words) -> Happening:
    row = words.row
    return WorkDone.model_validate(
        {
            **words.visit, "work": words.work, "started_at": words.from_at,
            "found": row.found, "litres_l": row.litres_l, "area_m2": row.area_m2,
        }
    )  # fmt: skip


def _work_failed(words: Words) -> Happening:
    row = words.row
    return WorkFailed.model_validate(
        {**words.visit, "work": words.work, "why": row.why, "found": row.found}
    )


def _found(words: Words) -> Happening:
    row = words.row
    return Found.model_validate(
        {"condition": row.found, "litres_l": row.litres_l, "area_m2": row.area_m2}
    )


def _weather(words: Words) -> Happening:
    row = words.row
    return WeatherObserved(
        air_temperature_c=row.temperature_c, humidity_fraction=row.humidity_fraction,
        wind_m_s=row.wind_m_s, solar_w_m2=row.solar_w_m2,
        cloud_fraction=row.cloud_fraction, rain_mm=row.rain_mm,
    )  # fmt: skip


def _reading(words: Words) -> Happening:
    row = words.row
    return ConcreteReading.model_validate(
        {"place": row.place, "temperature_c": row.temperature_c}
    )


_MAKERS: Mapping[EntryKind, Callable[[Words], Happening]] = {
    "placing_started": lambda _: PlacingStarted(),
    "placing_finished": lambda _: PlacingFinished(),
    "slipped": lambda words: Slipped.model_validate({"starts_at": words.to_at}),
    "cancelled": lambda _: Cancelled(),
    "takes_cover": lambda _: TakesCover(),
    "struck": lambda _: Struck(),
    "work_started": lambda words: WorkStarted.model_validate(
        {**words.visit, "work": words.work}
    ),
    "work_done": _work_done,
    "work_failed": _work_failed,
    "found": _found,
    "weather_observed": _weather,
    "crew_out": lambda words: CrewOut.model_validate(
        {"starts_at": words.from_at, "ends_at": words.to_at, "people": words.row.people}
    ),
    "water_out": lambda words: WaterOut.model_validate(
        {"starts_at": words.from_at, "ends_at": words.to_at}
    ),
    "covers_taken": lambda words: CoversTaken(
        back_at=words.to_at, area_m2=words.row.area_m2
    ),
    "reading": _reading,
    "withdrawn": lambda _: Withdrawn(),
}
