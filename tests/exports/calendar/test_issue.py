"""Calendars of a published issue: what phones are told of each visit's identity."""

from datetime import timedelta
from typing import Any

from icalendar import Calendar

from exports.calendar import crew_calendar, surface_calendar
from exports.calendar.identity import visit_uid
from exports.entries import entries
from exports.handed import Handed
from models.records import TakenBack
from tests.builders import MONDAY
from tests.exports.calendar.ic_checker import faults
from tests.exports.exports_builders import (
    DRAFT,
    small_report,
    small_roster,
    small_site,
)
from tests.exports.issue_builders import SECOND_AT, second_issue

TEAMS = {team.id: team for team in small_site().teams}


def written(crew_id: str, handed: Handed) -> bytes:
    site, roster = small_site(), small_roster()
    words = entries(site, roster, small_report())
    return crew_calendar(site, roster, words, crew_id, handed)


def events(crew_id: str, handed: Handed) -> dict[str, Any]:
    calendar: Any = Calendar.from_ical(written(crew_id, handed))
    return {str(event["uid"]): event for event in calendar.walk("VEVENT")}


def of_red(handed: Handed, visit_id: str) -> dict[str, Any]:
    event = events("red", handed)[visit_uid(handed.of_visit[visit_id], TEAMS["red"])]
    return {str(name).lower(): value for name, value in event.items()}


def test_the_checker_finds_nothing() -> None:
    for crew_id in ("red", "owl"):
        assert faults(written(crew_id, second_issue())) == []


def test_a_visit_that_stands_is_as_it_was_written_first() -> None:
    event = of_red(second_issue(), "P1-top/soak")
    assert (event["sequence"], event["status"]) == (0, "CONFIRMED")
    assert {event[name].dt for name in ("created", "last-modified", "dtstamp")} == {
        MONDAY
    }


def test_a_moved_visit_is_one_change_further() -> None:
    event = of_red(second_issue(), "P2-top/rewet/1")
    assert event["sequence"] == 1
    assert (event["created"].dt, event["last-modified"].dt) == (MONDAY, SECOND_AT)
    assert event["dtstamp"].dt == SECOND_AT


def test_a_dropped_visit_is_shown_as_cancelled() -> None:
    (gone,) = [
        event for event in events("red", second_issue()).values()
        if event["status"] == "CANCELLED"
    ]  # fmt: skip
    assert gone["summary"].startswith("CANCELLED RE-WET")
    assert gone["description"] == "No longer planned."
    assert gone["sequence"] == 1
    assert gone["dtstart"].dt == MONDAY + timedelta(minutes=1070 + 790)
    assert gone.walk("VALARM") == []


def test_a_visit_given_away_is_cancelled_with_one_crew_and_new_with_the_other() -> None:
    handed = second_issue()
    one = handed.of_visit["P3-wall/mix"]
    now = events("red", handed)[visit_uid(one, TEAMS["red"])]
    gone = events("owl", handed)[visit_uid(one, TEAMS["owl"])]
    assert (now["status"], gone["status"]) == ("CONFIRMED", "CANCELLED")
    assert (now["sequence"], gone["sequence"]) == (1, 1)
    assert gone["description"] == "Now done by Red gang, Mon 3 May 14:20 CEST."
    assert visit_uid(one, TEAMS["red"]) != visit_uid(one, TEAMS["owl"])


def test_what_is_cancelled_is_shown_as_long_as_it_is_handed_on() -> None:
    """Whatever lies three days back is left out; what is cancelled is not."""
    handed = second_issue()
    late = Handed(
        3, SECOND_AT + timedelta(days=6), handed.identities, handed.taken_back
    )
    assert [e["status"] for e in events("owl", late).values()] == ["CANCELLED"]


def test_a_draft_says_so_and_an_issue_its_number() -> None:
    draft: Any = Calendar.from_ical(written("red", DRAFT))
    issue: Any = Calendar.from_ical(written("red", second_issue()))
    assert draft["x-wr-calname"] == "DRAFT · Red gang · Heron Wharf"
    assert draft["description"] == "DRAFT, not published."
    assert {event["status"] for event in draft.walk("VEVENT")} == {"TENTATIVE"}
    assert issue["x-wr-calname"] == "Red gang · Heron Wharf"
    assert issue["description"] == "Issue 2, Mon 3 May 09:00 CEST."


def test_what_has_no_identity_counts_by_issues() -> None:
    handed = second_issue()
    args = small_site(), small_roster(), small_report(), "P2-top"
    calendar: Any = Calendar.from_ical(surface_calendar(*args, handed))
    found = {
        (event["sequence"], event["dtstamp"].dt) for event in calendar.walk("VEVENT")
    }
    assert found == {(2, SECOND_AT)}


def taken_back(**now: object) -> list[str]:
    """What the red gang's phone says of the soak once it is another's, or a line."""
    handed = second_issue()
    one = handed.of_visit["P1-top/soak"]
    there = one.model_copy(update={"told": one.told.model_copy(update=now)})
    entry = TakenBack(at=SECOND_AT, told=one.told, sequence=1)
    others = tuple(each for each in handed.identities if each.id != one.id)
    shown = Handed(2, SECOND_AT, others, ((there, entry),))
    return [
        str(event["description"])
        for event in events("red", shown).values()
        if event["status"] == "CANCELLED"
    ]


def test_a_cancelled_entry_says_what_became_of_its_visit() -> None:
    assert taken_back() == ["Now part of a round, Mon 3 May 07:30 CEST."]
    assert taken_back(crew_id="owl") == [
        "Now done by Night pair, Mon 3 May 07:30 CEST."
    ]
    assert taken_back(crew_id="gone") == [
        "Now done by another crew, Mon 3 May 07:30 CEST."
    ]


def test_of_an_entry_taken_back_twice_the_last_is_shown() -> None:
    handed = second_issue()
    one = handed.of_visit["P1-top/soak"]
    given = one.model_copy(
        update={"told": one.told.model_copy(update={"crew_id": "owl"})}
    )
    first, last = (
        TakenBack(at=SECOND_AT, told=one.told, sequence=number) for number in (1, 3)
    )
    others = tuple(each for each in handed.identities if each.id != one.id)
    shown = Handed(2, SECOND_AT, others, ((given, last), (given, first)))
    found = events("red", shown)[visit_uid(one, TEAMS["red"])]
    assert found["sequence"] == 3
