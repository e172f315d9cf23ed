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
    with pytest.raises(InputError, match="in the site folder") as refused:
        load_profile(text, "quay.toml")
    return refused.value.problems


def only(text: str) -> Problem:
    found = problems(text)
    assert len(found) == 1, [str(problem) for problem in found]
    return found[0]


def test_an_unknown_key_is_refused_with_line_and_nearest_word() -> None:
    problem = only(HEAD + "cover_withn_min = 20\n" + ENDS)
    assert (problem.place, problem.field) == ("quay.toml:5", "cover_withn_min")
    assert problem.found == "an unknown key"
    assert problem.hint == "Did you mean 'cover_within_min'?"


def test_an_unknown_key_of_a_row_is_told_the_keys_of_its_kind() -> None:
    second = '\n[[ends]]\nkind = "degree_days"\ndegree_days = 60\ndatum = -10\n'
    rest = "at_or_above_c = 5\nat_most_c = 25\n"
    found = problems(HEAD + ENDS + second + rest)
    places = {problem.place for problem in found}
    unknown = next(problem for problem in found if problem.found == "an unknown key")
    assert unknown.place == "quay.toml:13"
    assert unknown.field == "datum of [[ends]] 2"
    assert unknown.hint == "Did you mean 'datum_c'?"
    assert places == {"quay.toml:13", "quay.toml:10"}  # and datum_c is missing


def test_an_unknown_key_of_a_mark_is_refused() -> None:
    marked = 'cover_within_min = { value = 20, claus = "4.2" }\n'
    problem = only(HEAD + marked + ENDS)
    assert (problem.place, problem.hint) == ("quay.toml:5", "Did you mean 'clause'?")
    assert problem.field == "claus of cover_within_min"


def test_a_misspelt_kind_is_refused_with_the_nearest_word() -> None:
    problem = only(HEAD + '[[ends]]\nkind = "tabel"\n')
    assert (problem.field, problem.found) == ("kind of [[ends]] 1", "'tabel'")
    assert problem.hint == "Did you mean 'table'?"
    assert problem.place == "quay.toml:5"


def test_a_row_without_a_kind_is_told_the_kinds() -> None:
    problem = only(HEAD + "[[ends]]\ndays = 7\n")
    assert (problem.found, problem.hint) == ("none", "")
    assert problem.wanted == "one of: days, table, degree_days, strength"


def test_a_misspelt_family_is_refused_with_the_nearest_word() -> None:
    problem = only(HEAD + ENDS + 'families = ["open_fabrik"]\n')
    assert problem.field == "families of [[ends]] 1"
    assert problem.place == "quay.toml:9"
    assert problem.hint == "Did you mean 'open_fabric'?"


@pytest.mark.parametrize("days", ['"7"', "true", "nan", "-1", "0"])
def test_days_that_are_no_days_are_refused(days: str) -> None:
    problem = only(HEAD + f'[[ends]]\nkind = "days"\ndays = {days}\n')
    assert (problem.place, problem.field) == ("quay.toml:7", "days of [[ends]] 1")


def test_a_file_without_a_criterion_is_refused() -> None:
    problem = only(HEAD)
    assert (problem.field, problem.wanted) == ("ends", "at least one [[ends]]")


def test_all_problems_are_told_at_once() -> None:
    found = problems("title = 'x'\n" + ENDS)
    assert [problem.field for problem in found] == ["id", "edition", "maturity"]
    assert {problem.found for problem in found} == {"nothing"}


def test_a_marked_figure_without_a_value_is_refused() -> None:
    problem = only(HEAD + 'cover_within_min = { how = "read" }\n' + ENDS)
    assert (problem.place, problem.field) == ("quay.toml:5", "cover_within_min")


def test_a_word_of_a_list_is_found_by_the_key_of_the_list() -> None:
    problem = only(HEAD + 'banned_families = ["sheets"]\n' + ENDS)
    assert (problem.place, problem.field) == ("quay.toml:5", "banned_families")
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
    assert (problem.place, problem.wanted) == ("quay.toml:5", "TOML")


# Shapes that nobody means, each told in the words of a file.
@pytest.mark.parametrize(
    ("lines", "told"),
    [
        ("ends = 3", "quay.toml:5, ends: found 3; wanted an array"),
        ("ends = [3]", "quay.toml:5, [[ends]] 1: found 3; wanted a table"),
        ("[ends]\nkind = 1", "quay.toml:5, ends: found {'kind': 1}; wanted an array"),
        (
            "inspections_per_shift = 1.5" + ENDS,
            "quay.toml:5, inspections_per_shift: found 1.5; wanted a whole number",
        ),
        (
            "minimum_h = 2027-05-03" + ENDS,
            "quay.toml:5, minimum_h: found '2027-05-03'; wanted a number",
        ),
        (
            "minimum_h = -1" + ENDS,
            "quay.toml:5, minimum_h: found -1; wanted a number greater than or equal "
            "to 0",
        ),
        (
            'strength_tested = "yes"' + ENDS,
            "quay.toml:5, strength_tested: found 'yes'; wanted true or false",
        ),
        (
            "[[slow]]\nat_or_above_c = 10\nbelow_c = 4\nfactor = 1.5\n" + ENDS,
            "quay.toml:5, [[slow]] 1: found figures that do not fit; wanted below_c "
            "above at_or_above_c",
        ),
    ],
)
def test_odd_shapes_are_told_in_words(lines: str, told: str) -> None:
    assert str(only(HEAD + lines)) == told


def test_a_far_off_key_is_told_all_that_are_known() -> None:
    problem = only(HEAD + "wheelbarrows = 3\n" + ENDS)
    assert problem.hint == ""
    assert problem.wanted.startswith(
        "one of: activation_energy_j_mol, allowed_families"
    )


TABLE = """
[[ends]]
kind = "table"
bands_c = {bands}
ratios = [0.5, 0.3]
days = {days}
"""


@pytest.mark.parametrize(
    ("bands", "days", "wanted"),
    [
        ("[15, 25]", "[[1, 2], [3, 4]]", "bands_c and ratios falling, each once"),
        ("[25, 25]", "[[1, 2], [3, 4]]", "bands_c and ratios falling, each once"),
        ("[25, 15]", "[[1, 2]]", "one row of days for each of bands_c"),
        ("[25]", "[[1, 2, 3]]", "one figure of each row of days for each of ratios"),
        ("[25]", "[[1, 0]]", "days above 0"),
    ],
)
def test_a_table_must_be_whole(bands: str, days: str, wanted: str) -> None:
    problem = only(HEAD + TABLE.format(bands=bands, days=days))
    assert (problem.place, problem.wanted) == ("quay.toml:6", wanted)


def test_a_strength_is_a_share_or_a_figure_not_both() -> None:
    row = '[[ends]]\nkind = "strength"\nstrength_mpa = 20\nstrength_fraction = 0.7\n'
    assert only(HEAD + row).wanted == "either strength_fraction or strength_mpa"


def test_degree_days_count_from_above_their_datum() -> None:
    row = '[[ends]]\nkind = "degree_days"\ndegree_days = 60\ndatum_c = 6\n'
    problem = only(HEAD + row + "at_or_above_c = 5\nat_most_c = 25\n")
    assert problem.wanted == "datum_c below at_or_above_c below at_most_c"
