"""The page itself: what is printed, how large, on what paper."""

import re
from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from exports.entries import entries
from exports.entry import Entry
from exports.sheets import ShiftSheet, render, shift_sheets
from tests.builders import weather
from tests.exports.exports_builders import (
    DRAFT,
    frosty_report,
    small_report,
    small_roster,
    small_site,
)
from tests.exports.sheets.pdf_reader import read_pdf, title

MM_PT = 72 / 25.4


def sheets(
    found: tuple[Entry, ...] | None = None, **site_fields: object
) -> list[ShiftSheet]:
    site, roster, report = small_site(**site_fields), small_roster(), small_report()
    words = entries(site, roster, report) if found is None else found
    return [
        sheet
        for _, sheet in shift_sheets(site, roster, report, words, weather(), DRAFT)
    ]


def crowded(count: int, **fields: object) -> tuple[Entry, ...]:
    """The day shift with this many visits, each made of the rewet of the pit."""
    model = entries(small_site(), small_roster(), small_report())[1]
    return tuple(
        model.model_copy(
            update={
                "visit_id": f"v{i:02}",
                "starts_at": model.starts_at + timedelta(minutes=i),
                **fields,
            }
        )
        for i in range(count)
    )


LONG = {
    "title": "RE-WET North-eastern approach ramp… 1,300 m²",
    "zone_words": "North-eastern approach ramp, lower part · level mezzanine 2 · "
    "grid AA-AF / 12-19",
    "water_point_name": "Standpipe by the eastern gate house",
    "water_words": "1,480 L from Standpipe by the eastern gate house, 24 L/min",
    "draw_words": "1,480 L, 24 L/min",
    "cautions": ("Wet rolls weigh 30 to 60 kg: two people or a trolley.", "Ask."),
}


def test_a_page_says_everything_of_its_sheet() -> None:
    sheet = sheets()[0]
    (page,) = read_pdf(render(sheet))
    lines = [
        sheet.crew, sheet.site, sheet.shift, sheet.lead, sheet.phone,
        sheet.zone_note, sheet.revision, sheet.bring, sheet.standing_orders,
        sheet.aid, *sheet.weather, *sheet.water, *sheet.dry, *sheet.cautions,
        *sheet.coming,
    ]  # fmt: skip
    for row in sheet.pages[0].rows:
        lines += [
            row.start_by, row.planned, row.title, row.place, row.people, row.time,
            row.water_point, row.water, row.dry_by, row.state,
        ]  # fmt: skip
    # where a line is broken on the page, its space is not drawn
    text = page.text.replace(" ", "")
    assert [line for line in lines if line.replace(" ", "") not in text] == []


def test_what_is_dangerous_is_printed_above_the_work() -> None:
    site, roster, report = small_site(), small_roster(), frosty_report()
    words = entries(site, roster, report)
    sheet = next(
        iter(dict(shift_sheets(site, roster, report, words, None, DRAFT)).values())
    )
    (page,) = read_pdf(render(sheet))
    text = page.text.replace(" ", "")
    frost, warm = sheet.breaches
    wanted = [
        sheet.shift, "Temperature outside its limit", frost.heading, frost.do,
        frost.lines[0], warm.heading, "Start by", sheet.pages[0].rows[0].title,
    ]  # fmt: skip
    found = [text.index(words.replace(" ", "")) for words in wanted]
    assert found == sorted(found)


def test_a_form_has_room_to_write_and_to_sign() -> None:
    (page,) = read_pdf(render(sheets()[0]))
    for label in ("WDPX", "REMARKS", "Handed over", "Taken over"):
        assert label in page.text


def test_letters_can_be_read_at_arms_length() -> None:
    """Eleven points for a usual shift; the smallest, form labels, above eight."""
    for sheet in sheets():
        (page,) = read_pdf(render(sheet))
        assert 11 in page.sizes_pt
        assert min(page.sizes_pt) > 8


def test_a_full_page_is_still_ten_points() -> None:
    (page,) = read_pdf(render(sheets(crowded(12))[0]))
    assert {10, 10.5, 11} & page.sizes_pt


def test_paper_by_units() -> None:
    (a4,) = read_pdf(render(sheets()[0]))
    (letter,) = read_pdf(render(sheets(units="us")[0]))
    # ISO 216: 210 × 297 mm; ANSI/ASME Y14.1: 8.5 × 11 in
    assert (a4.width_pt, a4.height_pt) == pytest.approx(
        (210 * MM_PT, 297 * MM_PT), abs=0.1
    )
    assert (letter.width_pt, letter.height_pt) == pytest.approx((612, 792), abs=0.1)


@pytest.mark.parametrize(
    ("visits", "pages"), [(0, 1), (1, 1), (12, 1), (13, 2), (25, 3)]
)
def test_pages_are_those_of_the_sheet(visits: int, pages: int) -> None:
    sheet = sheets(crowded(visits))[0]
    printed = read_pdf(render(sheet))
    assert len(sheet.pages) == len(printed) == pages
    for number, page in enumerate(printed, start=1):
        assert f"Page {number} of {pages}" in page.text


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("visits", [5, 9, 13, 20])
def test_long_names_never_spill_onto_a_page_of_their_own(
    units: str, visits: int
) -> None:
    sheet = sheets(crowded(visits, **LONG), units=units)[0]
    assert len(read_pdf(render(sheet))) == len(sheet.pages)


def test_an_idle_shift_says_so() -> None:
    (page,) = read_pdf(render(sheets(())[0]))
    assert "No curing work planned for this crew in this shift." in page.text
    assert "Standing orders".upper() in page.text


def test_same_sheet_same_bytes() -> None:
    sheet = sheets()[1]
    assert render(sheet) == render(ShiftSheet.model_validate(sheet.model_dump()))


def test_screen_readers_get_tags_a_title_and_a_language() -> None:
    data = render(sheets()[0])
    assert title(data) == "Shift sheet, Red gang, Mon 3 May 07:00–17:00 CEST"
    assert b"/Lang(en)" in data
    assert b"/Marked true" in data
    assert re.search(rb"<pdfuaid:part>1</pdfuaid:part>", data)
    assert data.count(b"/S/TH/") == 7  # a head for each column


@pytest.mark.parametrize(
    "name", ["Łódź wharf", "Пирс 4", "Κρηπίδα", "घाट दो", "Bến cảng"]
)
def test_names_of_many_scripts_are_printed(name: str) -> None:
    assert render(sheets(name=name)[0]).startswith(b"%PDF")


@settings(deadline=None, max_examples=25)
@given(st.text(st.characters(codec="latin-1"), min_size=1, max_size=60))
def test_no_name_is_taken_for_markup(name: str) -> None:
    sheet = sheets(name=name)[0]
    (page,) = read_pdf(render(sheet))
    assert sheet.site.replace(" ", "") in page.text.replace(" ", "")
