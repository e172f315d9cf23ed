"""Identities of calendar entries."""

from uuid import UUID

from hypothesis import given
from hypothesis import strategies as st

from exports.calendar.identity import uid


def test_same_visit_same_identity_for_ever() -> None:
    """Were this value to change, every phone would show every entry twice.

    By RFC 9562 section 5.5: SHA-1 of the namespace's 16 octets and of
    ``11:Heron Wharf5:visit14:P1-top/rewet/1``, with version 5 and its variant set.
    """
    assert (
        uid("Heron Wharf", "visit", "P1-top/rewet/1")
        == "73b2220e-edf4-5e49-8333-7f58b1994d3f"
    )


def test_a_name_typed_in_two_ways_is_one_site() -> None:
    assert uid("Hafen Mu\u0308nde", "visit", "a") == uid("Hafen Münde", "visit", "a")


def test_parts_do_not_run_together() -> None:
    assert uid("s", "ab", "c") != uid("s", "a", "bc")


@given(st.text(), st.lists(st.text(), min_size=1, max_size=3))
def test_is_a_uuid(site_name: str, parts: list[str]) -> None:
    assert str(UUID(uid(site_name, *parts))) == uid(site_name, *parts)
