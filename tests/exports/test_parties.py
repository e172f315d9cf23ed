"""A gang with parties on paper and phone: each party sees its own and the gang's work.

Of the small roster's Monday the first pair of the red gang mixes compound (14:20 local)
while the rest is done by all.
"""

from itertools import count
from uuid import UUID

from exports.axis import Axis
from exports.board.limits import crew_rows
from exports.calendar.feeds import calendars
from exports.entries import entries
from exports.handed import Handed
from exports.sheets import shift_sheets
from exports.told import told_visits
from models.records import AuditReport, Party, Roster, Site
from scheduler.identity.follow import follow, shown_taken_back
from tests.builders import MONDAY
from tests.exports.exports_builders import DRAFT, small_report, small_roster, small_site

PAIRS = tuple(
    Party(id=f"red {n}", name=f"{name} pair", people=2)
    for n, name in ((1, "first"), (2, "second"))
)


def split(*, by_default: bool = False) -> tuple[Site, Roster, AuditReport]:
    red, owl = small_site().crews
    pairs = tuple(pair.model_copy(update={"by_default": by_default}) for pair in PAIRS)
    site = small_site(crews=(red.model_copy(update={"parties": pairs}), owl))
    roster, report = small_roster(), small_report()
    own = {"crew_id": "red 1", "shift_id": "red 1/mon"}
    visits = tuple(
        visit.model_copy(update=own) if visit.task_id == "P3-wall/mix" else visit
        for visit in roster.visits
    )
    traces = [
        shift.model_copy(
            update={
                "crew_id": pair.id,
                "shift_id": f"{pair.id}/mon",
                "part_of": "red/mon",
            }
        )
        for shift in report.shifts
        for pair in PAIRS
        if shift.shift_id == "red/mon"
    ]
    return (
        site,
        roster.model_copy(update={"visits": visits}),
        report.model_copy(update={"shifts": (*report.shifts, *traces)}),
    )


def test_a_sheet_for_each_pair_holds_its_own_and_the_whole_gangs_work() -> None:
    site, roster, report = split()
    words = entries(site, roster, report)
    sheets = dict(shift_sheets(site, roster, report, words, None, DRAFT))
    assert [name for name in sheets if name.startswith("2027-05-03-0700")] == [
        "2027-05-03-0700-red 1", "2027-05-03-0700-red 2",
    ]  # fmt: skip
    first, second = (
        [row for page in sheets[f"2027-05-03-0700-red {n}"].pages for row in page.rows]
        for n in (1, 2)
    )
    assert sheets["2027-05-03-0700-red 1"].crew == "Red gang, first pair"
    # Seven visits on Monday by day; one of them is the first pair's alone.
    assert (len(first), len(second)) == (7, 6)
    assert [row.people for row in first if "whole gang" not in row.people] == [
        "2 people"
    ]
    assert all(row.people.endswith(", whole gang") for row in second)


def test_a_pairs_calendar_says_when_all_are_needed() -> None:
    site, roster, report = split()
    files = calendars(site, roster, report, entries(site, roster, report), DRAFT)
    assert {"crews/red.ics", "crews/red 1.ics", "crews/red 2.ics"} <= files.keys()
    first, second, gang = (
        files[f"crews/{name}.ics"].decode().replace("\r\n ", "")
        for name in ("red 1", "red 2", "red")
    )
    assert "PEOPLE 4\\, with all of Red gang" in first
    assert "PEOPLE 4\\, with all of Red gang" in second
    assert "with all of" not in gang
    # The first pair's own work is in its calendar alone.
    assert first.count("BEGIN:VEVENT") == second.count("BEGIN:VEVENT") + 1
    assert gang.count("BEGIN:VEVENT") == second.count("BEGIN:VEVENT")


def test_the_board_has_a_row_for_the_gang_and_each_pair() -> None:
    site, roster, report = split()
    rows = crew_rows(site, report, Axis(roster.horizon, site.timezone))
    assert [(row.label, row.note) for row in rows] == [
        ("Red gang", "4 people"), ("Red gang, first pair", "2 people"),
        ("Red gang, second pair", "2 people"), ("Night pair", "2 people"),
    ]  # fmt: skip


def test_the_gang_s_sheet_says_what_each_of_its_default_pairs_does() -> None:
    site, roster, report = split(by_default=True)
    words = entries(site, roster, report)
    sheets = dict(shift_sheets(site, roster, report, words, None, DRAFT))
    day = [name for name in sheets if name.startswith("2027-05-03-0700")]
    assert day == ["2027-05-03-0700-red"]
    rows = [row for page in sheets[day[0]].pages for row in page.rows]
    assert len(rows) == 7
    assert [row.people for row in rows if "," in row.people] == ["2 people, first pair"]


def test_the_gang_s_calendar_holds_the_work_of_its_default_pairs() -> None:
    site, roster, report = split(by_default=True)
    files = calendars(site, roster, report, entries(site, roster, report), DRAFT)
    assert "crews/red 1.ics" not in files
    gang = files["crews/red.ics"].decode().replace("\r\n ", "")
    own = small_site(), small_roster(), small_report()
    whole = calendars(*own, entries(*own), DRAFT)["crews/red.ics"].decode()
    assert gang.count("BEGIN:VEVENT") == whole.count("BEGIN:VEVENT")
    assert "PEOPLE 2\\, first pair" in gang


def test_what_a_default_pair_hands_to_the_other_is_the_same_entry() -> None:
    """The gang's phone is told of one change, not of a cancelled and a new entry."""
    site, roster, report = split(by_default=True)
    words = entries(site, roster, report)
    now = told_visits(roster, words)
    before = tuple(
        each.model_copy(
            update={"told": each.told.model_copy(update={"crew_id": "red 2"})}
        )
        if each.told.crew_id == "red 1"
        else each
        for each in now
    )
    numbers = count(1)

    def new_id() -> str:
        return str(UUID(int=next(numbers)))

    first = follow((), before, 1, MONDAY, roster.horizon, new_id)
    second = follow(first, now, 2, MONDAY, roster.horizon, new_id)
    one = next(each for each in second if each.visit_id == "P3-wall/mix")
    assert [entry.told.crew_id for entry in one.taken_back] == ["red 2"]
    handed = Handed(2, MONDAY, second, shown_taken_back(second, MONDAY))
    gang = calendars(site, roster, report, words, handed)["crews/red.ics"].decode()
    assert "CANCELLED" not in gang
    assert gang.count("SEQUENCE:1") == 1
