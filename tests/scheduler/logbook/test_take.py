"""What becomes an entry, what is refused, and in which words."""

from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import UUID

import pytest

from models.ledger.sqlite_store import open_sqlite
from models.records import (
    Cancelled,
    ConcreteReading,
    CoversTaken,
    CrewOut,
    Found,
    Happening,
    PlacingStarted,
    Slipped,
    WaterOut,
    WeatherObserved,
    Withdrawn,
    WorkDone,
    WorkFailed,
    WorkStarted,
)
from tests.models.ledger.ledger_builders import issue
from tests.scheduler.logbook.logbook_builders import (
    NOW,
    handed_in,
    known,
    ledger,
    refused,
)


def utc(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 5, day, hour, minute, tzinfo=UTC)


# Local clocks are two hours ahead of UTC; now is Tuesday 16:00, 14:00 UTC.
@pytest.mark.parametrize(
    ("row", "about", "happened_at", "values"),
    [
        ({"what": "placing-started", "about": "P1", "at": "Mon 07:10"},
         "P1", utc(3, 5, 10), PlacingStarted()),
        ({"what": "found", "about": "P1-top", "found": "dry", "at": "03:10",
          "litres": "180"},
         "P1-top", utc(4, 1, 10), Found(condition="dry", litres_l=180)),
        ({"what": "Found", "about": "P1-top", "found": "WET"},
         "P1-top", NOW, Found(condition="wet")),
        ({"what": "slipped", "about": "P4", "to": "Wed 10:00"},
         "P4", NOW, Slipped(starts_at=utc(5, 8))),
        ({"what": "cancelled", "about": "P4"}, "P4", NOW, Cancelled()),
        ({"what": "work-done", "about": "P1-top", "work": "rewet", "at": "13:00",
          "from": "12:40", "found": "damp", "area": "100"},
         "P1-top", utc(4, 11), WorkDone(work="rewet", started_at=utc(4, 10, 40),
                                        found="damp", area_m2=100)),
        ({"what": "work_failed", "about": "P1-top", "work": "rewet",
          "why": "no water"},
         "P1-top", NOW, WorkFailed(work="rewet", why="no water")),
        ({"what": "work-started", "about": "P1-top", "work": "inspect"},
         "P1-top", NOW, WorkStarted(work="inspect")),
        ({"what": "crew-out", "about": "red", "from": "Fri 07:00",
          "to": "Fri 17:00", "people": "2"},
         "red", NOW, CrewOut(starts_at=utc(7, 5), ends_at=utc(7, 15), people=2)),
        ({"what": "water-out", "about": "tank", "from": "10:00", "to": "20:00"},
         "tank", NOW, WaterOut(starts_at=utc(4, 8), ends_at=utc(4, 18))),
        ({"what": "covers-taken", "about": "P1-top", "at": "09:00", "to": "11:30"},
         "P1-top", utc(4, 7), CoversTaken(back_at=utc(4, 9, 30))),
        ({"what": "reading", "about": "P1-top", "place": "core",
          "temperature": "30"},
         "P1-top", NOW, ConcreteReading(place="core", temperature_c=30)),
        ({"what": "weather-observed", "temperature": "24", "humidity": "55"},
         "", NOW, WeatherObserved(air_temperature_c=24, humidity_fraction=0.55)),
    ],
    ids=lambda value: value["what"] if isinstance(value, dict) else "",
)  # fmt: skip
def test_words_become_an_entry(
    row: dict[str, object], about: str, happened_at: datetime, values: Happening
) -> None:
    (entry,), problems = handed_in(known(), row)
    assert problems == ()
    assert (entry.about, entry.happened_at, entry.by) == (about, happened_at, "AK")
    assert entry.values == values


def test_amounts_may_carry_their_unit() -> None:
    row = {"what": "found", "about": "P1-top", "found": "dry", "litres": "40 US gal"}
    (entry,), _ = handed_in(known(), row)
    # 40 gallons of 3.785411784 L each (NIST SP 811, appendix B)
    assert isinstance(entry.values, Found)
    assert entry.values.litres_l == pytest.approx(151.416, abs=0.001)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"what": "fond", "about": "P1-top"}, "Did you mean 'found'?"),
        ({"what": "found", "about": "P1-tpo", "found": "dry"},
         "about: found 'P1-tpo'; expected a surface of the site, one of: P1-top, "
         "P4-top, P4-faces. Did you mean 'P1-top'?"),
        ({"what": "placing-started", "about": "P1-top"},
         "expected a pour of the site, one of: P1, P4"),
        ({"what": "crew-out", "about": "rad", "from": "10:00"},
         "expected a crew of the site, one of: red, owl. Did you mean 'red'?"),
        ({"what": "water-out", "about": "tnk", "from": "10:00"},
         "expected a water point of the site, one of: tap, tank"),
        ({"what": "found", "about": "P1-top"},
         "found: missing; expected the condition found, one of: wet, damp"),
        ({"what": "found", "about": "P1-top", "found": "dri"}, "Did you mean 'dry'?"),
        ({"what": "found", "about": "P1-top", "found": "dry", "by": ""},
         "by: missing; expected initials of who says so"),
        ({"what": "slipped", "about": "P4"}, "to: missing; expected when it is to be"),
        ({"what": "struck", "about": "P1-top", "litres": "20"},
         "litres: found 20; expected nothing: struck takes no more"),
        ({"what": "weather-observed", "about": "P1", "wind": "3"},
         "about: found 'P1'; expected nothing: weather-observed is about the site"),
        ({"what": "weather-observed"}, "missing; expected a measured value, one of"),
        ({"what": "work-done", "about": "P1-top"},
         "work: missing; expected what work it was, such as rewet"),
        ({"what": "withdrawn"}, "correct: missing; expected the number of the entry"),
        ({"what": "found", "about": "P1-top", "found": "dry", "correct": "3"},
         "correct: found 3; expected no entry yet"),
        ({"what": "reading", "about": "P1-top", "place": "core", "temperature": "-30"},
         "temperature: found -30 °C; expected a temperature from -20 to 100 °C"),
        ({"what": "work-done", "visit": "P1-top/rewet/1"},
         "visit: found 'P1-top/rewet/1'; expected a published roster"),
    ],
)  # fmt: skip
def test_words_that_do_not_fit_are_refused(row: dict[str, object], words: str) -> None:
    assert words in refused(known(), row)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"what": "found", "about": "P1-top", "found": "dry",
          "at": "2027-05-04 16:01"},
         "at: found Tue 4 May 16:01 CEST; expected a time up to now, "
         "Tue 4 May 16:00 CEST"),
        ({"what": "found", "about": "P1-top", "found": "dry", "at": "Mon 06:59"},
         "at: found Mon 3 May 06:59 CEST; expected a time from Mon 3 May 07:00 CEST "
         "on, after placing began. If it began sooner, say so first: "
         "placing-started P1"),
        ({"what": "weather-observed", "wind": "3", "at": "2027-04-03 10:00"},
         "expected a time after Sat 3 Apr 16:00 CEST. Is the date right?"),
        ({"what": "crew-out", "about": "red", "from": "2027-07-01 07:00"},
         "from: found Thu 1 Jul 07:00 CEST; expected a time within 31 days of now"),
        ({"what": "crew-out", "about": "red", "from": "10:00", "people": "5"},
         "people: found 5; expected at most 4, as many as red has"),
        ({"what": "water-out", "about": "tap", "from": "2027-05-04 10:00",
          "to": "2027-05-04 09:00"},
         "to: found Tue 4 May 09:00 CEST; expected a time after Tue 4 May 10:00 CEST"),
        ({"what": "crew-out", "about": "red", "from": "Fri 07:00", "to": "Fri 06:00"},
         "to: found 'Fri 06:00'; expected a time soon after Fri 7 May 07:00 CEST"),
        # 300 m² of the pour, 200 L/m² at the most
        ({"what": "found", "about": "P1-top", "found": "dry", "litres": "60001"},
         "litres: found 60,001 L; expected at most 60,000 L"),
        ({"what": "found", "about": "P1-top", "found": "dry", "area": "331"},
         "area: found 331 m²; expected at most 300 m², the whole of it"),
        ({"what": "soon"}, "what: found 'soon'"),
    ],
)  # fmt: skip
def test_what_cannot_be_true_is_refused(row: dict[str, object], words: str) -> None:
    assert words in refused(known(), row)


def test_a_check_before_the_pour_is_no_entry_before_the_pour() -> None:
    row = {"what": "work-done", "about": "P4-top", "work": "hold_point"}
    (entry,), problems = handed_in(known(), row)
    assert (entry.kind, problems) == ("work_done", ())
    # Wednesday 07:00 less three days is Sunday 07:00.
    assert len(handed_in(known(), row | {"at": "Sun 07:00"})[0]) == 1
    assert "after placing began" in refused(known(), row | {"at": "Sun 06:59"})
    assert "after placing began" in refused(known(), row | {"work": "rewet"})


def test_what_is_reported_of_a_pour_counts_before_what_was_planned() -> None:
    early = {"what": "placing-started", "about": "P4", "at": "Tue 13:00"}
    sheen = {"what": "takes-cover", "about": "P4-top", "at": "Tue 15:30"}
    assert "say so first: placing-started P4" in refused(known(), sheen)
    entries, problems = handed_in(known(), sheen, early)
    assert ([one.kind for one in entries], problems) == (
        ["takes_cover", "placing_started"], (),
    )  # fmt: skip


def test_a_pour_that_has_begun_neither_slips_nor_is_cancelled() -> None:
    begun = {"what": "placing-started", "about": "P1", "at": "Mon 07:10"}
    for row in ({"what": "slipped", "to": "Wed 10:00"}, {"what": "cancelled"}):
        _, problems = handed_in(known(), begun, row | {"about": "P1"})
        assert ["of a pour that has begun" in str(one) for one in problems] == [True]


def test_all_that_is_wrong_is_told_at_once() -> None:
    rows = (
        {"what": "found", "about": "P9-top", "found": "dri", "at": "3:70"},
        {"what": "crew-out", "about": "red", "from": "10:00", "people": "many"},
        {"what": "struck", "about": "P4-faces"},
    )
    _, problems = handed_in(known(), *rows)
    assert [(one.place.line, one.field) for one in problems] == [
        (1, "found"), (1, "about"), (1, "at"), (2, "people"), (3, "at"),
    ]  # fmt: skip


def test_a_visit_of_an_issue_brings_surface_work_and_identity(tmp_path: Path) -> None:
    with ledger(tmp_path) as store:
        about = known(store)
        name = next(key for key in about.visits(1) if key.startswith("P1-top/rewet"))
        row = {"what": "work-done", "visit": name, "litres": "200"}
        # The first re-wetting is planned for Monday 23:50; "23:40" is near that.
        (entry,), problems = handed_in(about, row | {"at": "23:40"})
        assert problems == ()
        assert entry.happened_at == utc(3, 21, 40)
        assert entry.about == "P1-top"
        assert entry.values == WorkDone(
            work="rewet", task_id="P1-top/rewet", visit_id=name, issue_number=1,
            identity_id=str(UUID(int=1)), litres_l=200,
        )  # fmt: skip
        assert "Did you mean" in refused(about, row | {"visit": f"{name}0"})
        wrong = refused(about, row | {"work": "inspect", "about": "P2-top"})
        assert "about: found 'P2-top'; expected P1-top, as the visit is there" in wrong
        assert "work: found 'inspect'; expected rewet, as the visit is" in wrong


def test_surfaces_that_only_an_issue_still_knows_may_be_written_about(
    tmp_path: Path,
) -> None:
    with ledger(tmp_path) as store:
        (entry,), problems = handed_in(
            known(store), {"what": "found", "about": "P2-top", "found": "dry"}
        )
    assert (entry.about, problems) == ("P2-top", ())


# Twelve hours before Tuesday 16:00 is 04:00.
@pytest.mark.parametrize(
    ("at", "published", "late"),
    [
        ("04:00", "Sun", False),
        ("03:59", "Sun", True),
        ("15:00", "Sun", False),
        ("15:00", "15:30", True),
        ("15:30", "15:30", False),
    ],
)
def test_what_was_written_late_is_marked(
    tmp_path: Path, at: str, published: str, late: bool
) -> None:
    times = {"Sun": utc(2, 12), "15:30": utc(4, 13, 30)}
    with ledger(tmp_path, times[published]) as store:
        row = {"what": "found", "about": "P1-top", "found": "dry", "at": at}
        (entry,), _ = handed_in(known(store), row)
    assert entry.late is late


def test_corrections_point_at_what_they_correct(tmp_path: Path) -> None:
    found = {"what": "found", "about": "P1-top", "found": "dry", "at": "15:00"}
    with ledger(tmp_path) as store:
        store.append(handed_in(known(store), found)[0], NOW)
        (right,), problems = handed_in(
            known(store), found | {"found": "wet", "correct": "1"}
        )
        assert (right.corrects, right.values, problems) == (
            1, Found(condition="wet"), (),
        )  # fmt: skip
        store.append([right], NOW)
        words = refused(known(store), found | {"found": "damp", "correct": "1"})
        assert (
            "found 1, which is corrected already; expected the newer entry 2" in words
        )
        assert "expected the number of an entry, 1 to 2" in refused(
            known(store), found | {"correct": "9"}
        )
        (gone,), _ = handed_in(known(store), {"what": "withdrawn", "correct": "2"})
        assert (gone.about, gone.values) == ("P1-top", Withdrawn())


def test_of_many_corrections_the_one_that_counts_is_named(tmp_path: Path) -> None:
    found = {"what": "found", "about": "P1-top", "found": "dry"}
    rows = (found | {"at": "15:00"}, found | {"at": "15:10"})
    with ledger(tmp_path) as store:
        store.append(handed_in(known(store), *rows)[0], NOW)
        for number in ("1", "2"):
            right = found | {"at": "15:20", "found": "wet", "correct": number}
            store.append(handed_in(known(store), right)[0], NOW)
        assert "expected the newer entry 3" in refused(
            known(store), found | {"found": "damp", "correct": "1"}
        )


def test_a_roster_of_an_older_version_is_not_asked_for_visits(tmp_path: Path) -> None:
    with open_sqlite(tmp_path / "ledger.sqlite") as store:
        store.publish(issue(1, roster='{"schema_id": "keepdamp/roster/1"}'))
        row = {"what": "work-done", "visit": "P1-top/rewet/1"}
        assert "expected a visit of issue 1" in refused(known(store), row)
        found = {"what": "found", "about": "P1-top", "found": "dry"}
        assert len(handed_in(known(store), found)[0]) == 1


def test_the_newest_word_on_when_a_pour_starts_counts_for_it_alone() -> None:
    sheen = {"what": "takes-cover", "about": "P4-top"}
    slips = [
        {"what": "slipped", "about": "P4", "to": to, "at": at}
        for to, at in (("Thu 10:00", "09:00"), ("Wed 10:00", "10:00"))
    ]
    begun = {"what": "placing-started", "about": "P1", "at": "Mon 07:10"}
    _, problems = handed_in(known(), begun, *slips, sheen)
    assert ["from Wed 5 May 10:00 CEST on" in str(one) for one in problems] == [True]


@pytest.mark.parametrize(
    ("what", "degrees", "sound"),
    [("reading", "-20", True), ("reading", "100", True), ("reading", "-21", False),
     ("weather-observed", "-40", True), ("weather-observed", "60", True),
     ("weather-observed", "61", False)],
)  # fmt: skip
def test_temperatures_are_those_that_concrete_and_air_may_have(
    what: str, degrees: str, sound: bool
) -> None:
    row = {"what": what, "temperature": degrees}
    if what == "reading":
        row |= {"about": "P1-top", "place": "core"}
    assert len(handed_in(known(), row)[0]) == sound


def test_what_happens_once_is_written_once_and_can_be_put_right(
    tmp_path: Path,
) -> None:
    begun = {"what": "placing-started", "about": "P1", "at": "Mon 07:10"}
    with ledger(tmp_path) as store:
        store.append(handed_in(known(store), begun)[0], NOW)
        again = begun | {"at": "Mon 07:20"}
        assert "a second time; expected entry 1 alone" in refused(known(store), again)
        (entry,), problems = handed_in(known(store), again | {"correct": "1"})
        assert (entry.happened_at, problems) == (utc(3, 5, 20), ())


def test_the_same_row_handed_in_again_is_not_written_again(tmp_path: Path) -> None:
    rows = (
        {"what": "found", "about": "P1-top", "found": "dry", "at": "15:00"},
        {"what": "placing-started", "about": "P1", "at": "Mon 07:10"},
    )
    with ledger(tmp_path) as store:
        first, _ = handed_in(known(store), *rows)
        store.append(first, NOW)
        later = NOW + timedelta(hours=1)
        more = {"what": "found", "about": "P1-top", "found": "wet", "at": "16:30"}
        entries, problems = handed_in(known(store), *rows, more, now=later)
    assert problems == ()
    assert [one.values for one in entries] == [Found(condition="wet")]
