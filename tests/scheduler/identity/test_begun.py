"""Visits that have begun, found in the roster that goes on from them."""

from datetime import timedelta

from models.records import Visit
from scheduler.identity.begun import pins
from tests.scheduler.identity.identity_builders import at


def rewet(visit_id: str, start_min: int, crew_id: str = "red") -> Visit:
    return Visit(
        id=visit_id, task_id="P1/rewet", surface_id="P1", crew_id=crew_id,
        shift_id=f"{crew_id}/mon", starts_at=at(start_min),
        ends_at=at(start_min) + timedelta(minutes=30),
    )  # fmt: skip


def test_what_began_is_found_whatever_its_number() -> None:
    begun = {"a": rewet("P1/rewet/1", 610), "b": rewet("P1/rewet/2", 900, "owl")}
    now = [
        rewet("P1/rewet/1", 500),
        rewet("P1/rewet/2", 610),
        rewet("P1/rewet/3", 900, "owl"),
        rewet("P1/rewet/4", 900),
    ]
    assert pins(begun, now) == {"P1/rewet/2": "a", "P1/rewet/3": "b"}


def test_what_the_new_roster_has_no_more_is_left_out() -> None:
    assert pins({"a": rewet("P1/rewet/1", 610)}, [rewet("P1/rewet/1", 620)]) == {}


def test_two_of_a_kind_are_two() -> None:
    twice = [rewet("P1/rewet/1", 610), rewet("P1/rewet/2", 610)]
    assert pins({"a": twice[0], "b": twice[1]}, twice) == {
        "P1/rewet/1": "a", "P1/rewet/2": "b",
    }  # fmt: skip
