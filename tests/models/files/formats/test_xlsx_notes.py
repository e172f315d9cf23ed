"""What is read of a workbook's own XML, and that damage to it never gets out."""

from models.files.formats.xlsx_notes import CellNotes, read_notes
from tests.models.files.workbooks import HEADER, edited, pour_row, workbook

BOOK = workbook({"Pours": [HEADER, pour_row(slope="=1"), pour_row(slope=0.02)]})
#: The same without the request to calculate on opening.
DONE = edited(BOOK, "xl/workbook.xml", ' fullCalcOnLoad="1"', "")


def test_notes_of_a_small_sheet() -> None:
    notes = read_notes(BOOK, "Pours")
    assert notes.uncalculated == {(1, 9)}
    assert notes.percents == {(2, 9)}
    assert notes.timed == {(1, 3), (1, 4), (2, 3), (2, 4)}
    assert (notes.rows, notes.columns) == (3, 10)


def test_a_result_is_trusted_once_it_has_been_calculated() -> None:
    done = edited(
        DONE, "xl/worksheets/sheet1.xml", "<f>1</f><v></v>", "<f>1</f><v>1</v>"
    )
    assert read_notes(done, "Pours").uncalculated == frozenset()
    asked = edited(
        BOOK, "xl/worksheets/sheet1.xml", "<f>1</f><v></v>", "<f>1</f><v>1</v>"
    )
    assert read_notes(asked, "Pours").uncalculated == {(1, 9)}


def test_a_sheet_that_is_not_there_has_no_notes() -> None:
    assert read_notes(BOOK, "Programme") == CellNotes()


def test_any_damaged_byte_leaves_no_notes_or_some() -> None:
    for at in range(0, len(BOOK), 5):
        damaged = BOOK[:at] + bytes([BOOK[at] ^ 0xA5]) + BOOK[at + 1 :]
        assert isinstance(read_notes(damaged, "Pours"), CellNotes)
