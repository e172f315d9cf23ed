"""Text that may travel."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from exports.text import (
    clean,
    file_name,
    one_line,
    shorten,
    shorten_label,
    visible_signs,
)


@pytest.mark.parametrize(
    ("raw", "cleaned"),
    [
        ("a\r\nb\rc\u2028d\x0be", "a\nb\nc\nd\ne"),
        ("bell\x07 nul\x00 tab\tend", "bell nul tab end"),
        ("lone \ud800 surrogate", "lone  surrogate"),
        ("turned \u202etfel", "turned tfel"),
        ("e\u0301", "é"),
        ("क्\u200dष", "क्\u200dष"),
    ],
)
def test_clean(raw: str, cleaned: str) -> None:
    assert clean(raw) == cleaned


def test_one_line_takes_single_spaces() -> None:
    assert one_line("  Quay \n slab\t 2 ") == "Quay slab 2"


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Quay", 4),
        ("e\u0301a", 2),  # e with its accent, a
        ("क्षि", 2),  # two consonants, each with its marks
        ("👷\u200d♀\ufe0f", 1),  # a worker, joined to a sign of sex
        ("👍🏽", 1),  # a thumb with a skin tone
    ],
)
def test_signs_are_counted_as_a_reader_does(text: str, count: int) -> None:
    assert len(visible_signs(text)) == count


@pytest.mark.parametrize(
    ("text", "most", "short"),
    [
        ("Quay slab", 9, "Quay slab"),
        ("Quay slab", 8, "Quay sl…"),
        ("Quay slab", 6, "Quay…"),  # no space before the ellipsis
        ("e\u0301e\u0301e\u0301", 2, "e\u0301…"),
    ],
)
def test_shorten(text: str, most: int, short: str) -> None:
    assert shorten(text, most) == short


@given(st.text(), st.integers(1, 50))
def test_short_is_short_and_a_beginning(text: str, most: int) -> None:
    short = shorten(text, most)
    assert len(visible_signs(short)) <= most
    assert text.startswith(short.removesuffix("…"))


@given(st.text(st.characters()))
def test_clean_text_can_be_written_and_stays_clean(text: str) -> None:
    cleaned = clean(text)
    assert cleaned.encode().decode() == cleaned
    assert clean(cleaned) == cleaned
    assert not [
        sign
        for sign in cleaned
        if sign != "\n" and unicodedata.category(sign) in {"Cc", "Cs"}
    ]


@given(st.text(), st.text())
def test_two_ids_never_share_a_file_and_none_leaves_its_folder(
    one: str, other: str
) -> None:
    assert (file_name(one) == file_name(other)) == (one == other)
    assert "/" not in file_name(one)
    assert "\\" not in file_name(one)


def test_file_of_an_id_of_two_words_reads_as_it_is_written() -> None:
    assert file_name("night gang") == "night gang"
    assert file_name("a/b") == "a%2Fb"


@pytest.mark.parametrize(
    ("label", "part", "cut"),
    [
        ("L4 Lock chamber, faces", "faces", "L4 Lock chamber, faces"),
        ("L4 Lock chamber by the weir, faces", "faces", "L4 Lock chamber b…, faces"),
        ("L4 Lock chamber by the weir, top", "top", "L4 Lock chamber by…, top"),
        ("L4, all of the chamber, top", "top", "L4, all of the cham…, top"),
        ("Lock chamber by the old weir", "", "Lock chamber by the old…"),
    ],
)
def test_a_cut_label_keeps_what_tells_top_from_faces(
    label: str, part: str, cut: str
) -> None:
    assert shorten_label(label, part, 25) == cut


def test_a_label_with_no_room_for_its_part_keeps_its_beginning() -> None:
    # ", faces" would leave 5 of 12 signs, less than half.
    assert shorten_label("L4 Lock chamber, faces", "faces", 12) == "L4 Lock cha…"
