"""The page of a curing record: all of it is printed, the same each time."""

import pytest

from exports.record import render
from exports.record.course import course_svg
from exports.record.curing_record import Row, Section, Sign
from tests.exports.record.record_builders import course, record, signed
from tests.exports.sheets.pdf_reader import read_pdf

MM_PT = 72 / 25.4


def printed(data: bytes) -> str:
    """All words of all pages; where a line is broken its space is not drawn."""
    return "".join(page.text for page in read_pdf(data)).replace(" ", "")


def test_a_page_says_everything_of_its_record() -> None:
    of = signed()
    made = of.record
    lines = [
        made.site, made.surface, made.zone_note, made.verdict, *made.missing,
        *made.not_met, *made.notes, *of.amended, *of.digest[:32:31],
    ]  # fmt: skip
    lines += [part for fact in made.facts for part in (fact.value, fact.source)]
    for section in made.sections:
        lines += [section.title, section.none, *section.columns]
        lines += [cell for row in section.rows for cell in row.cells]
    for one in of.signatures:
        lines += [one.name, one.role, one.when, one.digest[:32], "with 1 missing"]
    text = printed(render(of))
    assert [line for line in lines if line.replace(" ", "") not in text] == []


def test_what_is_wrong_stands_above_the_proofs() -> None:
    text = printed(render(signed()))
    wanted = ["Amendedaftersigning", "Notmet", "Missingforsign-off", "Asked"]
    found = [text.index(words) for words in wanted]
    assert found == sorted(found)


def test_there_is_room_to_sign_with_name_role_and_date() -> None:
    text = printed(render(signed(signatures=(), amended=())))
    assert "NameRoleDateSignature" in text
    assert "Amended" not in text


def test_paper_is_that_of_the_site() -> None:
    (a4, *_) = read_pdf(render(signed()))
    (letter, *_) = read_pdf(render(signed(record(paper="us-letter"))))
    # ISO 216: 210 × 297 mm; ANSI/ASME Y14.1: 8.5 × 11 in
    assert (a4.width_pt, a4.height_pt) == pytest.approx(
        (210 * MM_PT, 297 * MM_PT), abs=0.1
    )
    assert (letter.width_pt, letter.height_pt) == pytest.approx((612, 792), abs=0.1)


def test_the_same_record_gives_the_same_bytes() -> None:
    assert render(signed()) == render(signed())


def test_screen_readers_get_a_title_tags_and_words_for_the_picture() -> None:
    data = render(signed())
    assert b"/Title(Curing record, P1 Quay slab, top, Heron Wharf)" in data
    assert b"/Lang(en)" in data
    assert b"/Marked true" in data
    assert b"/Alt" in data


def test_pages_are_numbered_and_carry_the_digest() -> None:
    row = Row(cells=("RE-WET", "Mon 3 May 07:00"))
    long = Section(
        title="Work on the surface", columns=("Work", "Planned"), widths=(1, 1),
        rows=(row,) * 90,
    )  # fmt: skip
    of = signed(record(sections=(*record().sections, long)))
    pages = read_pdf(render(of))
    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        assert f"Page {number} of {len(pages)}" in page.text
        assert of.digest[:16] in page.text


@pytest.mark.parametrize(
    "name", ["Łódź wharf", "#import", "$x$ *bold* @ref", "<a> & b"]
)
def test_names_are_text_and_never_markup(name: str) -> None:
    text = printed(render(signed(record(site=name))))
    assert name.replace(" ", "") in text


def test_the_course_names_a_dry_find_rather_than_the_wet_one_beside_it() -> None:
    drawn = course_svg(course())
    assert drawn.count(">X</text>") == 1
    assert drawn.count(">W</text>") == 1  # the one that stands alone
    assert 'fill="none" stroke="#000" stroke-width="0.8"/>' in drawn  # nobody wrote


def test_words_in_the_course_cannot_break_its_svg() -> None:
    limits = (Sign(x_fraction=1, value=10.0, words="<b> & 10 °C"),)
    assert "&lt;b&gt; &amp; 10 °C" in course_svg(course(limits=limits))


def test_a_course_with_nothing_to_draw_is_drawn() -> None:
    bare = course(
        planned=(), found=(), dry=(), finds=(), written=(), unwritten=(), face=(),
        core=(), readings=(), limits=(), ends_fraction=None,
    )  # fmt: skip
    assert read_pdf(render(signed(record(course=bare))))
