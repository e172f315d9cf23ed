"""A published roster that one cannot stay near is refused in words."""

from datetime import timedelta
from pathlib import Path

import pytest

from models.errors import InputError
from models.files.published import own_roster, read_published
from models.records import Horizon, SiteInput
from tests.builders import MONDAY, site_input
from tests.models.files.folders import write_site
from tests.scheduler.audit.audit_builders import HORIZON, roster, visit
from tests.scheduler.cli.command_line import run

HINT = "Plan afresh, without --stay-near, or name its roster with --published"


def week(**fields: object) -> SiteInput:
    return site_input().model_copy(update={"horizon": HORIZON, **fields})


def refusal(path: Path, given: SiteInput) -> str:
    with pytest.raises(InputError) as refused:
        read_published(path, given)
    (problem,) = refused.value.problems
    assert problem.hint == HINT
    return str(problem).removesuffix(f". {HINT}").removeprefix(str(path))


def written(tmp_path: Path, site_name: str = week().site.name) -> Path:
    path = tmp_path / "roster.json"
    held = roster([visit("rewet", 600, 20)], site_name=site_name)
    path.write_text(held.model_dump_json(), "utf-8")
    return path


def test_the_roster_of_the_week_is_read(tmp_path: Path) -> None:
    held = read_published(written(tmp_path), week())
    assert [one.id for one in held.visits] == ["P1-top/rewet/600"]


def test_a_roster_of_another_site(tmp_path: Path) -> None:
    path = written(tmp_path, site_name="Otter Quay")
    wanted = f"{week().site.name!r}, as in the folder"
    assert (
        refusal(path, week()) == f", site_name: found 'Otter Quay'; expected {wanted}"
    )


def test_a_roster_of_another_shape(tmp_path: Path) -> None:
    path = written(tmp_path)
    text = path.read_text("utf-8")
    path.write_text(text.replace("keepdamp/roster/7", "keepdamp/roster/6"), "utf-8")
    assert refusal(path, week()) == (
        ", schema_id: found 'keepdamp/roster/6'; expected a roster as this version "
        "writes it"
    )
    path.write_text("pour,zone\n", "utf-8")
    assert refusal(path, week()) == (
        ": found another format; expected a roster as this version writes it"
    )


def test_a_roster_of_a_week_that_is_over(tmp_path: Path) -> None:
    path = written(tmp_path)
    start = MONDAY + timedelta(days=3)
    later = Horizon(starts_at=start, ends_at=start + timedelta(days=2))
    assert refusal(path, week(horizon=later)) == (
        ", horizon: found 2027-05-03 06:00 to 2027-05-06 06:00; expected a week "
        "that overlaps the one to plan, 2027-05-06 06:00 to 2027-05-08 06:00"
    )


def test_a_folder_without_a_roster_is_told_so_and_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    site = write_site(tmp_path)
    ran = run(monkeypatch, capsys, "plan", str(site), "--stay-near")
    assert ran.code == 10
    missing = own_roster(site)
    assert f"{missing}: roster not found. {HINT}" in ran.err
    assert not missing.exists()
