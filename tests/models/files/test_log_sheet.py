"""Filled sheets: rows of a log, and the visits table with its ticks."""

from collections.abc import Sequence
from datetime import datetime, time
from io import BytesIO
from pathlib import Path

import pytest
import xlsxwriter

from models.files.log_sheet import LogEntries, read_log_sheet
from models.files.reading.problems import ProblemCollector
from models.records import LogRow

LOG_CSV = """\
what,about,found,litres,at,by
found,P1-top,dry,180,03:10,AK

work done,P2-top,,,2027-05-04 07:00,JM
"""
VISITS = (
    "Start (local)", "Surface", "Visit id", "Done", "Found", "Time", "Initials",
    "Water used [US gal]", "Remark",
)  # fmt: skip


def book(path: Path, rows: Sequence[Sequence[object]], sheet: str = "visits") -> Path:
    buffer = BytesIO()
    with xlsxwriter.Workbook(buffer, {"in_memory": True}) as made:
        made.add_worksheet("about").write(0, 0, "Site")
        page = made.add_worksheet(sheet)
        clock = made.add_format({"num_format": "hh:mm"})
        date = made.add_format({"num_format": "yyyy-mm-dd hh:mm"})
        for number, row in enumerate(rows):
            for column, cell in enumerate(row):
                if isinstance(cell, time):
                    page.write_datetime(number, column, cell, clock)
                elif isinstance(cell, datetime):
                    page.write_datetime(number, column, cell, date)
                else:
                    page.write(number, column, cell)
    path.write_bytes(buffer.getvalue())
    return path


def read(path: Path) -> tuple[LogEntries, list[str]]:
    problems = ProblemCollector()
    rows = read_log_sheet(path, problems)
    return rows, [str(problem) for problem in problems.in_order()]


def records(path: Path) -> list[LogRow | None]:
    rows, problems = read(path)
    assert problems == []
    return [row.record for row in rows]


def test_a_log_as_csv(tmp_path: Path) -> None:
    path = tmp_path / "log.csv"
    path.write_text(LOG_CSV)
    assert records(path) == [
        LogRow(what="found", about="P1-top", found="dry", litres_l=180, at="03:10",
               by="AK"),
        LogRow(what="work_done", about="P2-top", at="2027-05-04 07:00", by="JM"),
    ]  # fmt: skip


def test_rows_of_the_visits_table_that_are_filled_in(tmp_path: Path) -> None:
    start = datetime(2027, 5, 3, 23, 50)  # noqa: DTZ001 - as a workbook has it
    path = book(
        tmp_path / "filled.xlsx",
        [
            VISITS,
            (start, "P1 top", "P1-top/rewet/1", "yes", "Dry", time(23, 55), "AK", 40,
             "wind got under it"),
            (start, "P1 top", "P1-top/rewet/2", "", "", "", "", "", ""),
            (start, "P2 top", "P2-top/rewet/1", "no", "", "Tue 01:00", "AK", "",
             "no water"),
            (start, "P2 top", "P2-top/inspect", "", "wet", "02:00", "AK", "", ""),
            (start, "P2 top", "P2-top/rewet/2", "x", "",
             datetime(2027, 5, 4, 2, 0), "JM", "15 L", ""),  # noqa: DTZ001 - so too
        ],
    )  # fmt: skip
    done, failed, looked, ticked = records(path)
    assert done is not None
    # 40 gallons of 3.785411784 L each (NIST SP 811, appendix B)
    assert done.litres_l == pytest.approx(151.416, abs=0.001)
    assert done.model_copy(update={"litres_l": None}) == LogRow(
        what="work_done", visit_id="P1-top/rewet/1", found="dry", at="23:55", by="AK",
        note="wind got under it",
    )  # fmt: skip
    assert failed == LogRow(
        what="work_failed", visit_id="P2-top/rewet/1", at="Tue 01:00", by="AK",
        why="no water",
    )  # fmt: skip
    assert looked == LogRow(
        what="found", visit_id="P2-top/inspect", found="wet", at="02:00", by="AK"
    )
    assert ticked == LogRow(
        what="work_done", visit_id="P2-top/rewet/2", at="2027-05-04 02:00", by="JM",
        litres_l=15,
    )  # fmt: skip


def test_rows_that_end_early_are_read_as_far_as_they_go(tmp_path: Path) -> None:
    path = tmp_path / "visits.csv"
    header = "Visit id,Done,Found,Time,Initials,Water used [L],Remark\n"
    path.write_text(f"{header}P1-top/rewet/1,yes,wet,23:55,AK\nP1-top/rewet/2\n")
    (row,) = records(path)
    assert row == LogRow(
        what="work_done", visit_id="P1-top/rewet/1", found="wet", at="23:55", by="AK"
    )


def test_every_bad_cell_is_named(tmp_path: Path) -> None:
    path = book(
        tmp_path / "filled.xlsx",
        [
            VISITS,
            ("", "P1 top", "P1-top/rewet/1", "perhaps", "dry", "23:55", "AK", "", ""),
            ("", "P1 top", "P1-top/rewet/2", "yes", "dri", "23:55", "AK", "lots", ""),
            ("", "P1 top", "P1-top/rewet/3", "", "", "", "AK", "", ""),
        ],
    )
    rows, problems = read(path)
    assert [row.record for row in rows] == [None]
    assert problems == [
        "filled.xlsx:visits!D2, done: found 'perhaps'; expected yes, no or x",
        "filled.xlsx:visits!E3, found: found 'dri'; expected one of: wet, damp, "
        "patchy, dry, frozen, unknown. Did you mean 'dry'?",
        "filled.xlsx:visits!H3, litres: found 'lots'; expected a volume from 0 to "
        "1000000 L",
        "filled.xlsx:visits!D4, done: missing; expected yes or no, as the row is "
        "filled in",
    ]


def test_a_sheet_of_a_draft_is_refused(tmp_path: Path) -> None:
    header = ("Visit id", "Issue", *VISITS[3:])
    filled = ("yes", "dry", "23:55", "AK", 40, "")
    path = book(
        tmp_path / "filled.xlsx",
        [header, ("P1-top/rewet/1", "DRAFT", *filled), ("P1-top/rewet/2", 2, *filled)],
    )
    (row,), problems = read(path)
    assert row.record is not None
    assert row.record.issue_number == 2
    assert problems == [
        "filled.xlsx:visits!B2, issue: found 'DRAFT'; expected an issue's number. "
        "Publish the roster and hand out the sheets of that issue"
    ]


def test_a_log_in_a_workbook_may_have_its_times_as_cells(tmp_path: Path) -> None:
    path = book(
        tmp_path / "log.xlsx",
        [("what", "about", "found", "at", "by"),
         ("found", "P1-top", "dry", time(3, 10), "AK")],
    )  # fmt: skip
    (row,) = records(path)
    assert row == LogRow(what="found", about="P1-top", found="dry", at="03:10", by="AK")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("what,abuot\nfound,P1-top\n", "abuot: unknown column. Did you mean 'about'?"),
        ("about\nP1-top\n", "what: column missing"),
        ("", "empty table"),
        ("Visit id,Done\nP1-top/rewet/1,yes\n", "found: column missing"),
    ],
)
def test_a_sheet_with_other_columns_is_refused(
    tmp_path: Path, text: str, words: str
) -> None:
    path = tmp_path / "log.csv"
    path.write_text(text)
    _, problems = read(path)
    assert any(words in problem for problem in problems)


def test_a_sheet_that_is_not_there(tmp_path: Path) -> None:
    assert read(tmp_path / "filled.xlsx") == ((), ["filled.xlsx: file not found"])
