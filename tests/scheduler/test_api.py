"""The door for scripts is what the README says of it."""

import re
from pathlib import Path

import pytest

from scheduler import api
from tests.models.files.folders import SITE, changed, write_site

ROOT = Path(__file__).parents[2]
SECTION = (ROOT / "README.md").read_text("utf-8").split("\n## In scripts\n")[1]
SECTION = SECTION.split("\n## ")[0]
EXAMPLE = re.findall(r"```python\n(.*?)```", SECTION, re.DOTALL)


def test_the_readme_names_all_that_the_door_has_and_nothing_else() -> None:
    named = set(re.findall(r"`([A-Za-z_.]+)`", SECTION)) - {"scheduler.api"}
    assert named == set(api.__all__)
    assert [name for name in api.__all__ if not hasattr(api, name)] == []


def test_the_example_of_the_readme_prints_the_plan_of_the_demo(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    (code,) = EXAMPLE
    assert len([line for line in code.splitlines() if line]) == 3
    made: dict[str, api.Plan] = {}
    exec(code, made)  # what the README shows is what is run
    report = made["made"].report
    surfaces = [gap.surface_id for gap in report.gaps]
    assert capsys.readouterr().out == f"{report.dry_min} {surfaces}\n"
    assert report.dry_min == sum(gap.minutes for gap in report.gaps)


def test_a_good_folder_is_read_and_has_no_problems(tmp_path: Path) -> None:
    folder = write_site(tmp_path / "yard")
    assert api.read(folder).site == api.read(str(folder)).site
    assert api.check(str(folder)) == ()


def test_a_check_gives_the_problems_that_a_plan_raises(tmp_path: Path) -> None:
    folder = write_site(
        tmp_path / "yard", {"site.toml": changed(SITE, ("days = 7", "days = 70"))}
    )
    problems = api.check(folder)
    assert [problem.field for problem in problems] == ["[site] days"]
    with pytest.raises(api.InputError, match="1 problem found") as caught:
        api.plan(folder)
    assert caught.value.problems == problems
    with pytest.raises(api.InputError, match="days"):
        api.hand_out(folder)
    assert not (folder / "out").exists()
