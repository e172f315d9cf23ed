"""Every figure of every built-in rule says how it came here and where it stands."""

import tomllib
from importlib.resources import files
from typing import Any, get_args

import pytest

from models.profiles import loader
from models.profiles.loader import profile_ids
from models.records.criterion import How

NAMES = {"id", "title", "edition"}
ROWS = set(loader.ROWS)


def document(name: str) -> dict[str, Any]:
    text = files("models.profiles").joinpath(f"{name}.toml").read_text("utf-8")
    return tomllib.loads(text)


def unmarked(rule: dict[str, Any]) -> list[str]:
    """Keys and rows that do not say how and where."""
    marked: list[tuple[str, Any]] = [(k, rule[k]) for k in rule.keys() - NAMES - ROWS]
    marked += [(f"{k} {i}", r) for k in ROWS for i, r in enumerate(rule.get(k, ()), 1)]
    hows = set(get_args(How)) - {"site"}
    return sorted(
        name
        for name, held in marked
        if not isinstance(held, dict)
        or held.get("how") not in hows
        or not held.get("clause")
    )


@pytest.mark.parametrize("name", profile_ids())
def test_every_figure_has_its_mark(name: str) -> None:
    assert unmarked(document(name)) == []


def test_a_bare_figure_a_site_mark_and_a_row_without_clause_are_seen() -> None:
    rule = {
        "id": "x",
        "minimum_h": 12,
        "set_beyond_h": {"value": 5, "how": "site", "clause": "x"},
        "ends": [{"days": 7, "how": "read", "clause": "1"}, {"days": 7, "how": "read"}],
    }
    assert unmarked(rule) == ["ends 2", "minimum_h", "set_beyond_h"]


@pytest.mark.parametrize("name", profile_ids())
def test_nothing_is_said_to_be_read_in_the_standard_itself(name: str) -> None:
    # Nobody had the standards at hand: what was read was read in secondary copies.
    rule = document(name)
    held = [value for key, value in rule.items() if key not in NAMES | ROWS]
    held += [row for key in ROWS for row in rule.get(key, ())]
    assert "read" not in {each["how"] for each in held}
