"""Shift sheets of an issue: its number, what changed, and what is gone."""

from exports.entries import entries
from exports.handed import Handed
from exports.sheets.render import render
from exports.sheets.shift_sheet import ShiftSheet
from exports.sheets.shift_sheets import shift_sheets
from tests.exports.exports_builders import (
    DRAFT,
    small_report,
    small_roster,
    small_site,
)
from tests.exports.issue_builders import second_issue
from tests.exports.sheets.pdf_reader import read_pdf

RED, OWL, RED_TUE = (
    "2027-05-03-0700-red", "2027-05-03-2200-owl", "2027-05-04-0700-red",
)  # fmt: skip


def sheets(handed: Handed) -> dict[str, ShiftSheet]:
    site, roster, report = small_site(), small_roster(), small_report()
    words = entries(site, roster, report)
    return dict(shift_sheets(site, roster, report, words, None, handed))


def printed(sheet: ShiftSheet) -> str:
    return " ".join(page.text for page in read_pdf(render(sheet)))


def was(sheet: ShiftSheet) -> dict[str, str]:
    rows = (row for page in sheet.pages for row in page.rows)
    return {row.planned: row.was for row in rows if row.was}


def test_changed_rows_say_how_they_were() -> None:
    found = sheets(second_issue())
    assert was(found[RED]) == {
        "11:30": "was 11:10", "12:30": "was 3 people", "14:20": "was Night pair",
    }  # fmt: skip
    assert was(found[OWL]) == {"23:50": "new"}


def test_what_a_shift_has_no_more_is_listed() -> None:
    found = sheets(second_issue())
    assert found[RED].taken_off == ()
    (gone,) = found[RED_TUE].taken_off
    assert gone.startswith("13:00 RE-WET B2 quay slab")
    assert gone.endswith(": dropped")


def test_the_number_of_the_issue_and_every_change_are_printed() -> None:
    found = sheets(second_issue())
    text = printed(found[RED])
    assert "Issue 2, Mon 3 May 09:00 CEST" in text
    assert "was 11:10" in text
    assert "changed since issue 1" in text
    assert "dropped" in printed(found[RED_TUE])


def test_a_draft_is_printed_as_one_and_knows_no_changes() -> None:
    sheet = sheets(DRAFT)[RED]
    text = printed(sheet)
    assert "DRAFT, not published" in text
    assert "Bar:" not in text
    assert was(sheet) == {}
