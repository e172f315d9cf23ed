"""Prints every reference check: ``python tests/references/table.py``.

Ends with 1 if a value lies outside its tolerance. Meant for reading; the same cases run
as tests in ``test_references.py``.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.references.case import Case
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
    return "\n".join(parts)


if __name__ == "__main__":
    text = table()
    sys.stdout.write(text)
    sys.exit(1 if "| OUT |" in text else 0)
