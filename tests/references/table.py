"""Prints every reference check: ``python tests/references/table.py``.

Ends with 1 if a value lies outside its tolerance. Meant for reading; the same cases run
as tests in ``test_references.py``.
"""

import re
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import get_args

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.references.case import Case, How
from tests.references.collect import topics

_HEAD = ("source", "how", "quantity", "value", "ours", "difference", "tolerance", "")


def row(case: Case) -> tuple[str, ...]:
    """Say one case in words and figures."""
    ours = case.ours()
    within = abs(ours - case.expected) <= case.allowed
    return (
        case.source,
        case.how,
        f"{case.quantity} [{case.unit}]",
        f"{case.expected:.6g}",
        f"{ours:.6g}",
        f"{ours - case.expected:+.2g}",
        f"{case.tolerance:.2%}" if case.relative else f"{case.tolerance:.2g}",
        "" if within else "OUT",
    )


def table() -> str:
    """Lay out all topics, one below the other, as Markdown."""
    parts = []
    for name, cases in topics().items():
        rows = [_HEAD, ("---",) * len(_HEAD), *map(row, cases)]
        lines = ["| " + " | ".join(cells) + " |" for cells in rows]
        parts.append("\n".join([f"## {name.replace('_', ' ')}", "", *lines, ""]))
    return "\n".join([*parts, count(case for of in topics().values() for case in of)])


def count(cases: Iterable[Case]) -> str:
    """Say how many values there are, how they are known, and of how many sources.

    First those that formulas are held against, then figures that rules and tables of
    ours quote; what would notice a slip alone stands apart.
    """
    cases = tuple(cases)
    own = independent(cases)
    parts = (
        ("values", [case for case in own if not case.quoted]),
        ("figures that ours quote", [case for case in own if case.quoted]),
    )
    said = "".join(f"{_known(some, what)}\n" for what, some in parts)
    return (
        f"{said}together {_known(own, 'values')}, "
        f"and {len(cases) - len(own)} regressions\n"
    )


def _known(cases: Sequence[Case], what: str) -> str:
    how = Counter(case.how for case in cases)
    known = ", ".join(f"{how[h]} {h}" for h in get_args(How) if h != "regression")
    return f"{len(cases)} {what} ({known}) of {len(sources(cases))} sources"


def independent(cases: Iterable[Case]) -> list[Case]:
    """Leave out the regressions."""
    return [case for case in cases if case.how != "regression"]


def sources(cases: Iterable[Case]) -> list[str]:
    """Name each source once, whichever of its tables or forms a value is from."""
    return sorted({re.split(r",|;|:| \(", case.source)[0] for case in cases})


if __name__ == "__main__":
    text = table()
    sys.stdout.write(text)
    sys.exit(1 if "| OUT |" in text else 0)
