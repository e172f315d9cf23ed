import pytest

from tests.harness.one_node import mutants


def changes(source: str) -> list[tuple[str, str]]:
    return [(mutant.was, mutant.now) for mutant in mutants(source)]


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("a < b", ["a <= b", "a >= b"]),
        ("a <= b < c", ["a < b < c", "a > b < c", "a <= b <= c", "a <= b >= c"]),
        ("a is None", ["a is not None"]),
        ("a + b", ["a - b"]),
        ("a / b", ["a * b"]),
        ("a or b", ["a and b"]),
        ("not a", ["a"]),
        ("a += b", ["a -= b"]),
        ("f(3)", ["4", "2"]),
        ("f(0.5)", ["0.525", "0.475"]),
        ("f(0.0)", ["1.0", "-1.0"]),
        ("f(True)", ["False"]),
        ("max(a)", ["min(a)"]),
        ("np.minimum(a)", ["np.maximum(a)"]),
        ("a[b:]", ["b + 1", "b - 1"]),
        ("range(b)", ["b + 1", "b - 1"]),
        ("c if a else b", ["True", "False"]),
        ("[a for a in b if a]", ["True", "False"]),
        ("while a: f()", ["False"]),
    ],
)
def test_what_a_slip_of_the_hand_makes(source: str, expected: list[str]) -> None:
    assert [now for _, now in changes(source)] == expected


def test_a_branch_forgets_to_return() -> None:
    source = "def f(a):\n    if a:\n        return b\n    return c\n"
    assert changes(source) == [("a", "True"), ("a", "False"), ("return b", "pass")]


def test_words_annotations_and_decorators_stay() -> None:
    source = '''"""Words."""
@frozen(True)
def f(a: int | None = A) -> tuple[int, 2]:
    """Words with 3."""
    b: Literal[4] = "words"
'''
    assert changes(source) == []


def test_each_mutant_is_the_module_with_one_change() -> None:
    source = "def f(a):\n    b = a + 1\n    return b\n"
    found = mutants(source)
    assert [mutant.source for mutant in found] == [
        "def f(a):\n    b = a - 1\n    return b",
        "def f(a):\n    b = a + 2\n    return b",
        "def f(a):\n    b = a + 0\n    return b",
    ]
    assert [(one.number, one.within, one.line, one.column) for one in found] == [
        (2, "f", "b = a + 1", 4), (2, "f", "b = a + 1", 8), (2, "f", "b = a + 1", 8),
    ]  # fmt: skip
