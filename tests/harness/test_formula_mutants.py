import tomllib

import pytest

from tests.harness.formula_mutants import (
    ROOT,
    FormulaMutant,
    changed,
    ends,
    listed,
    noticed,
)
from tests.references.case import Case, How


@pytest.mark.parametrize("mutant", listed(), ids=str)
def test_text_stands_once_and_what_comes_of_it_can_be_read(
    mutant: FormulaMutant,
) -> None:
    text = (ROOT / mutant.file).read_text("utf-8")
    wrong = changed(text, mutant)
    assert wrong != text
    if mutant.file.endswith(".toml"):
        assert tomllib.loads(wrong) != tomllib.loads(text)
    else:
        compile(wrong, mutant.file, "exec")


def test_mutants_are_many_and_each_says_what_is_wrong() -> None:
    assert len({(m.file, m.was, m.now) for m in listed()}) == len(listed()) >= 60
    assert all(mutant.why for mutant in listed())


def test_text_that_stands_twice_is_no_mutant() -> None:
    mutant = FormulaMutant("a.py", "1", "2", "two for one")
    with pytest.raises(SystemExit, match="stands 2 times"):
        changed("1 + 1", mutant)


def case(name: str, how: How, ours: float) -> Case:
    return Case(name, "a book", how, "water", "kg", 2.0, lambda: ours, 0.1)


def test_value_of_a_source_comes_before_a_regression() -> None:
    slip, value = case("slip", "regression", 3.0), case("value", "read", 3.0)
    right = case("right", "read", 2.05)
    assert noticed([right]) == ("unnoticed", "")
    assert noticed([slip, right]) == ("by a regression", "slip")
    assert noticed([slip, right, value]) == ("noticed", "value")


def test_value_that_is_no_number_is_noticed() -> None:
    assert noticed([case("none", "read", float("nan"))]) == ("noticed", "none")


@pytest.mark.slow
def test_table_notices_nine_days_for_ten_and_no_change_of_words(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rule, bleeding = "models/profiles/is456.toml", "models/drying/bleed.py"
    nine = FormulaMutant(rule, "days = 10", "days = 9", "a day less")
    words = FormulaMutant(bleeding, "Fresh concrete:", "New concrete:", "a word")
    before = (ROOT / rule).read_bytes(), (ROOT / bleeding).read_bytes()
    assert ends([nine, words], 2) == {"noticed": 1, "unnoticed": 1}
    assert "days-is-blended" in capsys.readouterr().out
    assert ((ROOT / rule).read_bytes(), (ROOT / bleeding).read_bytes()) == before
