"""Tables read back as other programs read them."""

import csv
import json
from datetime import UTC, datetime
from io import BytesIO, StringIO
from zipfile import ZipFile

import pytest
from python_calamine import load_workbook

from exports.tables.tables import table_files
from models.records import AuditReport, Finding, Roster, Site
from tests.exports.exports_builders import DRAFT, small_report, small_roster, small_site
from tests.exports.issue_builders import second_issue

EVIL = ["=1+1", "+49 30 1", "-2", "@SUM(A1)", "\t=1+1", "=cmd|' /C calc'!A0"]


def files(
    site: Site | None = None,
    roster: Roster | None = None,
    report: AuditReport | None = None,
) -> dict[str, bytes]:
    return table_files(
        site or small_site(), roster or small_roster(), report or small_report(), DRAFT
    )


def rows(content: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(content.decode("utf-8-sig"), newline="")))


def sheet(content: bytes, name: str) -> list[list[object]]:
    book = load_workbook(BytesIO(content))
    return [list(row) for row in book.get_sheet_by_name(name).to_python()]


def wall(*parts: int) -> datetime:
    """A time as a workbook holds it, which knows no zones."""
    year, month, day, hour, minute = (*parts, 0, 0)[:5]
    return datetime(year, month, day, hour, minute, tzinfo=UTC).replace(tzinfo=None)


def with_words(words: str) -> AuditReport:
    at = datetime(2027, 5, 3, 10, tzinfo=UTC)
    odd = Finding(kind="late", words=words, starts_at=at, ends_at=at)
    return small_report().model_copy(update={"findings": (odd,)})


def test_every_visit_is_a_row_with_its_times_in_both_clocks() -> None:
    visits = rows(files()["tables/visits.csv"])
    assert len(visits) == 14
    fog = visits[2]
    # Minute 390 after 06:00 in Berlin, half an hour, 60 L.
    assert fog["Start (local)"] == "2027-05-03T12:30+02:00"
    assert fog["End (UTC)"] == "2027-05-03T11:00Z"
    assert fog["UTC offset"] == "UTC+02:00"
    assert (fog["Crew"], fog["Surface"], fog["Kind"]) == (
        "Red gang", "B2 quay slab", "fog",
    )  # fmt: skip
    assert (fog["Water point"], fog["Water [L]"], fog["Flow [L/min]"]) == (
        "Tap at gate", "60.0", "2.0",
    )  # fmt: skip
    assert (fog["People"], fog["Duration [min]"]) == ("2", "30")


def test_when_a_visit_must_start_and_when_its_cover_dries_stand_beside_it() -> None:
    # P2's cover has 0.6 - 0.1 x 330/60 = 0.05 L/m² at its rewet: dry 30 min later,
    # at 360 or 12:00.
    rewet = rows(files()["tables/visits.csv"])[1]
    assert rewet["Dry at (local)"] == "2027-05-03T12:00+02:00"
    assert rewet["Start by (local)"] == "2027-05-03T12:00+02:00"
    assert rewet["Planned late"] == "no"
    assert rewet["State at start"] == "6 % left"


def test_a_visit_without_water_leaves_its_cells_empty() -> None:
    soak = rows(files()["tables/visits.csv"])[0]
    assert soak["Water [L]"] == soak["Flow [L/min]"] == soak["Water point"] == ""


def test_findings_carry_kind_limit_minutes_and_words() -> None:
    found = rows(files()["tables/findings.csv"])[1]
    assert found["Kind"] == "gap"
    assert found["Breaks a rule"] == "no"
    assert found["Limit"] == "no crew on shift"
    assert found["Duration [min]"] == "130"
    assert found["Words"] == "nobody until the night pair"


def test_the_water_ledger_adds_up_to_what_the_visits_draw() -> None:
    made = files()
    drawn = sum(
        float(r["Drawn for curing [L]"]) for r in rows(made["tables/water.csv"])
    )
    visits = sum(float(r["Water [L]"] or 0) for r in rows(made["tables/visits.csv"]))
    # 60 fog + 240 cover + 2 x 180 on P1, 4 x 80 on P2.
    assert drawn == visits == 980


def test_us_units_stand_in_headers_and_cells() -> None:
    made = files(small_site(units="us"))
    fog = rows(made["tables/visits.csv"])[2]
    # 60 L / 3.785411784 = 15.85 US gal; 2 L/min = 0.53 US gal a minute.
    assert fog["Water [US gal]"] == "15.85"
    assert fog["Flow [US gpm]"] == "0.53"
    assert "Tank level at its end [US gal]" in rows(made["tables/water.csv"])[0]


def test_the_hour_that_autumn_brings_twice_is_told_apart() -> None:
    # Berlin, 2027-10-31: 00:00 UTC is 02:00 summer time, 01:00 UTC 02:00 winter time.
    start = datetime(2027, 10, 30, 4, tzinfo=UTC)
    made = files(roster=small_roster(start), report=small_report(start))
    tap = [
        r for r in rows(made["tables/water.csv"]) if r["Water point"] == "Tap at gate"
    ]
    twice = [
        r["Hour from (local)"] for r in tap if "31T02:00" in r["Hour from (local)"]
    ]
    assert twice == ["2027-10-31T02:00+02:00", "2027-10-31T02:00+01:00"]
    cells = [row for row in sheet(made["tables/roster.xlsx"], "water") if row[1] == (
        wall(2027, 10, 31, 2)
    )]  # fmt: skip
    assert [row[2] for row in cells[:2]] == ["UTC+02:00", "UTC+01:00"]


@pytest.mark.parametrize("words", EVIL)
def test_no_cell_of_a_csv_file_begins_like_a_formula(words: str) -> None:
    found = rows(files(report=with_words(words))["tables/findings.csv"])[0]
    assert found["Words"] == "'" + words.strip()


@pytest.mark.parametrize("words", EVIL)
def test_the_workbook_keeps_such_a_text_a_text(words: str) -> None:
    book = files(report=with_words(words))["tables/roster.xlsx"]
    assert sheet(book, "findings")[1][-1] == words.strip()


@pytest.mark.parametrize("words", ["a,b", 'he said "wet"', "two\r\nlines", "m² – °C"])
def test_texts_come_back_as_they_were_on_one_line(words: str) -> None:
    found = rows(files(report=with_words(words))["tables/findings.csv"])[0]
    assert found["Words"] == words.replace("\r\n", " ")


def test_the_workbook_holds_the_same_rows_with_real_times() -> None:
    made = files()
    for name in ("visits", "findings", "water"):
        in_book = sheet(made["tables/roster.xlsx"], name)
        in_csv = rows(made[f"tables/{name}.csv"])
        assert in_book[0] == list(in_csv[0])
        assert len(in_book) == len(in_csv) + 1
    first = sheet(made["tables/roster.xlsx"], "visits")[1]
    assert first[0] == wall(2027, 5, 3, 7, 30)
    assert first[3] == wall(2027, 5, 3, 5, 30)


def test_utc_columns_are_utc_whatever_offset_the_roster_came_with() -> None:
    plus_two = small_roster().model_dump_json().replace('Z"', '+00:00"')
    moved = Roster.model_validate_json(
        plus_two.replace("2027-05-03T05:30:00+00:00", "2027-05-03T07:30:00+02:00")
    )
    made = files(roster=moved)
    assert rows(made["tables/visits.csv"])[0]["Start (UTC)"] == "2027-05-03T05:30Z"
    first = sheet(made["tables/roster.xlsx"], "visits")[1]
    assert first[3] == wall(2027, 5, 3, 5, 30)


def test_the_first_sheet_says_what_the_tables_are_not() -> None:
    about = sheet(files()["tables/roster.xlsx"], "about")
    note = next(str(row[1]) for row in about if row[0] == "Note")
    assert note.startswith("Planning aid. The specification, the engineer")


def test_the_same_roster_gives_the_same_bytes() -> None:
    assert files() == files()


def test_the_workbook_says_it_was_made_when_the_plan_starts() -> None:
    # Not when it was written, which would be another file every time.
    book = ZipFile(BytesIO(files()["tables/roster.xlsx"]))
    core = book.read("docProps/core.xml").decode()
    assert core.count(">2027-05-03T04:00:00Z<") == 2  # created and modified


def test_the_roster_as_json_reads_back_and_names_its_schema() -> None:
    content = files()["roster.json"]
    assert json.loads(content)["schema_id"] == "keepdamp/roster/7"
    assert Roster.model_validate_json(content) == small_roster()


def test_files_have_their_names() -> None:
    assert sorted(files()) == [
        "roster.json", "tables/findings.csv", "tables/hours.csv", "tables/roster.xlsx",
        "tables/visits.csv", "tables/water.csv",
    ]  # fmt: skip


def test_a_week_without_visits_or_findings_is_a_header_alone() -> None:
    empty = small_roster().model_copy(update={"visits": ()})
    quiet = small_report().model_copy(update={"findings": ()})
    made = files(roster=empty, report=quiet)
    assert rows(made["tables/visits.csv"]) == rows(made["tables/findings.csv"]) == []
    assert len(sheet(made["tables/roster.xlsx"], "visits")) == 1


def test_a_long_text_is_cut_to_what_a_cell_holds() -> None:
    words = "wet " * 20_000
    book = files(report=with_words(words))["tables/roster.xlsx"]
    cell = str(sheet(book, "findings")[1][-1])
    assert len(cell) <= 32_767
    assert cell.endswith("…")


def test_changes_stand_beside_the_other_tables_of_an_issue() -> None:
    handed = second_issue()
    made = table_files(small_site(), small_roster(), small_report(), handed)
    found = rows(made["tables/changes.csv"])
    # Fourteen visits of this issue, and the one that was dropped.
    assert len(found) == 15
    (given,) = [row for row in found if row["Change"] == "given to another crew"]
    assert (given["Crew"], given["Crew before"]) == ("Red gang", "Night pair")
    (gone,) = [row for row in found if row["Change"] == "dropped"]
    assert (gone["Start (local)"], gone["Start before (local)"]) == (
        "", "2027-05-04T13:00+02:00",
    )  # fmt: skip
    assert len(sheet(made["tables/roster.xlsx"], "changes")) == 16
    about = sheet(made["tables/roster.xlsx"], "about")
    assert ["Issue", "Issue 2, Mon 3 May 09:00 CEST"] in about


def test_a_draft_says_so_and_has_no_changes() -> None:
    made = files()
    assert "tables/changes.csv" not in made
    about = sheet(made["tables/roster.xlsx"], "about")
    assert ["Issue", "DRAFT, not published"] in about
