"""Short visits as one round."""

from datetime import timedelta
from typing import Any

import pytest

from exports.entries import entries
from exports.entry import Entry
from exports.rounds import Round, rounds
from models.records import TaskKind
from tests.builders import MONDAY
from tests.exports.exports_builders import small_report, small_roster, small_site


def visit(
    start_min: int, kind: TaskKind = "rewet", minutes: int = 10, **fields: object
) -> Entry:
    """A visit of the small roster, moved: by default ten minutes, late in an hour."""
    model = entries(small_site(), small_roster(), small_report())[1]
    at = MONDAY + timedelta(minutes=start_min)
    base: dict[str, object] = {
        "visit_id": f"{kind}-{start_min:04}", "kind": kind, "starts_at": at,
        "ends_at": at + timedelta(minutes=minutes),
        "start_by_at": at + timedelta(hours=1),
    }  # fmt: skip
    return model.model_copy(update=base | fields)


def sizes(*visits: Entry) -> list[int]:
    return [len(one_round.entries) for one_round in rounds(visits)]


def test_a_pause_of_ten_minutes_joins_eleven_part() -> None:
    assert sizes(visit(0), visit(20), visit(40)) == [3]
    assert sizes(visit(0), visit(21)) == [1, 1]


@pytest.mark.parametrize(
    "other",
    [{"zone_id": "A"}, {"shift_id": "red/tue"}, {"crew_id": "owl"}],
    ids=str,
)
def test_zone_shift_and_crew_part(other: dict[str, Any]) -> None:
    assert sizes(visit(0), visit(12, **other)) == [1, 1]


def test_another_crew_in_between_does_not_part() -> None:
    made = rounds([visit(0), visit(5, crew_id="owl"), visit(12)])
    assert [[e.starts_at for e in one_round.entries] for one_round in made] == [
        [MONDAY, MONDAY + timedelta(minutes=12)],
        [MONDAY + timedelta(minutes=5)],
    ]


@pytest.mark.parametrize("kind", ["fog", "lay_cover", "spray_compound", "soak"])
def test_long_work_stays_alone(kind: TaskKind) -> None:
    assert sizes(visit(0), visit(12, kind), visit(24)) == [1, 1, 1]


def test_no_round_is_longer_than_a_screen() -> None:
    assert sizes(*(visit(9 * i, minutes=5) for i in range(20))) == [8, 8, 4]


def test_no_round_is_longer_than_an_hour_and_a_half() -> None:
    assert sizes(visit(0), visit(20, minutes=40), visit(65, minutes=25)) == [3]
    assert sizes(visit(0), visit(20, minutes=40), visit(65, minutes=26)) == [2, 1]


def test_all_visits_are_kept_once() -> None:
    found = entries(small_site(), small_roster(), small_report())
    walked = [entry for one_round in rounds(found) for entry in one_round.entries]
    assert sorted(e.visit_id for e in walked) == sorted(e.visit_id for e in found)


def test_a_round_must_start_while_no_visit_in_it_is_late() -> None:
    # the second may slip by 5 min only, the first by an hour
    second = visit(12, start_by_at=MONDAY + timedelta(minutes=17))
    (one_round,) = rounds([visit(0), second])
    assert one_round.start_by_at == MONDAY + timedelta(minutes=5)
    assert (one_round.starts_at, one_round.ends_at) == (
        MONDAY, MONDAY + timedelta(minutes=22),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("visits", "title"),
    [
        ([visit(0)], "RE-WET Pump pit floor 120 m²"),
        ([visit(0), visit(12)], "ROUND Pump hall: 2 × RE-WET"),
        (
            [visit(0), visit(12, "inspect")],
            "ROUND Pump hall: 1 × RE-WET, 1 × INSPECT",
        ),
        (
            [visit(0), visit(12, "inspect"), visit(24, "check_coverage")],
            "ROUND Pump hall: 3 visits",
        ),
    ],
)
def test_title(visits: list[Entry], title: str) -> None:
    (one_round,) = rounds(visits)
    assert one_round.title == title


def test_a_long_zone_is_cut() -> None:
    name = "North-eastern approach ramp, lower part"
    one_round = Round(
        entries=(visit(0, zone_name=name), visit(12, "inspect", zone_name=name))
    )
    assert len(one_round.title) <= 40
    assert one_round.title.endswith("…: 1 × RE-WET, 1 × INSPECT")
