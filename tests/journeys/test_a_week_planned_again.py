"""A pour slips after the sheets have been handed out, and the week is planned again."""

import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from models.records import AuditReport, Roster
from scheduler.audit.published import changes_of
from scheduler.cli.app import app
from tests.scheduler.cli.command_line import run

pytestmark = pytest.mark.slow

TAMARIND = Path(__file__).parents[2] / "demo" / "tamarind"
A2 = "2027-06-09 05:30,2027-06-09 09:00"
THREE_HOURS_LATER = "2027-06-09 08:30,2027-06-09 12:00"


@dataclass(frozen=True)
class Week:
    """A planned folder."""

    roster: Roster
    report: AuditReport
    board: str


def planned(site: Path, *options: str) -> Week:
    app(["plan", str(site), *options], standalone_mode=False)
    roster, report, board = (
        (site / "out" / name).read_text("utf-8")
        for name in ("roster.json", "audit.json", "board.html")
    )
    return Week(
        Roster.model_validate_json(roster),
        AuditReport.model_validate_json(report),
        board,
    )


def slip(site: Path) -> None:
    pours = site / "pours.csv"
    text = pours.read_text("utf-8")
    assert A2 in text
    pours.write_text(text.replace(A2, THREE_HOURS_LATER), "utf-8")


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    site = tmp_path_factory.mktemp("again") / "tamarind"
    shutil.copytree(TAMARIND, site, ignore=shutil.ignore_patterns("out"))
    return site


@pytest.fixture(scope="module")
def held(site: Path) -> Week:
    return planned(site)


@pytest.fixture(scope="module")
def afresh(site: Path, held: Week) -> Week:
    del held  # was planned before the pour slipped
    other = site.with_name("afresh")
    shutil.copytree(site, other)
    slip(other)
    return planned(other)


def test_where_nothing_happened_nobody_is_told_anything(
    site: Path,
    held: Week,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    ran = run(monkeypatch, capsys, "plan", str(site), "--stay-near", "--json")
    assert ran.code == 0
    assert ran.json["changes"] == {
        "kept": len(held.roster.visits),
        "moved": 0,
        "other_crew": 0,
        "added": 0,
        "dropped": 0,
    }
    again = Roster.model_validate_json((site / "out" / "roster.json").read_text())
    assert again.visits == held.roster.visits
    assert again.cost == held.roster.cost


def test_a_slipped_pour_moves_far_fewer_visits_than_planning_afresh(
    site: Path, held: Week, afresh: Week, tmp_path: Path
) -> None:
    published = tmp_path / "handed out.json"
    published.write_text(held.roster.model_dump_json(), "utf-8")
    slip(site)
    near = planned(site, "--published", str(published))
    assert near.report.violations == ()
    stays, tells = (
        changes_of(held.roster, week.roster, beyond_min=15) for week in (near, afresh)
    )
    assert stays.kept + stays.moved + stays.other_crew + stays.dropped == len(
        held.roster.visits
    )
    assert 0 < stays.total < 0.6 * tells.total
    assert near.report.dry_min <= 1.1 * afresh.report.dry_min
    assert near.roster.cost <= 1.1 * afresh.roster.cost
    assert near.report.amount_by_part["changes"] == stays.total
    assert "changes" not in afresh.report.amount_by_part
