import pytest

from models.errors import InputError, Problem
from models.profiles.loader import load_profile

HEAD = """\
id = "quay"
title = "Quay rule"
edition = "invented"
maturity = "arrhenius"
"""
ENDS = """
[[ends]]
kind = "days"
days = 5
"""


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError, match=r"problems? found") as refused:
        load_profile(text, "quay.toml")
    return refused.value.problems


def only(text: str) -> Problem:
    found = problems(text)
    assert len(found) == 1, [str(problem) for problem in found]
    return found[0]


def test_an_unknown_key_is_refused_with_line_and_nearest_word() -> None:
    problem = only(HEAD + "cover_withn_min = 20\n" + ENDS)
    assert (str(problem.place), problem.field) == ("quay.toml:5", "cover_withn_min")
    assert problem.found == "unknown key"
    assert problem.hint == "Did you mean 'cover_within_min'?"


def test_an_unknown_key_of_a_row_is_told_the_keys_of_its_kind() -> None:
    second = '\n[[ends]]\nkind = "degree_days"\ndegree_days = 60\ndatum = -10\n'
    rest = "at_or_above_c = 5\nat_most_c = 25\n"
    found = problems(HEAD + ENDS + second + rest)
    places = {str(problem.place) for problem in found}
    unknown = next(problem for problem in found if problem.found == "unknown key")
    assert str(unknown.place) == "quay.toml:13"
    assert unknown.field == "datum of [[ends]] 2"
    assert unknown.hint == "Did you mean 'datum_c'?"
    assert places == {"quay.toml:13", "quay.toml:10"}  # and datum_c is missing


def test_an_unknown_key_of_a_mark_is_refused() -> None:
    marked = 'cover_within_min = { value = 20, claus = "4.2" }\n'
    problem = only(HEAD + marked + ENDS)
    assert str(problem.place) == "quay.toml:5"
    assert problem.hint == "Did you mean 'clause'?"
    assert problem.field == "claus of cover_within_min"


def test_a_misspelt_kind_is_refused_with_the_nearest_word() -> None:
    problem = only(HEAD + '[[ends]]\nkind = "tabel"\n')
    assert (problem.field, problem.found) == ("kind of [[ends]] 1", "'tabel'")
    assert problem.hint == "Did you mean 'table'?"
    assert str(problem.place) == "quay.toml:5"


def test_a_row_without_a_kind_is_told_the_kinds() -> None:
    problem = only(HEAD + "[[ends]]\ndays = 7\n")
    assert (problem.found, problem.hint) == ("", "")
    assert problem.wanted == "one of: days, table, degree_days, strength"


def test_a_misspelt_family_is_refused_with_the_nearest_word() -> None:
    problem = only(HEAD + ENDS + 'families = ["open_fabrik"]\n')
    assert problem.field == "families of [[ends]] 1"
    assert str(problem.place) == "quay.toml:9"
    assert problem.hint == "Did you mean 'open_fabric'?"


@pytest.mark.parametrize("days", ['"7"', "true", "nan", "-1", "0"])
def test_days_that_are_no_days_are_refused(days: str) -> None:
    problem = only(HEAD + f'[[ends]]\nkind = "days"\ndays = {days}\n')
    assert (str(problem.place), problem.field) == ("quay.toml:7", "days of [[ends]] 1")


def test_a_file_without_a_criterion_is_refused() -> None:
    problem = only(HEAD)
    assert (problem.field, problem.wanted) == ("ends", "at least one [[ends]]")


def test_all_problems_are_told_at_once() -> None:
    found = problems("title = 'x'\n" + ENDS)
    assert [problem.field for problem in found] == ["id", "edition", "maturity"]
    assert {problem.found for problem in found} == {""}


def test_a_marked_figure_without_a_value_is_refused() -> None:
    problem = only(HEAD + 'cover_within_min = { how = "read" }\n' + ENDS)
    assert (str(problem.place), problem.field) == ("quay.toml:5", "cover_within_min")


def test_a_word_of_a_list_is_found_by_the_key_of_the_list() -> None:
    problem = only(HEAD + 'banned_families = ["sheets"]\n' + ENDS)
    assert (str(problem.place), problem.field) == ("quay.toml:5", "banned_families")
    assert problem.hint == "Did you mean 'sheet'?"


@pytest.mark.parametrize(
    "keys",
    [
        'allowed_families = ["sheet"]\nbanned_families = ["sealed"]\n',
        'banned_families = ["wet", "sealed", "insulated", "steam"]\n',
    ],
)
def test_a_rule_that_bans_everything_is_refused_in_one_message(keys: str) -> None:
    problem = only(HEAD + keys + ENDS)
    assert problem.field == "banned_families"
    assert problem.wanted == "families that leave at least one way of curing allowed"


def test_text_that_is_not_toml_is_refused_with_its_line() -> None:
    problem = only(HEAD + "cover_within_min =\n")
    assert (str(problem.place), problem.wanted) == ("quay.toml:5", "valid TOML")


# Shapes that nobody means, each told in the words of a file.
@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ("ends = 3", "quay.toml:5, ends: found 3; expected an array"),
        ("ends = [3]", "quay.toml:5, [[ends]] 1: found 3; expected a table"),
        ("[ends]\nkind = 1", "quay.toml:5, ends: found a table; expected an array"),
        (
            "inspections_per_shift = 1.5" + ENDS,
            "quay.toml:5, inspections_per_shift: found 1.5; expected a whole number",
        ),
        (
            "minimum_h = 2027-05-03" + ENDS,
            "quay.toml:5, minimum_h: found '2027-05-03'; expected a number",
        ),
        (
            "minimum_h = -1" + ENDS,
            "quay.toml:5, minimum_h: found -1; expected a number of at least 0",
        ),
        (
            'strength_tested = "yes"' + ENDS,
            "quay.toml:5, strength_tested: found 'yes'; expected true or false",
        ),
        (
            "[[slow]]\nat_or_above_c = 10\nbelow_c = 4\nfactor = 1.5\n" + ENDS,
            "quay.toml:7, below_c of [[slow]] 1: found 4; expected a temperature above "
            "at_or_above_c",
        ),
    ],
)
def test_odd_shapes_are_told_in_words(lines: str, told: str) -> None:
    assert str(only(HEAD + lines)) == told


def test_a_far_off_key_is_told_all_that_are_known() -> None:
    problem = only(HEAD + "wheelbarrows = 3\n" + ENDS)
    assert problem.hint.startswith(
        "Keys: one of: activation_energy_j_mol, allowed_families"
    )


TABLE = """
[[ends]]
kind = "table"
bands_c = {bands}
ratios = [0.5, 0.3]
days = {days}
"""


@pytest.mark.parametrize(
    ("bands", "days", "line", "wanted"),
    [
        ("[15, 25]", "[[1, 2], [3, 4]]", 8, "falling figures, none twice"),
        ("[25, 25]", "[[1, 2], [3, 4]]", 8, "falling figures, none twice"),
        ("[25, 15]", "[[1, 2]]", 10, "one row for each of bands_c"),
        ("[25]", "[[1, 2, 3]]", 10, "in each row one figure for each of ratios"),
        ("[25]", "[[1, 0]]", 10, "figures above 0"),
    ],
)
def test_a_table_must_be_whole(bands: str, days: str, line: int, wanted: str) -> None:
    problem = only(HEAD + TABLE.format(bands=bands, days=days))
    assert (str(problem.place), problem.wanted) == (f"quay.toml:{line}", wanted)


def test_a_strength_is_a_share_or_a_figure_not_both() -> None:
    row = '[[ends]]\nkind = "strength"\nstrength_mpa = 20\nstrength_fraction = 0.7\n'
    assert only(HEAD + row).wanted == "either strength_fraction or strength_mpa"


def test_degree_days_count_from_above_their_datum() -> None:
    row = '[[ends]]\nkind = "degree_days"\ndegree_days = 60\ndatum_c = 6\n'
    problem = only(HEAD + row + "at_or_above_c = 5\nat_most_c = 25\n")
    assert problem.field == "at_or_above_c of [[ends]] 1"
    assert problem.wanted == "a temperature above datum_c and below at_most_c"
