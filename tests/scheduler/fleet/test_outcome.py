"""The order of the table and the code that a script sees."""

from pathlib import Path

from models.errors import Place, Problem
from scheduler.fleet.outcome import (
    Outcome,
    Planned,
    Unplanned,
    exit_code,
    worst_first,
)


def planned(name: str, dry_min: int, cost: float = 0.0, breached: int = 0) -> Planned:
    return Planned(Path(name), name, 1, 2, breached, 3, dry_min, cost, 1.0)


BAD = Unplanned(Path("bad"), 10, problems=(Problem(Place("f"), "x", "1", "2"),))
BROKEN = Unplanned(Path("broken"), 1, fault="a bug")


def test_no_plan_is_worst_then_breaches_then_the_longest_dry_then_the_dearest() -> None:
    outcomes: list[Outcome] = [
        planned("frosty", 0, breached=1),
        planned("damp", 0),
        planned("cheap", 90, cost=5),
        BAD,
        planned("dear", 90, cost=6),
        planned("desert", 91),
        BROKEN,
    ]
    names = [outcome.folder.name for outcome in worst_first(outcomes)]
    assert names == ["broken", "bad", "frosty", "desert", "dear", "cheap", "damp"]


def test_equals_stand_by_name_in_whatever_order_they_came() -> None:
    one, other = planned("a", 5), planned("b", 5)
    assert worst_first([other, one]) == worst_first([one, other]) == [one, other]


def test_a_fault_of_the_program_outweighs_a_bad_folder() -> None:
    assert exit_code([]) == 0
    assert exit_code([planned("damp", 500)]) == 0
    assert exit_code([planned("damp", 0), BAD]) == 10
    assert exit_code([BAD, BROKEN, BAD]) == 1
