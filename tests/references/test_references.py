from dataclasses import replace

import pytest

from tests.references.case import Case
from tests.references.collect import topics
from tests.references.table import count, independent, row, sources, table

ALL_CASES = [case for cases in topics().values() for case in cases]


@pytest.mark.parametrize("case", ALL_CASES, ids=lambda case: case.id)
def test_ours_agrees_with_the_source(case: Case) -> None:
    difference = abs(case.ours() - case.expected)
    assert difference <= case.allowed, f"{case.quantity}, {case.source}"


def test_every_case_has_an_id_of_its_own() -> None:
    ids = [case.id for case in ALL_CASES]
    assert sorted(set(ids)) == sorted(ids)


def test_no_topic_is_empty() -> None:
    assert [name for name, cases in topics().items() if not cases] == []


def test_table_names_every_source() -> None:
    printed = table()
    assert {case.source for case in ALL_CASES if case.source not in printed} == set()


def test_table_marks_a_value_outside_its_tolerance() -> None:
    wrong = Case("x", "a book", "read", "water", "kg", 2.0, lambda: 2.2, 0.05, True)
    assert row(wrong)[-1] == "OUT"


def test_table_leaves_a_value_inside_its_tolerance_unmarked() -> None:
    right = Case("x", "a book", "read", "water", "kg", 2.0, lambda: 2.2, 0.3)
    assert row(right)[-1] == ""


def test_formulas_rest_on_many_values_and_sources_even_without_what_is_quoted() -> None:
    own = [case for case in independent(ALL_CASES) if not case.quoted]
    assert len(own) >= 300
    assert len(sources(own)) >= 50
    assert sum(case.how == "read" for case in own) >= 150


def test_table_ends_with_the_count_of_values_and_sources() -> None:
    def case(source: str) -> Case:
        return Case("x", source, "read", "water", "kg", 2.0, lambda: 2.0, 0.1)

    some = [case("a book, table 1"), case("a book, table 2"), case("a paper (1999)")]
    quoted = replace(case("a rule"), quoted=True)
    slip = Case("y", "ours", "regression", "water", "kg", 2.0, lambda: 2.0, 0.1)
    assert count([*some, quoted, slip]).splitlines() == [
        "3 values (3 read, 0 from memory, 0 package, 0 analytic) of 2 sources",
        "1 figures that ours quote (1 read, 0 from memory, 0 package, 0 analytic) "
        "of 1 sources",
        "together 4 values (4 read, 0 from memory, 0 package, 0 analytic) "
        "of 3 sources, and 1 regressions",
    ]
    assert table().endswith(count(ALL_CASES))
