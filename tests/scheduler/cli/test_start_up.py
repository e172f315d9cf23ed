"""Only planning pays for the solver."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.models.files.folders import write_site


def _heavy_modules(*words: str) -> list[str]:
    script = (
        "import sys\n"
        "from scheduler.cli.app import main\n"
        f"sys.argv = ['keepdamp', *{list(words)!r}]\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "heavy = ('ortools', 'pandas', 'distributed')\n"
        "print(*(name for name in heavy if name in sys.modules))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    return done.stdout.splitlines()[-1].split()


@pytest.mark.parametrize(
    "words", [["--help"], ["plan", "--help"], ["fleet", "--help"], ["schema"]]
)
def test_help_and_schema_start_without_the_solver(words: list[str]) -> None:
    assert _heavy_modules(*words) == []


def test_check_reads_a_folder_without_the_solver(tmp_path: Path) -> None:
    assert _heavy_modules("check", str(write_site(tmp_path))) == []
