"""Which names a sheet can print, and which of a folder's texts stand on one."""

from collections.abc import Iterator

import pytest

from exports.entries import entries
from exports.sheets.letters import PRINTED, without_letters
from exports.sheets.render import render
from exports.sheets.shift_sheets import shift_sheets
from models.records import Crew, Mix, Site, WaterPoint, Zone
from models.records.base import Record
from tests.builders import weather
from tests.exports.exports_builders import DRAFT, small_report, small_roster, small_site


@pytest.mark.parametrize(
    "name",
    ["Łódź wharf", "Пирс 4", "Κρηπίδα", "घाट दो", "Bến cảng", "50 % – ½ №1 m² 3″"],
)
def test_names_of_four_scripts_have_letters(name: str) -> None:
    assert without_letters([name]) == {}


@pytest.mark.parametrize(
    ("name", "sign"),
    [
        ("王 wharf", "王"),
        ("Wharf 🙂", "🙂"),
        ("Dock ع", "ع"),
        ("ท่า", "ท่"),
        ("≥ 5", "≥"),
    ],
)
def test_the_first_sign_without_a_letter_is_named(name: str, sign: str) -> None:
    assert without_letters([name]) == {name: sign}


def test_of_many_names_those_at_fault_are_found() -> None:
    names = [f"Bay {number}" for number in range(50)]
    names[7], names[40] = "Bay 七", "Bay 🙂"
    assert without_letters(names) == {"Bay 七": "七", "Bay 🙂": "🙂"}


def test_marks_that_turn_the_writing_are_left_out_as_on_the_sheet() -> None:
    assert without_letters(["Quay \u200e4"]) == {}


#: Texts that people write; ids of pours are held by what a check of a folder refuses.
TEXTS: dict[type[Record], tuple[str, ...]] = {
    Site: ("name",),
    Zone: ("name", "level", "grid"),
    Crew: ("name", "lead", "phone"),
    WaterPoint: ("name",),
    Mix: ("title",),
}


def marked(record: Record) -> Iterator[tuple[str, str]]:
    """Give each text field of a record with a word of its own."""
    kind = type(record)
    for field in TEXTS.get(kind, ()):
        yield field, f"zz{kind.__name__}{field}zz"


def test_what_stands_on_the_sheets_is_what_is_tried() -> None:
    site = small_site()
    lists = {
        name: tuple(one.model_copy(update=dict(marked(one))) for one in value)
        for name in ("zones", "crews", "water_points", "mixes")
        for value in (getattr(site, name),)
    }
    site = site.model_copy(update=lists | dict(marked(site)))
    roster, report = small_roster(), small_report()
    words = entries(site, roster, report)
    named = shift_sheets(site, roster, report, words, weather(), DRAFT)
    sheets = [sheet for _, sheet in named]
    printed = "".join(sheet.model_dump_json() for sheet in sheets)
    for kind, fields in TEXTS.items():
        for field in fields:
            on_a_sheet = f"zz{kind.__name__}{field}zz" in printed
            assert on_a_sheet == (field in PRINTED.get(kind, ())), (kind, field)
    assert render(sheets[0]).startswith(b"%PDF")
