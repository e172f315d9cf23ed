"""What was written down stands in the place of what the folder planned."""

from datetime import timedelta

from models.records import (
    Cancelled,
    ConcreteReading,
    CoversTaken,
    CrewOut,
    Delivery,
    Happening,
    Party,
    PlacingFinished,
    PlacingStarted,
    SiteInput,
    Slipped,
    Struck,
    TakesCover,
    WaterOut,
    WeatherObserved,
)
from scheduler.happened.facts import taken_up
from scheduler.methods.surfaces import surfaces_of
from tests.builders import pour, site_input
from tests.scheduler.happened.happened_builders import at, entry

HOUR = timedelta(hours=1)


def given() -> SiteInput:
    """A slab, and a wall that is struck on the next day."""
    return site_input(
        pour("P1", placing_starts_at=at(2), placing_ends_at=at(5)),
        pour(
            "P2", element="wall", placing_starts_at=at(3), placing_ends_at=at(6),
            formed_area_m2=60, formed_method="plastic_sheet", strike_at=at(24),
        ),
    )  # fmt: skip


def after(*happened: tuple[str, float, Happening]) -> SiteInput:
    entries = [entry(n, *one) for n, one in enumerate(happened, start=1)]
    return taken_up(given(), entries)


def times(now: SiteInput, number: int) -> tuple[float, float]:
    """Start and end of placing, in hours."""
    one = now.pours[number]
    return (one.placing_starts_at - at(0)) / HOUR, (one.placing_ends_at - at(0)) / HOUR


def test_nothing_written_changes_nothing() -> None:
    assert after() == given()


def test_a_slip_moves_start_and_end_and_leaves_other_pours() -> None:
    now = after(("P1", 1, Slipped(starts_at=at(5))))
    assert times(now, 0) == (5, 8)
    assert times(now, 1) == (3, 6)


def test_what_started_late_ends_late_until_its_end_is_written() -> None:
    started = ("P1", 2.5, PlacingStarted())
    assert times(after(started), 0) == (2.5, 5.5)
    finished = ("P1", 6.25, PlacingFinished())
    assert times(after(started, finished), 0) == (2.5, 6.25)


def test_the_later_entry_about_a_pour_counts() -> None:
    slips = [
        ("P1", hour, Slipped(starts_at=at(start))) for hour, start in ((1, 5), (2, 4))
    ]
    assert times(after(*slips), 0) == (4, 7)


def test_forms_come_off_on_the_day_planned_unless_the_concrete_is_younger() -> None:
    short = after(("P2", 1, Slipped(starts_at=at(5))))
    assert short.pours[1].strike_at == at(24)
    long = after(("P2", 1, Slipped(starts_at=at(23))))  # ends at 26, as old as before
    assert long.pours[1].strike_at == at(26 + (24 - 6))


def test_a_struck_face_is_exposed_when_it_was() -> None:
    now = after(("P2-faces", 22, Struck()))
    faces = next(s for s in surfaces_of(now) if s.id == "P2-faces")
    assert faces.exposed_at == at(22)


def test_a_cancelled_pour_is_gone_but_never_the_last_one() -> None:
    assert [p.id for p in after(("P1", 1, Cancelled())).pours] == ["P2"]
    both = after(("P1", 1, Cancelled()), ("P2", 1, Cancelled()))
    assert [p.id for p in both.pours] == ["P2"]


def test_what_was_measured_takes_the_place_of_the_forecast_value_by_value() -> None:
    now = after(("", 2.5, WeatherObserved(air_temperature_c=31, wind_m_s=9)))
    changed = [
        (was, hour)
        for was, hour in zip(given().weather.hours, now.weather.hours, strict=True)
        if was != hour
    ]
    ((was, hour),) = changed
    assert hour.at <= at(2.5) < hour.at + HOUR
    assert (hour.air_temperature_c, hour.wind_m_s) == (31, 9)
    assert hour.humidity_fraction == was.humidity_fraction


def test_a_reading_joins_those_of_the_folder() -> None:
    now = after(("P1-top", 9, ConcreteReading(place="core", temperature_c=41)))
    (reading,) = now.readings
    assert (reading.surface_id, reading.at, reading.temperature_c) == (
        "P1-top",
        at(9),
        41,
    )


def test_what_was_seen_of_a_surface_reaches_it() -> None:
    now = after(
        ("P1-top", 7, TakesCover()), ("P1-top", 20, CoversTaken(back_at=at(22)))
    )
    top = next(s for s in surfaces_of(now) if s.id == "P1-top")
    assert top.took_cover_at == at(7)
    (away,) = top.loss_factors
    assert (away.starts_at, away.ends_at) == (at(20), at(22))


def test_a_closed_point_lets_its_deliveries_come_after() -> None:
    base = given()
    tank = base.site.water_points[1].model_copy(
        update={
            "deliveries": (
                Delivery(at=at(4), litres_l=100), Delivery(at=at(9), litres_l=200),
            )
        }
    )  # fmt: skip
    points = (base.site.water_points[0], tank)
    base = base.model_copy(
        update={"site": base.site.model_copy(update={"water_points": points})}
    )
    out = WaterOut(starts_at=at(3), ends_at=at(7))
    now = taken_up(base, [entry(1, tank.id, 3, out)]).site.water_points[1]
    assert [(load.at, load.litres_l) for load in now.deliveries] == [
        (at(7), 100), (at(9), 200),
    ]  # fmt: skip
    assert [(o.starts_at, o.ends_at) for o in now.outages] == [(at(3), at(7))]
    for_good = WaterOut(starts_at=at(5))
    left = taken_up(base, [entry(1, tank.id, 3, for_good)]).site.water_points[1]
    assert [load.at for load in left.deliveries] == [at(4)]


def test_people_who_are_not_there_are_counted_on_by_nobody() -> None:
    base = given()
    red, owl = base.site.crews
    pairs = tuple(Party(id=f"red {n}", name=f"pair {n}", people=2) for n in (1, 2, 3))
    site = base.site.model_copy(
        update={"crews": (red.model_copy(update={"parties": pairs}), owl)}
    )
    base = base.model_copy(update={"site": site})

    def busy(people: int | None, about: str = "red") -> list[int]:
        out = CrewOut(starts_at=at(5), ends_at=at(9), people=people)
        crew = taken_up(base, [entry(1, about, 5, out)]).site.crews[0]
        return [len(crew.busy), *(len(party.busy) for party in crew.parties)]

    assert busy(None) == [1, 0, 0, 0]  # all of it
    assert busy(1) == [0, 0, 0, 1]  # a pair short of one is no pair
    assert busy(3) == [0, 0, 1, 1]
    assert busy(None, "red 1") == [0, 1, 0, 0]
    assert busy(2, owl.id) == [0, 0, 0, 0]
