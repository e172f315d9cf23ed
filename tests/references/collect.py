"""Finds the cases: every module in ``topics`` lists its own in ``CASES``."""

from importlib import import_module
from pathlib import Path

from tests.references.case import Case


def topics() -> dict[str, tuple[Case, ...]]:
    """Give the cases of each topic, by the name of its module, in order."""
    folder = Path(__file__).with_name("topics")
    return {
        path.stem: tuple(import_module(f"tests.references.topics.{path.stem}").CASES)
        for path in sorted(folder.glob("*.py"))
    }
