"""Every folder says its job in one sentence, and DEVELOPERS.md shows them all."""

import ast
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = sorted(
    {
        path.parent.relative_to(ROOT)
        for room in ("models", "scheduler", "exports")
        for path in (ROOT / room).rglob("*.py")
    }
)


def job_of(folder: Path) -> str:
    module = ast.parse((ROOT / folder / "__init__.py").read_text("utf-8"))
    return (ast.get_docstring(module) or "").split("\n")[0]


@pytest.mark.parametrize("folder", FOLDERS, ids=str)
def test_a_folder_says_its_job_in_one_sentence(folder: Path) -> None:
    job = job_of(folder)
    assert job.endswith(".")
    assert ". " not in job


def test_the_picture_of_rooms_has_every_folder_with_its_job() -> None:
    lines = (ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines()
    shown = [line for line in lines if line.startswith(("| `mod", "| `sch", "| `exp"))]
    rows = [f"| `{folder}` | {job_of(folder)} |" for folder in FOLDERS]
    assert sorted(shown) == sorted(rows)
