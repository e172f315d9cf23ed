"""``keepdamp fleet`` as a person runs it."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from time import sleep

import pytest

from models.errors import Place, Problem
from scheduler.fleet.outcome import Outcome, Planned, Unplanned
from scheduler.workflow import PlanOptions
from tests.scheduler.cli.command_line import Ran, run
from tests.scheduler.fleet.jobs import note_or_die
from tests.scheduler.fleet.small_sites import small_site

WEEKS = {
    "damp": Planned(Path("damp"), "Damp Yard", 2, 40, 0, 0, 0, 1234.4, 3.21),
    "dry": Planned(Path("dry"), "Dry Dock", 3, 50, 1, 7, 200, 5000.0, 4.0),
}


def told(folder: Path, options: PlanOptions) -> Outcome:
    """Answer without planning, by the folder's name."""
    assert options == PlanOptions(
        seconds=5.0, seed=3, on_dry_side=True, single_process=True
    )
    if folder.name == "bad":
        places = (Place("pours.csv", 2), Place("weather.csv"))
        problems = tuple(Problem(place, "", "this", "that") for place in places)
        return Unplanned(folder, 10, problems=problems)
    week = WEEKS.get(folder.name)
    if week is None:
        return note_or_die(folder)
    return Planned(**{**vars(week), "folder": folder})


@pytest.fixture
def fleet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> "Fleet":
    return Fleet(tmp_path, monkeypatch, capsys)


class Fleet:
    """Runs ``keepdamp fleet`` from a directory of sites, planning planted by name."""

    def __init__(
        self,
        path: Path,
        monkeypatch: pytest.MonkeyPatch,
        capsys: pytest.CaptureFixture[str],
    ) -> None:
        self.path, self.monkeypatch, self.capsys = path, monkeypatch, capsys
        monkeypatch.chdir(path)
        monkeypatch.setattr("scheduler.fleet.fleet.plan_site", told)

    def __call__(self, *words: str) -> Ran:
        for name in ("damp", "dry", "bad", "always"):
            (self.path / name).mkdir(exist_ok=True)
        planted = ["--seconds", "5", "--seed", "3", "--workers", "1", "--dry-side"]
        return run(self.monkeypatch, self.capsys, "fleet", *planted, *words)


def test_a_line_a_site_as_it_finishes_then_a_table_worst_first(fleet: Fleet) -> None:
    ran = fleet("damp", "dry")
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert lines[:2] == [
        "damp: Damp Yard, 2 surfaces, 40 visits; no dry gaps; cost 1,234, 3.2 s",
        "dry: Dry Dock, 3 surfaces, 50 visits; temperature outside its limit on 1 "
        "surface; 7 dry gaps, 3 h 20 min in all; cost 5,000, 4.0 s",
    ]
    assert "2 of 2 sites planned, worst first" in lines
    rows = lines[lines.index("2 of 2 sites planned, worst first") + 2 :]
    assert rows[0].split()[0] == "dry"
    assert rows[1].split() == [
        "damp",
        "2",
        "40",
        "0",
        "0",
        "0",
        "min",
        "1,234",
        "3.2",
    ]


def test_a_bad_folder_is_listed_with_its_problems_and_is_code_10(fleet: Fleet) -> None:
    ran = fleet("bad", "damp")
    assert ran.code == 10
    lines = ran.out.splitlines()
    assert lines[:3] == [
        "bad: not planned, nothing written",
        "  pours.csv:2: found this; expected that",
        "  weather.csv: found this; expected that",
    ]
    assert lines[3].startswith("damp: Damp Yard")
    assert "1 of 2 sites planned, worst first" in lines


def test_a_site_that_kills_its_workers_is_a_fault_and_the_others_are_planned(
    fleet: Fleet,
) -> None:
    ran = fleet("--json", "always", "bad", "dry")
    assert ran.code == 1
    assert [site["folder"] for site in ran.json["sites"]] == ["always", "bad", "dry"]
    assert [site["planned"] for site in ran.json["sites"]] == [False, False, True]
    assert "SIGKILL" in ran.json["sites"][0]["fault"]


def test_json_has_the_figures_and_the_problems(fleet: Fleet) -> None:
    ran = fleet("damp", "bad", "--json")
    assert ran.code == 10
    bad, damp = ran.json["sites"]
    assert [problem["place"] for problem in bad["problems"]] == [
        "pours.csv:2",
        "weather.csv",
    ]
    assert damp == {
        "planned": True,
        "folder": "damp",
        "site": "Damp Yard",
        "surfaces": 2,
        "visits": 40,
        "breached": 0,
        "gaps": 0,
        "dry_min": 0,
        "cost": 1234.4,
        "took_s": 3.21,
    }


@pytest.mark.slow
def test_figures_are_those_of_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    site = small_site(tmp_path / "north", 60)
    alone = run(monkeypatch, capsys, "plan", str(site), "--json").json
    (site / "out" / "roster.json").unlink()
    ran = run(monkeypatch, capsys, "fleet", str(site), "--json")
    assert ran.code == 0
    (week,) = ran.json["sites"]
    for name in ("site", "surfaces", "visits", "dry_min", "cost"):
        assert week[name] == alone[name]
    assert week["gaps"] == len(alone["gaps"])
    roster = json.loads((site / "out" / "roster.json").read_text("utf-8"))
    assert roster["cost"] == week["cost"]


@pytest.mark.parametrize(
    "words", [["--workers", "0", "a"], ["a", "--workers", "1", "--scheduler", "x"], []]
)
def test_wrong_usage_is_code_2(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: list[str],
) -> None:
    assert run(monkeypatch, capsys, "fleet", *words).code == 2


def test_ctrl_c_stops_everything_and_leaves_no_half_of_a_folder(
    tmp_path: Path,
) -> None:
    names = ["a", "b", "c"]
    for name in names:
        (tmp_path / name).mkdir()
    script = (
        "import sys\n"
        "from scheduler.cli.app import main\n"
        "from scheduler.fleet import fleet\n"
        "from tests.scheduler.fleet.jobs import wait_long\n"
        "fleet.plan_site = wait_long\n"
        f"sys.argv = ['keepdamp', 'fleet', *{names}, '--workers', '2']\n"
        "main()\n"
    )
    command = subprocess.Popen(
        [sys.executable, "-c", script],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(Path(__file__).parents[3])},
        start_new_session=True,
        stderr=subprocess.PIPE,
        text=True,
    )
    with command as started:
        while started.poll() is None and len(list(tmp_path.glob("*/started"))) < 2:
            sleep(0.05)
        os.killpg(started.pid, signal.SIGINT)  # as a terminal does: to every process
        _, complaint = started.communicate()
    assert started.returncode == 130
    assert "Traceback" not in complaint
    left = sorted(str(path.relative_to(tmp_path)) for path in tmp_path.glob("*/*"))
    assert left == ["a/started", "a/tidied", "b/started", "b/tidied"]


def test_a_cluster_needs_its_package(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    ran = run(monkeypatch, capsys, "fleet", "a", "--scheduler", "tcp://127.0.0.1:9")
    assert ran.code == 10
    assert "pip install 'keepdamp[cluster]'" in ran.err
