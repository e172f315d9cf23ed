"""``keepdamp check`` on good and on faulty folders."""

from pathlib import Path

import pytest

from tests.models.files.folders import write_site
from tests.scheduler.cli.command_line import run


def test_a_good_folder_is_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran = run(monkeypatch, capsys, "check", str(write_site(tmp_path)))
    assert ran.code == 0
    assert "Heron Wharf can be planned: 4 pours" in ran.out
    assert ran.err == ""


def test_a_faulty_folder_is_told_on_stderr_with_code_10_and_nothing_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    site = write_site(tmp_path)
    pours = site / "pours.csv"
    text = pours.read_text("utf-8").replace("burlap_double", "burlap_duoble", 1)
    pours.write_text(text, "utf-8")
    before = sorted(site.rglob("*"))
    ran = run(monkeypatch, capsys, "check", str(site))
    assert ran.code == 10
    assert ran.out == ""
    assert "1 problem found:" in ran.err
    assert "pours.csv:2, method: found 'burlap_duoble'" in ran.err
    assert "burlap_double" in ran.err
    assert "Traceback" not in ran.err
    assert sorted(site.rglob("*")) == before


def test_json_carries_every_problem(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    site = write_site(tmp_path)
    (site / "weather.csv").unlink()
    ran = run(monkeypatch, capsys, "check", str(site), "--json")
    assert ran.code == 10
    (problem,) = ran.json["problems"]
    assert problem == {
        "place": "weather.csv", "file": "weather.csv", "line": 0, "cell": "",
        "field": "", "found": "file not found", "wanted": "",
        "hint": "An EPW file will do as well", "nearest": "",
    }  # fmt: skip
