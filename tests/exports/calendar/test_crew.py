"""The calendar of a crew."""

import os
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from exports.calendar import FeedRange, crew_calendar
from exports.calendar.identity import uid
from exports.entries import entries
from exports.entry import Entry
from exports.handed import Handed, draft
from exports.text import one_line, visible_signs
from models.records import AuditReport, Roster
from tests.builders import MONDAY
from tests.exports.calendar.ic_checker import faults
from tests.exports.calendar.peers import Read, with_ics, with_vobject
from tests.exports.exports_builders import (
    DRAFT,
    breach_finding,
    frosty_report,
    small_report,
    small_roster,
    small_site,
)

SITE = small_site()


def words(starts_at: datetime = MONDAY) -> tuple[Entry, ...]:
    return entries(SITE, small_roster(starts_at), small_report(starts_at))


def calendar(crew_id: str, starts_at: datetime = MONDAY) -> bytes:
    roster = small_roster(starts_at)
    return crew_calendar(SITE, roster, words(starts_at), crew_id, draft(roster))


@pytest.mark.parametrize("crew_id", ["red", "owl"])
def test_the_checker_finds_nothing(crew_id: str) -> None:
    assert faults(calendar(crew_id)) == []


@pytest.mark.parametrize("read", [with_ics, with_vobject])
def test_both_parsers_read_the_instants_of_the_roster(
    read: Callable[[bytes], Read],
) -> None:
    found = read(calendar("owl"))
    expected = {
        uid("Heron Wharf", "visit", visit.id): (visit.starts_at, visit.ends_at)
        for visit in small_roster().visits
        if visit.crew_id == "owl"
    }
    assert {key: value[:2] for key, value in found.items()} == expected


def test_both_parsers_read_the_same_texts() -> None:
    data = calendar("red")
    assert with_ics(data) == with_vobject(data)


def test_instants_hold_on_the_night_of_a_clock_change() -> None:
    # the night pair's rewet of the slab: 02:50 CEST to 02:20 CET
    starts_at = datetime(2027, 10, 31, 0, 50, tzinfo=UTC) - timedelta(minutes=1070)
    identity = uid("Heron Wharf", "visit", "P1-top/rewet/1")
    for read in (with_ics, with_vobject):
        begin, end, _, text = read(calendar("owl", starts_at))[identity]
        assert begin == datetime(2027, 10, 31, 0, 50, tzinfo=UTC)
        assert end == datetime(2027, 10, 31, 1, 20, tzinfo=UTC)
        assert "WHEN Sun 31 Oct 02:50 CEST to 02:20 CET, 30 min" in text
        assert "CLOCK CHANGE during this round: CEST, then CET" in text


def test_text_of_a_visit() -> None:
    identity = uid("Heron Wharf", "visit", "P1-top/rewet/1")
    _, _, title, text = with_vobject(calendar("owl"))[identity]
    assert title == "RE-WET B2 quay slab 300 m² · start by 05:30 CEST"  # home at 06:00
    assert text.split("\n") == [
        "START BY Tue 4 May 05:30 CEST",
        "WATER LEFT 39 %; dry at Tue 4 May 06:00 CEST unless re-wetted",
        "WHERE Quay slab · level 1 · grid A-C · Tap at gate",
        "WATER 180 L from Tap at gate, 6 L/min",
        "WHEN Mon 3 May 23:50 CEST to Tue 4 May 00:20 CEST, 30 min",
        "PEOPLE 2",
        "BRING hose 50 m, rose nozzle, head lamp",
        "CAUTION Wet burlap is slippery.",
        "CAUTION RCD on every lamp and pump; plugs off the wet deck.",
        "1. Start at the windward edge.",
        "2. Wet until water stands at the edges.",
        "RECORD condition found, time, initials, litres",
        "DRY, OR CANNOT BE DONE: call the person responsible for curing at once.",
        "Planning aid. The specification, the engineer, local codes and competent or "
        "licensed people come first.",
    ]


def test_a_round_lists_its_visits() -> None:
    identity = uid("Heron Wharf", "visit", "P1-top/rewet/2")
    begin, end, title, text = with_ics(calendar("red"))[identity]
    assert (begin, end) == (
        MONDAY + timedelta(minutes=1540),
        MONDAY + timedelta(minutes=1585),
    )
    assert title.startswith("ROUND Quay slab: 1 × RE-WET, 1 × INSPECT · start by ")
    assert "– 07:40 CEST RE-WET B2 quay slab 300 m², start by 16:20 CEST, 180 L" in text
    assert "– 08:15 CEST INSPECT B2 quay slab 300 m², start by 08:30 CEST\n" in text


def test_steps_of_a_round_stand_once_for_each_kind() -> None:
    rewet, inspect = (
        entry for entry in words() if entry.visit_id in {
            "P1-top/rewet/2", "P1-top/inspect/1",
        }
    )  # fmt: skip
    again = inspect.model_copy(update={"visit_id": "again", "steps": ("Look.",)})
    looked = inspect.model_copy(update={"steps": ("Look.", "Lift a corner.")})
    data = crew_calendar(SITE, small_roster(), (rewet, looked, again), "red", DRAFT)
    ((_, _, _, text),) = with_ics(data).values()
    assert (
        "RE-WET:\n1. Start at the windward edge.\n2. Wet until water stands at the "
        "edges.\nINSPECT:\n1. Look.\n2. Lift a corner.\nRECORD"
    ) in text


def test_a_limit_days_away_is_given_with_its_day() -> None:
    far = [
        entry.model_copy(update={"start_by_at": entry.starts_at + timedelta(days=3)})
        for entry in words()
        if entry.visit_id == "P1-top/rewet/1"
    ]
    data = crew_calendar(SITE, small_roster(), far, "owl", DRAFT)
    ((_, _, title, _),) = with_ics(data).values()
    assert title.endswith("start by Thu 6 May 23:50 CEST")


def test_telephone_numbers_stay_out() -> None:
    assert SITE.crews[0].phone.encode() not in calendar("red").replace(b"\r\n ", b"")


def test_alarms_lie_at_the_minutes_of_the_kind() -> None:
    text = calendar("owl").decode()
    assert text.count("TRIGGER:-PT30M") == text.count("TRIGGER:PT0S") == 3


def test_no_entry_is_shorter_than_a_quarter_of_an_hour() -> None:
    begin, end, _, _ = with_ics(calendar("red"))[
        uid("Heron Wharf", "visit", "P3-wall/check")
    ]
    assert end - begin == timedelta(minutes=15)  # ten minutes of work


def test_an_idle_crew_gets_a_calendar_that_says_so() -> None:
    data = crew_calendar(SITE, small_roster(), (), "owl", DRAFT)
    assert faults(data) == []
    ((_, _, title, _),) = with_ics(data).values()
    assert title == "NO CURING WORK PLANNED HERE"


def test_an_unknown_crew_is_refused() -> None:
    with pytest.raises(ValueError, match="no crew 'blue' on Heron Wharf"):
        crew_calendar(SITE, small_roster(), words(), "blue", DRAFT)


def test_same_roster_same_bytes_on_another_machine() -> None:
    """A process of another hash seed, time zone and locale writes the same."""
    script = (
        "import sys; from tests.exports.calendar.test_crew import calendar;"
        "sys.stdout.buffer.write(calendar('red'))"
    )
    environment = os.environ | {
        "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LC_ALL": "C",
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-c", script],
        check=True,
        capture_output=True,
        env=environment,
        cwd=Path(__file__).parents[3],
    )
    assert done.stdout == calendar("red")


def five_thousand() -> tuple[Entry, ...]:
    model = words()[0].model_copy(update={"crew_id": "red"})
    return tuple(
        model.model_copy(
            update={
                "visit_id": f"v{i:04}",
                "starts_at": MONDAY + timedelta(minutes=3 * i),
                "ends_at": MONDAY + timedelta(minutes=3 * i + 30),
            }
        )
        for i in range(5000)
    )


def test_a_feed_stays_under_its_limit_and_says_what_is_missing() -> None:
    data = crew_calendar(SITE, small_roster(), five_thousand(), "red", DRAFT)
    assert 890_000 < len(data) <= 900_000
    assert faults(data) == []
    shown = data.count(b"SUMMARY:SOAK")
    assert shown > 500
    notice = data.decode()[data.decode().index("SUMMARY:LATER WORK") :]
    # where the first visit left out begins, so that nobody takes it for a free day
    first_left_out = MONDAY + timedelta(minutes=3 * shown)
    assert f"DTSTART:{first_left_out:%Y%m%dT%H%M%SZ}" in notice


def test_the_window_leaves_out_what_is_over_and_what_is_far() -> None:
    visits = five_thousand()[::250]  # one every 12 h 30 min
    feed_range = FeedRange(past=timedelta(days=1), ahead=timedelta(days=2))
    published_at = MONDAY + timedelta(days=4)
    handed = Handed(1, published_at)
    data = crew_calendar(SITE, small_roster(), visits, "red", handed, feed_range)
    starts = sorted(value[0] for value in with_ics(data).values())
    # 3 d < 75 h = 6 × 12.5 h ... 137.5 h = 11 × 12.5 h < 6 d; then the notice
    assert starts[0] == MONDAY + timedelta(hours=75)
    assert starts[-2] == MONDAY + timedelta(hours=137.5)
    assert starts[-1] == MONDAY + timedelta(hours=150)


def relabelled(label: str, step: str) -> Roster:
    roster = small_roster()
    slab = roster.surfaces[0]
    assert slab.rewet
    rewet = slab.rewet.model_copy(update={"steps": (step,)})
    changed = slab.model_copy(update={"label": label, "rewet": rewet})
    return roster.model_copy(update={"surfaces": (changed, *roster.surfaces[1:])})


signs = st.one_of(
    st.characters(), st.sampled_from(',;:\\"\n\r\t²–🙂👷क्षिدמ王\u200d\u0301n')
)


@settings(deadline=None, max_examples=60)
@given(st.text(signs, max_size=60), st.text(signs, max_size=200))
def test_any_text_comes_back_as_it_was_meant(label: str, step: str) -> None:
    roster = relabelled(label, step)
    found = entries(SITE, roster, small_report())
    data = crew_calendar(SITE, roster, found, "owl", DRAFT)
    assert faults(data) == []
    identity = uid("Heron Wharf", "visit", "P1-top/rewet/1")
    for read in (with_ics, with_vobject):
        _, _, title, text = read(data)[identity]
        assert len(visible_signs(title.split(" · start by")[0])) <= 40
        assert f"\n1. {one_line(step)}\n" in text


def cautions(report: AuditReport, crew_id: str) -> dict[str, list[str]]:
    """Visit's UID to the lines of its entry that ask for caution, read by icalendar."""
    told = entries(SITE, small_roster(), report)
    data = crew_calendar(SITE, small_roster(), told, crew_id, DRAFT)
    return {
        str(event["uid"]): [
            line
            for line in str(event["description"]).splitlines()
            if line.startswith("CAUTION")
        ]
        for event in Calendar.from_ical(data).walk("VEVENT")
    }


FROST = (
    "CAUTION B2 quay slab: Frost on weak concrete Tue 4 May 00:00–06:00 CEST: down to "
    "-4 °C, coldest Tue 00:00; not below 0 °C until it has 5.0 MPa (a clause). "
    "Blankets on before the cold comes, keep forms on, or heat; the engineer decides "
    "what follows."
)


def test_what_comes_to_a_surface_is_the_first_caution_of_its_visits_before() -> None:
    day, night = (cautions(frosty_report(), crew) for crew in ("red", "owl"))
    cover, after = (
        day[uid("Heron Wharf", "visit", visit)]
        for visit in ("P1-top/cover", "P1-top/rewet/2")  # Mon 13:00, Tue 07:40
    )
    assert cover[0] == FROST
    assert cover[1] == "CAUTION Wet burlap is slippery."
    assert after[0] == "CAUTION Wet burlap is slippery."
    # The frost begins at 00:00, within this visit: 23:50 to 00:20.
    assert night[uid("Heron Wharf", "visit", "P1-top/rewet/1")][0] == FROST
    others = night[uid("Heron Wharf", "visit", "P2-top/rewet/2")]
    assert FROST not in others


def test_more_breaches_than_a_phone_shows_are_counted() -> None:
    report = small_report()
    many = tuple(
        breach_finding("too_cold", 1080, 1440, "P1-top", limit=limit)
        for limit in range(1, 8)
    )
    lines = cautions(report.model_copy(update={"findings": many}), "owl")
    told = lines[uid("Heron Wharf", "visit", "P1-top/rewet/1")]
    assert [line.startswith("CAUTION B2 quay slab: ") for line in told[:4]] == [
        True
    ] * 4
    assert told[4] == (
        "CAUTION 3 more temperatures outside their limits: see the board"
    )
