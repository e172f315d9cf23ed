"""What a person reads when a folder is refused."""

from pathlib import Path

import pytest

from models.errors import InputError, Problem
from models.files.site_folder import read_site


def problems(folder: Path) -> tuple[Problem, ...]:
    """Read a folder that must be refused; give its problems."""
    with pytest.raises(InputError, match=r"problems? found") as refused:
        read_site(folder)
    return refused.value.problems


def lines(folder: Path) -> list[str]:
    """Give the problems of a folder as they are shown."""
    return [str(problem) for problem in problems(folder)]


def only(folder: Path) -> str:
    """Give the one problem of a folder; two would be a fault said twice."""
    found = lines(folder)
    assert len(found) == 1, found
    return found[0]
