"""Problems come in the order of the files, and not by the thousand."""

import pytest

from models.errors import InputError, Place, Problem
from models.files.reading.problems import MOST_SHOWN, ProblemCollector


def test_problems_come_by_file_line_and_column() -> None:
    problems = ProblemCollector()
    problems.begin("site.toml")
    problems.add(Place("pours.csv", 3, 2), "zone", "'x'", "a zone")
    problems.add(Place("pours.csv", 3, 1), "pour", "", "an id")
    problems.add(Place("site.toml", 9), "flow", "0", "above 0")
    problems.add(Place("pours.csv", 2, 9), "area", "-1", "above 0")
    shown = [(str(p.place), p.field) for p in problems.in_order()]
    assert shown == [
        ("site.toml:9", "flow"), ("pours.csv:2", "area"),
        ("pours.csv:3", "pour"), ("pours.csv:3", "zone"),
    ]  # fmt: skip


def test_many_alike_are_shown_a_few_times_then_counted() -> None:
    problems = ProblemCollector()
    for row in range(168):
        problems.add(
            Place("weather.csv", row + 2), "time", f"'{row}'", "a date and time"
        )
    found = problems.in_order()
    assert [str(p.place) for p in found[:MOST_SHOWN]] == [
        f"weather.csv:{row + 2}" for row in range(MOST_SHOWN)
    ]
    assert found[MOST_SHOWN:] == (
        Problem(
            Place("weather.csv"), "time", "163 more like those above", "a date and time"
        ),
    )


def test_nothing_is_raised_without_a_problem() -> None:
    ProblemCollector().raise_if_any()


def test_all_are_raised_together() -> None:
    problems = ProblemCollector()
    problems.add(Place("a"), "", "x", "y")
    problems.add(Place("b", 1, cell="Pours!D7"), "", "x", "y", "Mend it")
    with pytest.raises(InputError, match="2 problems") as refused:
        problems.raise_if_any()
    assert str(refused.value.problems[1]) == (
        "b:Pours!D7: found x; expected y. Mend it"
    )
