"""Workbooks: cell names, formulas without results, numbers that are ids."""

import io
import zipfile
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import InputError
from models.files.site_folder import read_site
from tests.models.files.folders import write_site
from tests.models.files.problem_lines import lines, only
from tests.models.files.workbooks import HEADER, Rows, edited, pour_row, workbook

SHEET = "xl/worksheets/sheet1.xml"
NEVER = (
    "found an empty cell (a formula that was never calculated?); expected an area "
    "above 0, up to 200000 m2. Open the workbook, let it calculate, save"
)


def site_with(folder: Path, data: bytes) -> Path:
    files = {"pours.csv": None, "readings.csv": None, "pours.xlsx": data}
    return write_site(folder, files)


def pours_sheet(*rows: Sequence[object]) -> dict[str, Rows]:
    return {"Pours": [HEADER, *rows]}


def test_a_workbook_gives_the_same_pours_as_text(tmp_path: Path) -> None:
    text = (
        ",".join(HEADER)
        + "\n114,A,deck,2027-05-03 07:10,2027-05-03 11:50,300,250,C30,"
        + "burlap_double,1.5\n"
    )
    files = {"pours.csv": text, "readings.csv": None}
    from_text = read_site(write_site(tmp_path / "text", files)).pours
    data = workbook(pours_sheet(pour_row(114)))
    assert read_site(site_with(tmp_path / "book", data)).pours == from_text
    assert from_text[0].id == "114"


def test_cell_names_hold_where_the_table_starts_at_b3(tmp_path: Path) -> None:
    rows: list[list[object]] = [
        pour_row(area=-1),
        [""] * 10,
        pour_row("P2", method="burlap_dooble"),
    ]
    data = workbook(pours_sheet(*rows), corner=(2, 1))
    first, second = lines(site_with(tmp_path, data))
    assert first.startswith("pours.xlsx:Pours!G4, area: found -1; expected an area")
    assert second.startswith("pours.xlsx:Pours!J6, method: found 'burlap_dooble'")


def test_the_sheet_named_pours_is_taken_else_the_first(tmp_path: Path) -> None:
    notes: Rows = [["nothing here"]]
    named = workbook({"Notes": notes} | pours_sheet(pour_row()))
    first = workbook({"Programme": [HEADER, pour_row()], "Notes": notes})
    one = read_site(site_with(tmp_path / "named", named)).pours
    assert read_site(site_with(tmp_path / "first", first)).pours == one


def test_a_formula_never_calculated_is_found_in_needed_and_optional_cells(
    tmp_path: Path,
) -> None:
    data = workbook(pours_sheet(pour_row(area="=100*3", slope="=1+1")))
    needed, optional = lines(site_with(tmp_path, data))
    assert needed == f"pours.xlsx:Pours!F2, area: {NEVER}"
    assert optional.startswith("pours.xlsx:Pours!J2, slope: found an empty cell")


def test_a_stand_in_result_of_a_program_is_no_result(tmp_path: Path) -> None:
    # The writer puts 0 in the cell and asks the spreadsheet to calculate on opening.
    data = workbook(pours_sheet(pour_row(slope="=1+1")), result=0)
    found = only(site_with(tmp_path, data))
    assert found.startswith("pours.xlsx:Pours!J2, slope: found an empty cell")


def calculated(data: bytes) -> bytes:
    """As a spreadsheet program saves it: it no longer asks for calculation."""
    return edited(data, "xl/workbook.xml", ' fullCalcOnLoad="1"', "")


def test_a_calculated_formula_is_a_number_like_any(tmp_path: Path) -> None:
    data = calculated(workbook(pours_sheet(pour_row(area="=100*3")), result=300))
    assert read_site(site_with(tmp_path, data)).pours[0].area_m2 == 300


def test_a_formula_that_gives_empty_text_is_a_blank_cell(tmp_path: Path) -> None:
    data = calculated(workbook(pours_sheet(pour_row(slope='=IF(1,"",2)'))))
    data = edited(data, SHEET, '<c r="J2"><f>', '<c r="J2" t="str"><f>')
    assert read_site(site_with(tmp_path, data)).pours[0].slope_pct == 0


def test_a_failed_formula_is_named(tmp_path: Path) -> None:
    rows = pours_sheet(pour_row(area="=1/0"))
    data = calculated(workbook(rows, result="#DIV/0!"))
    found = only(site_with(tmp_path, data))
    assert found.startswith(
        "pours.xlsx:Pours!F2, area: found the error #DIV/0!; expected"
    )


def test_a_cell_shown_as_percent_means_percent(tmp_path: Path) -> None:
    data = workbook(pours_sheet(pour_row(slope=0.025)))
    assert read_site(site_with(tmp_path, data)).pours[0].slope_pct == 2.5


def test_midnight_is_a_time_where_the_cell_shows_one(tmp_path: Path) -> None:
    midnight = datetime(2027, 5, 4)  # noqa: DTZ001 - workbooks have no zone
    data = workbook(pours_sheet(pour_row(placing_end=midnight)))
    (pour,) = read_site(site_with(tmp_path, data)).pours
    assert pour.placing_ends_at == datetime(2027, 5, 3, 22, tzinfo=UTC)


def test_a_day_without_a_time_is_refused(tmp_path: Path) -> None:
    data = workbook(pours_sheet(pour_row(placing_end=date(2027, 5, 4))))
    assert only(site_with(tmp_path, data)) == (
        "pours.xlsx:Pours!E2, placing_end: found 2027-05-04; expected a date and time "
        "such as 2027-06-07 06:00. The clock time is missing"
    )


def test_times_of_day_come_out_to_the_minute(tmp_path: Path) -> None:
    # A workbook keeps 07:10 as 0.29861111…, a fraction no binary number meets.
    starts = [datetime(2027, 5, 3, 7, minute) for minute in range(60)]  # noqa: DTZ001
    rows = [pour_row(n, placing_start=at) for n, at in enumerate(starts)]
    pours = read_site(site_with(tmp_path, workbook(pours_sheet(*rows)))).pours
    assert [p.placing_starts_at.minute for p in pours] == list(range(60))
    assert {p.placing_starts_at.second for p in pours} == {0}


@pytest.mark.parametrize("cell", [True, 2.5])
def test_a_cell_that_is_no_text_is_no_id(tmp_path: Path, cell: object) -> None:
    data = workbook(pours_sheet(pour_row(cell)))
    assert ", pour: found " in only(site_with(tmp_path, data))


def test_a_value_beside_the_table_is_seen(tmp_path: Path) -> None:
    data = workbook(pours_sheet([*pour_row(), "", "check!"]))
    assert only(site_with(tmp_path, data)) == (
        "pours.xlsx:Pours!L2: 'check!' in a column without a name"
    )


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"pour,zone\n"])
def test_what_is_no_workbook(tmp_path: Path, data: bytes) -> None:
    found = only(site_with(tmp_path, data))
    assert found.startswith(
        "pours.xlsx: not a readable workbook. Open it in a spreadsheet"
    )


def test_a_workbook_that_unpacks_without_end(tmp_path: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b"\0" * 61_000_000)
    assert len(out.getvalue()) < 1_000_000
    found = only(site_with(tmp_path, out.getvalue()))
    assert "a workbook larger than 60 MB when unpacked" in found


def test_a_stray_value_at_the_end_of_the_sheet(tmp_path: Path) -> None:
    data = workbook(pours_sheet(pour_row()))
    stray = '<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    found = only(site_with(tmp_path, edited(data, SHEET, "</sheetData>", stray)))
    assert found == (
        "pours.xlsx: found 1048576 rows by 16384 columns; expected at most 1000000 "
        "cells. Is there a stray value far below or beside the table?"
    )


PARTS = (SHEET, "xl/workbook.xml", "xl/styles.xml", "xl/_rels/workbook.xml.rels")
SOUND = workbook(pours_sheet(pour_row(), pour_row("P2", slope="=1")))


@settings(deadline=None, max_examples=50)
@given(st.data())
def test_a_damaged_workbook_is_read_or_refused(data: st.DataObject) -> None:
    part = data.draw(st.sampled_from(PARTS))
    with zipfile.ZipFile(io.BytesIO(SOUND)) as archive:
        text = archive.read(part).decode()
    at = data.draw(st.integers(0, len(text) - 2))
    old = text[at : at + data.draw(st.integers(1, 30))]
    damage = data.draw(st.sampled_from(["", "<c/>", "9", "-1", '"', "A0", "x", "&"]))
    damaged = edited(SOUND, part, old, damage)
    with TemporaryDirectory() as folder:
        site = site_with(Path(folder), damaged)
        (site / "weather.csv").unlink()  # it is quicker, and refused at once
        with suppress(InputError):
            read_site(site)
