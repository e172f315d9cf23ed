"""From which minute of a visit on a surface is wet."""

import pytest

from models.records import Task


@pytest.mark.parametrize(
    ("fields", "minute"),
    [
        ({"effect": "wet"}, 10),  # the hose reaches half of it in half of the time
        ({"effect": "wet", "duration_min": 15}, 7),
        ({"effect": "seal"}, 10),
        ({"effect": "protect", "strip": True}, 10),  # a strip that is soaked later
        ({"effect": "protect"}, 0),  # fog is everywhere at once
        ({"effect": "none"}, 0),
    ],
)
def test_who_goes_over_a_surface_has_done_half_of_it_by_the_middle(
    fields: dict[str, object], minute: int
) -> None:
    given: dict[str, object] = {
        "id": "S/do", "surface_id": "S", "kind": "rewet", "title": "Do",
        "earliest_min": 0, "due_min": 90, "latest_min": 90, "duration_min": 20,
        "people": 1,
    }  # fmt: skip
    assert Task.model_validate(given | fields).half_done_min == minute
