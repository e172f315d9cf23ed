"""Entries as they are read back to people."""

from datetime import UTC, datetime, timedelta

import pytest

from models.local_clock import LocalClock
from models.records import (
    Cancelled,
    ConcreteReading,
    CoversTaken,
    CrewOut,
    Found,
    Happening,
    NewEntry,
    PlacingFinished,
    PlacingStarted,
    Signed,
    Slipped,
    Struck,
    TakesCover,
    WaterOut,
    WeatherObserved,
    Withdrawn,
    WorkDone,
    WorkFailed,
    WorkStarted,
)
from scheduler.logbook.words import entry_words

AT = datetime(2027, 5, 4, 1, 10, tzinfo=UTC)  # 03:10 on the site's clock
LATER = AT + timedelta(hours=2)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        (PlacingStarted(), "X: placing started"),
        (PlacingFinished(), "X: placing finished"),
        (Slipped(starts_at=AT), "X: placing put off to Tue 4 May 03:10 CEST"),
        (Cancelled(), "X: pour cancelled"),
        (TakesCover(), "X: takes a cover"),
        (Struck(), "X: forms off"),
        (WorkStarted(work="rewet"), "X: re-wetting started"),
        (WorkDone(work="rewet", started_at=AT, found="damp", litres_l=180,
                  area_m2=90),
         "X: re-wetting done, begun Tue 4 May 03:10 CEST, found damp, 180 L, 90 m²"),
        (WorkFailed(work="inspect", why="locked", found="unknown"),
         "X: the inspection NOT done, locked, found unknown"),
        (Found(condition="frozen", litres_l=0), "X: found frozen, 0 L"),
        (WeatherObserved(air_temperature_c=24, wind_m_s=4, rain_mm=0,
                         humidity_fraction=0.55, cloud_fraction=0.2, solar_w_m2=700),
         "weather, air 24.0 °C, wind 4.0 m/s, rain 0.0 mm, humidity 55 %, cloud 20 %, "
         "sun 700 W/m²"),
        (CrewOut(starts_at=AT, ends_at=LATER, people=2),
         "X: out from Tue 4 May 03:10 CEST, to Tue 4 May 05:10 CEST, "
         "2 of its people"),
        (WaterOut(starts_at=AT),
         "X: out from Tue 4 May 03:10 CEST, nobody knows how long"),
        (CoversTaken(back_at=LATER, area_m2=20),
         "X: covers taken off for other trades, 20 m², back Tue 4 May 05:10 CEST"),
        (ConcreteReading(place="core", temperature_c=31.5), "X: core 31.5 °C"),
        (Signed(name="Q. Engineer", role="quality", record_digest="0" * 64,
                record="{}"),
         "X: record signed by Q. Engineer, quality"),
        (Withdrawn(), "entry 3 is withdrawn"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_an_entry_in_words(values: Happening, words: str) -> None:
    entry = NewEntry(about="X", happened_at=AT, by="AK", corrects=3, values=values)
    clock = LocalClock("Europe/Berlin")
    assert entry_words(entry, clock, "si") == words
    noted = entry.model_copy(update={"note": "wind"})
    assert entry_words(noted, clock, "si") == f"{words} (wind)"
