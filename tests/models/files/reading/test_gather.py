"""Problems come in the order of the files, and not by the thousand."""

import pytest

from models.errors import InputError, Problem
from models.files.reading.gather import ALIKE_SHOWN, Gatherer, Place


def test_problems_come_by_file_line_and_column() -> None:
    gather = Gatherer()
    gather.begin("site.toml")
    gather.add(Place("pours.csv", 3, 2), "zone", "'x'", "a zone")
    gather.add(Place("pours.csv", 3, 1), "pour", "nothing", "an id")
    gather.add(Place("site.toml", 9), "flow", "0", "above 0")
    gather.add(Place("pours.csv", 2, 9), "area", "-1", "above 0")
    shown = [(p.place, p.field) for p in gather.problems()]
    assert shown == [
        ("site.toml:9", "flow"), ("pours.csv:2", "area"),
        ("pours.csv:3", "pour"), ("pours.csv:3", "zone"),
    ]  # fmt: skip


def test_many_alike_are_shown_a_few_times_then_counted() -> None:
    gather = Gatherer()
    for row in range(168):
        gather.add(Place("weather.csv", row + 2), "time", f"'{row}'", "a date and time")
    found = gather.problems()
    assert [p.place for p in found[:ALIKE_SHOWN]] == [
        f"weather.csv:{row + 2}" for row in range(ALIKE_SHOWN)
    ]
    assert found[ALIKE_SHOWN:] == (
        Problem("weather.csv", "time", "163 more like those above", "a date and time"),
    )


def test_nothing_is_raised_without_a_problem() -> None:
    Gatherer().raise_if_any()


def test_all_are_raised_together() -> None:
    gather = Gatherer()
    gather.add(Place("a"), "", "x", "y")
    gather.add(Place("b", 1, cell="Pours!D7"), "", "x", "y", "mend it")
    with pytest.raises(InputError, match="2 problems") as refused:
        gather.raise_if_any()
    assert str(refused.value.problems[1]) == ("b:Pours!D7: found x; wanted y. Mend it")
