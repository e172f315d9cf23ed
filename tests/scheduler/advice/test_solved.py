"""Methods within the week of the whole site, solved."""

from pathlib import Path

import pytest

from scheduler import workflow
from scheduler.advice.flow import advise
from tests.models.files.folders import POURS, write_site


def small_site(path: Path) -> Path:
    header, _, second, *_ = POURS.splitlines()
    files = {"pours.csv": f"{header}\n{second}\n", "readings.csv": None}
    return write_site(path, files)


@pytest.mark.slow
def test_the_best_and_the_planned_are_solved_and_the_planned_is_the_plan(
    tmp_path: Path,
) -> None:
    folder = small_site(tmp_path)
    stages: list[str] = []
    (advice,) = advise(
        folder, "Q2", solve=True, listener=lambda name, _done: stages.append(name)
    )
    solved = {c.method: c.whole_site for c in advice.ranked if c.whole_site}
    assert set(solved) == {c.method for c in advice.ranked if c.rank <= 2 or c.planned}
    whole = solved["sheet_over_burlap"]
    plan = workflow.plan(folder)
    assert whole.cost == plan.roster.cost
    assert whole.dry_min == whole.own_dry_min == plan.report.dry_min
    assert "Solving the site with sheet_over_burlap" in stages


def test_without_asking_nothing_is_solved(tmp_path: Path) -> None:
    (advice,) = advise(small_site(tmp_path), "Q2")
    assert not any(candidate.whole_site for candidate in advice.ranked)
