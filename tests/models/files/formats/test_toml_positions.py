"""Positions against documents whose writer noted where it put things."""

import tomllib
from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from models.files.formats.toml_positions import Path, Position, positions

SAMPLE = """\
# a comment = "no key"
title = "x # y = [z]"

[site]
name = 'a "b"'  # trailing
"quoted key" = 1
dotted.inner = 2

[[water]]
id = "tap"

[[water.delivery]]
at = "2027-05-03 06:00"

[[water]]
id = "tank"
text = \"\"\"
[[water]] is no header here
\\\"\"\" nor is this the end \"\"\"

[[water.delivery]]
at = "2027-05-04 06:00"
litres = [
  1,  # one
  [2, { deep = 3 }],
]
"""


def test_every_kind_of_place_in_one_document() -> None:
    found = positions(SAMPLE)
    expected = {
        ("title",): (2, 1),
        ("site",): (4, 1),
        ("site", "name"): (5, 1),
        ("site", "quoted key"): (6, 1),
        ("site", "dotted", "inner"): (7, 1),
        ("water", 0): (9, 1),
        ("water", 0, "delivery", 0, "at"): (13, 1),
        ("water", 1, "id"): (16, 1),
        ("water", 1, "text"): (17, 1),
        ("water", 1, "delivery", 0): (21, 1),
        ("water", 1, "delivery", 0, "litres", 0): (24, 3),
        ("water", 1, "delivery", 0, "litres", 1): (25, 3),
        ("water", 1, "delivery", 0, "litres", 1, 1, "deep"): (25, 9),
    }
    assert {path: tuple(found[path]) for path in expected} == expected


def test_windows_line_ends_count_as_one() -> None:
    assert positions('a = 1\r\n\r\nb = "x"\r\n')[("b",)] == Position(3, 1)


def test_strings_that_end_in_quotes_of_their_own() -> None:
    text = "a = '''it's ''''' \nb = \"\"\"say \"x\"\"\"\"\nc = ''\nd = \"\"\nlast = 1\n"
    assert tomllib.loads(text)["last"] == 1
    assert positions(text)[("last",)] == Position(5, 1)


class Writer:
    """Writes a document and notes each place by counting what it wrote."""

    def __init__(self) -> None:
        self.text = ""
        self.noted: dict[Path, tuple[int, int]] = {}

    def note(self, path: Path) -> None:
        before = self.text.split("\n")
        self.noted[path] = (len(before), len(before[-1]) + 1)

    def value(self, path: Path, value: object) -> None:
        match value:
            case list():
                self.text += "[ # items\n "
                for index, item in enumerate(value):
                    self.note((*path, index))
                    self.value((*path, index), item)
                    self.text += " ,\n\t"
                self.text += "]"
            case dict():
                self.text += "{ "
                for index, (key, item) in enumerate(value.items()):
                    self.text += ", " if index else ""
                    self.pair(path, key, item)
                self.text += " }"
            case _:
                self.text += str(value)

    def pair(self, prefix: Path, key: str, value: object) -> None:
        self.note((*prefix, key))
        bare = key.isascii() and key.isalnum()
        self.text += f"{key if bare else repr_toml(key)} = "
        self.value((*prefix, key), value)


def repr_toml(text: str) -> str:
    """A basic string with everything odd in it escaped."""
    return '"' + "".join(f"\\U{ord(c):08x}" if odd(c) else c for c in text) + '"'


def odd(char: str) -> bool:
    return char in '"\\' or not char.isprintable()


NAMES = st.text("ab1 .\"'#=[é\n", max_size=4)
TEXTS = st.text("ab \"'#=[]{},\\\n\t", max_size=8)
# Each is TOML source; multi-line strings keep the quote signs that may stand in them.
SCALARS = st.one_of(
    st.integers(-99, 99).map(str),
    st.sampled_from(["true", "1.5e3", "07:30:00", "2027-05-03 06:00:00", "inf"]),
    TEXTS.map(repr_toml),
    TEXTS.filter(lambda t: "'" not in t and "\n" not in t).map(lambda t: f"'{t}'"),
    TEXTS.filter(lambda t: "'''" not in t and not t.endswith("'")).map(
        lambda t: f"'''{t}'''"
    ),
    TEXTS.map(lambda t: '"""\n' + t.replace("\\", "\\\\").replace('"', '\\"') + '"""'),
)
VALUES = st.recursive(SCALARS, lambda inner: st.lists(inner, max_size=3), max_leaves=6)
# Inline tables stay on one line, so nothing in them may break it.
INLINE = st.dictionaries(NAMES, st.integers(0, 9).map(str), max_size=3)
BODIES = st.dictionaries(NAMES, st.one_of(VALUES, INLINE), max_size=4)
TABLES = st.dictionaries(
    NAMES, st.one_of(BODIES, st.lists(BODIES, min_size=1, max_size=3)), max_size=4
)


@settings(deadline=None)
@given(TABLES, st.sampled_from(["", "\n", "# note\n", "  \t\n"]))
def test_positions_are_where_the_writer_put_things(
    tables: dict[str, dict[str, object] | list[dict[str, object]]], between: str
) -> None:
    writer = Writer()
    for name, table in tables.items():
        many = isinstance(table, list)
        for index, body in enumerate(table if isinstance(table, list) else [table]):
            path: Path = (name, index) if many else (name,)
            writer.note(path)
            header = repr_toml(name)
            writer.text += f"[[ {header} ]]\n" if many else f"[{header}]\n"
            for key, value in body.items():
                writer.text += between
                writer.pair(path, key, value)
                writer.text += "  # after\n"
    document = tomllib.loads(writer.text)
    found = positions(writer.text)
    assert {path: tuple(found[path]) for path in writer.noted} == writer.noted
    assert set(paths((), document)) <= found.keys()


def paths(path: Path, value: object) -> Iterator[Path]:
    """Every path of a parsed document."""
    if path:
        yield path
    items: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        items = list(value.items())
    elif isinstance(value, list):
        items = list(enumerate(value))
    for key, inner in items:
        yield from paths((*path, key), inner)
