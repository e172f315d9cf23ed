"""Signed records are locked; what is written afterwards is shown, not hidden."""

from collections.abc import Sequence
from datetime import timedelta
from functools import cache

import pytest

from models.errors import InputError
from models.records import (
    Entry,
    Found,
    NewEntry,
    PlacingFinished,
    Signed,
    WeatherObserved,
    Withdrawn,
)
from scheduler.recorded.book import Book
from scheduler.recorded.signing import (
    Signer,
    open_points,
    signature,
    signed_record,
)
from tests.scheduler.recorded.recorded_builders import (
    TOP,
    all_done,
    at,
    entry,
    given,
    identities,
    issue,
    planned,
)

OVER = at(60)  # Wednesday 18:00
ADA = Signer("Ada Keel", "quality engineer", OVER)


def book(entries: Sequence[Entry]) -> Book:
    base = given()
    of = planned()
    places = {one.id: one.visit_id or "" for one in identities(of)}
    return Book(base, tuple(entries), (issue(base, of),), {1: places})


def complete() -> list[Entry]:
    entries = all_done()
    placed = entry(len(entries) + 1, -19, PlacingFinished(), about="P1", by="JM")
    return [*entries, placed]


@cache
def locked() -> tuple[Entry, ...]:
    """Everything written, and the record signed."""
    return tuple(signed(complete()))


def kept(new: NewEntry, number: int) -> Entry:
    return Entry.model_validate(
        dict(new) | {"number": number, "written_at": new.happened_at}
    )


def signed(entries: Sequence[Entry], who: Signer = ADA) -> list[Entry]:
    new = signature(book(entries), TOP, who, OVER, with_gaps=False)
    return [*entries, kept(new, len(entries) + 1)]


def test_a_signed_record_is_locked_whatever_the_folder_says_later() -> None:
    entries = list(locked())
    values = entries[-1].values
    assert isinstance(values, Signed)
    now = signed_record(book(entries), TOP, None)
    assert now.digest == values.record_digest
    assert now.amended == ()
    (one,) = now.signatures
    assert (one.name, one.role, one.gaps) == ("Ada Keel", "quality engineer", 0)
    changed = book(entries)
    pours = tuple(
        one.model_copy(update={"area_m2": 999}) for one in changed.site_input.pours
    )
    folder = changed.site_input.model_copy(update={"pours": pours})
    other = Book(folder, changed.entries, changed.issues, changed.places)
    assert signed_record(other, TOP, None) == now
    assert open_points(other, TOP, OVER) == ()


def test_a_later_entry_is_told_with_both_digests_and_signed_anew() -> None:
    first = list(locked())
    was = signed_record(book(first), TOP, None)
    number = len(first) + 1
    amended = [*first, entry(number, 29, Found(condition="dry"))]
    now = signed_record(book(amended), TOP, None)
    assert now.digest != was.digest
    said = f"entry {number}: P1-top: found dry; written by AK"
    assert now.amended[0].startswith(said)
    assert was.digest in now.amended[1]
    assert now.digest in now.amended[2]
    assert open_points(book(amended), TOP, OVER)[-1] == (
        f"signature of what was amended by entry {number}"
    )
    anew = signed(amended, Signer("Ada Keel", "", OVER + timedelta(hours=1)))
    again = signed_record(book(anew), TOP, None)
    assert again.amended == ()
    assert [one.digest for one in again.signatures] == [was.digest, again.digest]


@pytest.mark.parametrize(
    ("later", "touches"),
    [
        ({"about": "P2-top", "values": Found(condition="dry")}, False),
        ({"about": "P1", "values": PlacingFinished(), "corrects": 10}, True),
        ({"about": "", "values": Withdrawn(), "corrects": 2}, True),
        ({"about": "", "values": WeatherObserved(wind_m_s=9)}, True),
    ],
    ids=["another surface", "its pour", "withdrawn", "weather of its days"],
)
def test_only_what_concerns_the_surface_amends_it(
    later: dict[str, object], touches: bool
) -> None:
    first = list(locked())
    base: dict[str, object] = {
        "number": len(first) + 1, "happened_at": at(20), "by": "AK",
        "written_at": at(62),
    }  # fmt: skip
    more = [*first, Entry.model_validate(base | later)]
    assert bool(signed_record(book(more), TOP, None).amended) == touches


def test_a_second_person_signs_the_very_same_text() -> None:
    first = list(locked())
    later = Signer("Ben Oar", "resident engineer", OVER + timedelta(days=1))
    new = signature(book(first), TOP, later, later.now, with_gaps=False)
    both = [*first, kept(new, len(first) + 1)]
    one, two = signed_record(book(both), TOP, None).signatures
    assert one.digest == two.digest
    assert new.by == "BO"
    with pytest.raises(InputError, match="signed by Ada Keel already"):
        signed(first)


def test_what_is_missing_is_signed_only_if_it_is_said() -> None:
    entries = all_done(but=(3,))
    with pytest.raises(InputError, match="1 visit without an entry: RE-WET Mon 3 May"):
        signed(entries)
    new = signature(book(entries), TOP, ADA, OVER, with_gaps=True)
    assert new.note == "2 missing"
    (one,) = signed_record(
        book([*entries, kept(new, len(entries) + 1)]), TOP, None
    ).signatures
    assert one.gaps == 2


def test_nobody_signs_what_is_not_over() -> None:
    with pytest.raises(InputError, match="NOT over: expected Wed 5 May 11:00"):
        signature(book(complete()), TOP, ADA, at(40), with_gaps=True)


def test_a_withdrawn_signature_is_none() -> None:
    entries = list(locked())
    gone = entry(
        len(entries) + 1, 61, Withdrawn(), about="", corrects=entries[-1].number
    )
    now = signed_record(book([*entries, gone]), TOP, None)
    assert now.signatures == ()
    assert now.amended == ()
