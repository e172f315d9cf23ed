"""What is said of a method or a cover stands in the tables, not in code.

So a new method is an entry in each table and its key; nobody has to find the places
where the others are told apart.
"""

import ast
from pathlib import Path
from typing import get_args

from models.records import CoverKind, MethodKey

ROOT = Path(__file__).parents[2]
#: Where the keys themselves are listed.
KEYS = {"models/records/pour.py", "models/records/cover.py"}
#: Words of their own: hazard, form of cover, family of rules, formulas of that name.
OTHER_WORDS = {"pond", "ponding"}


def test_no_code_names_a_method_or_a_cover() -> None:
    keys = {*get_args(MethodKey), *get_args(CoverKind)} - OTHER_WORDS
    named = [
        f"{path.relative_to(ROOT)}:{node.lineno}: {node.value!s}"
        for folder in ("models", "scheduler", "exports")
        for path in sorted((ROOT / folder).rglob("*.py"))
        if str(path.relative_to(ROOT)) not in KEYS
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Constant) and node.value in keys
    ]
    assert named == []
