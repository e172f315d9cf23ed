"""From a site folder to what hangs on the wall and rings on the phone."""

import json
from datetime import UTC, datetime, timedelta
from html import unescape
from pathlib import Path
from zoneinfo import ZoneInfo

import jsonschema
import pytest
import vobject
from ics import Calendar

from models.records import AuditReport, Roster
from scheduler.cli.app import app
from tests.models.files.folders import write_site
from tests.scheduler.cli.command_line import run

pytestmark = pytest.mark.slow

BERLIN = ZoneInfo("Europe/Berlin")


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    site = write_site(tmp_path_factory.mktemp("week"))
    app(["plan", str(site)], standalone_mode=False)
    return site


def roster_of(site: Path) -> Roster:
    return Roster.model_validate_json((site / "out" / "roster.json").read_text("utf-8"))


def audit_of(site: Path) -> AuditReport:
    return AuditReport.model_validate_json(
        (site / "out" / "audit.json").read_text("utf-8")
    )


def test_every_kind_of_hand_out_is_there(planned: Path) -> None:
    out = planned / "out"
    assert (out / "board.html").read_text("utf-8").startswith("<!DOCTYPE html>")
    assert all(p.read_bytes()[:4] == b"%PDF" for p in (out / "sheets").glob("*.pdf"))
    assert list((out / "sheets").glob("*.pdf"))
    assert {p.suffix for p in (out / "tables").iterdir()} == {".csv", ".xlsx"}
    assert list((out / "calendars" / "crews").glob("*.ics"))


def test_audit_finds_what_the_solver_claims(planned: Path) -> None:
    roster, report = roster_of(planned), audit_of(planned)
    dry = next(part for part in roster.objective if part.name == "dry")
    assert report.violations == ()
    assert report.dry_min == dry.amount
    assert {(g.surface_id, g.starts_at, g.ends_at) for g in roster.gaps} == {
        (g.surface_id, g.starts_at, g.ends_at) for g in report.gaps
    }


def test_every_output_gives_the_same_reasons(planned: Path) -> None:
    roster, report = roster_of(planned), audit_of(planned)
    told = {(g.surface_id, g.starts_at): g.reasons for g in roster.gaps}
    assert told == {(g.surface_id, g.starts_at): g.reasons for g in report.gaps}
    words = [reason.words for gap in roster.gaps for reason in gap.reasons]
    assert words
    board = unescape((planned / "out" / "board.html").read_text("utf-8"))
    table = (planned / "out" / "tables" / "findings.csv").read_text("utf-8-sig")
    for each in words:
        assert each in board
        assert each in table
    calendars = "".join(
        text.read_text("utf-8").replace("\n ", "").replace("\\", "")
        for text in (planned / "out" / "calendars" / "surfaces").glob("*.ics")
    )
    assert all(each in calendars for each in words)


def test_phones_get_every_visit_once_at_its_instant(planned: Path) -> None:
    roster = roster_of(planned)
    starts = {visit.starts_at for visit in roster.visits}
    for path in sorted((planned / "out" / "calendars" / "crews").glob("*.ics")):
        text = path.read_text("utf-8")
        one = {event.begin.datetime for event in Calendar(text).events}
        other = {
            event.dtstart.value.astimezone(UTC)
            for event in getattr(vobject.readOne(text), "vevent_list", [])
        }
        assert one == other
        notice = {at for at in one if at not in starts}
        assert len(notice) <= 1  # an empty feed says that it is empty


def test_tonight_shows_the_gaps_of_the_audit(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran = run(
        monkeypatch,
        capsys,
        "tonight",
        str(planned),
        "--at",
        "2027-05-04 17:00",
        "--json",
    )
    assert ran.code == 0
    from_at = datetime.fromisoformat(ran.json["from_at"])
    until_at = datetime.fromisoformat(ran.json["until_at"])
    shown = {
        (gap["surface_id"], datetime.fromisoformat(gap["starts_at"]))
        for gap in ran.json["gaps"]
    }
    counted = {
        (gap.surface_id, max(gap.starts_at, from_at))
        for gap in audit_of(planned).gaps
        if gap.starts_at < until_at and gap.ends_at > from_at
    }
    assert shown == counted


def test_tonight_gives_the_reasons_of_the_roster(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    told = {
        (gap.surface_id, gap.starts_at): [reason.words for reason in gap.reasons]
        for gap in roster_of(planned).gaps
    }
    # An hour before a gap begins; what is cut at the end of the night is told less of.
    first = min(roster_of(planned).gaps, key=lambda gap: gap.minutes)
    at = f"{first.starts_at.astimezone(BERLIN) - timedelta(hours=1):%Y-%m-%d %H:%M}"
    ran = run(monkeypatch, capsys, "tonight", str(planned), "--at", at, "--json")
    until_at = datetime.fromisoformat(ran.json["until_at"])
    shown = {
        (gap["surface_id"], datetime.fromisoformat(gap["starts_at"])): [
            reason["words"] for reason in gap["reasons"]
        ]
        for gap in ran.json["gaps"]
        if datetime.fromisoformat(gap["ends_at"]) < until_at
    }
    assert (first.surface_id, first.starts_at) in shown
    for key, words in shown.items():
        if key in told:
            assert words == told[key]


def test_tonight_fits_a_terminal_and_says_its_zone_once(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "100")
    ran = run(monkeypatch, capsys, "tonight", str(planned), "--at", "2027-05-04 17:00")
    head, *lines, aid = ran.out.splitlines()
    assert "Tue 4 May: Tue 17:00 to " in head
    assert head.endswith("all times CEST")
    assert aid.startswith("Planning aid.")
    assert max(len(line) for line in lines) <= 100
    assert "CEST" not in "".join(lines)


def test_tonight_on_the_dry_side_is_never_wetter(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ("--at", "2027-05-05 17:00", "--json")
    plain = run(monkeypatch, capsys, "tonight", str(planned), *at).json
    dry = run(monkeypatch, capsys, "tonight", str(planned), "--dry-side", *at).json
    least = {one["surface_id"]: one["lowest_fraction"] for one in dry["surfaces"]}
    known = [one for one in plain["surfaces"] if one["lowest_fraction"] is not None]
    assert known
    assert all(least[one["surface_id"]] <= one["lowest_fraction"] for one in known)
    assert sum(o["dry_min"] for o in dry["surfaces"]) >= sum(
        o["dry_min"] for o in plain["surfaces"]
    )


def test_planning_again_gives_the_same_bytes(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = planned / "out"
    before = {p.relative_to(out): p.read_bytes() for p in out.rglob("*") if p.is_file()}
    ran = run(monkeypatch, capsys, "plan", str(planned), "--json")
    assert ran.code == 0
    after = {p.relative_to(out): p.read_bytes() for p in out.rglob("*") if p.is_file()}
    assert before.keys() == after.keys()
    assert [str(p) for p in before if before[p] != after[p]] == []
    assert ran.json["cost"] == roster_of(planned).cost


def test_a_fault_in_the_folder_leaves_the_earlier_output(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    weather = planned / "weather.csv"
    good = weather.read_text("utf-8")
    before = (planned / "out" / "roster.json").read_bytes()
    weather.write_text("\n".join(good.splitlines()[:40]) + "\n", "utf-8")
    try:
        ran = run(monkeypatch, capsys, "plan", str(planned))
    finally:
        weather.write_text(good, "utf-8")
    assert ran.code == 10
    assert "weather.csv" in ran.err
    assert (planned / "out" / "roster.json").read_bytes() == before
    assert {p.name for p in planned.iterdir() if p.name.startswith(".")} == set()


def test_tonight_without_a_plan_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran = run(monkeypatch, capsys, "tonight", str(write_site(tmp_path)))
    assert ran.code == 10
    assert "Plan the site again: keepdamp plan" in ran.err


def test_roster_follows_its_published_schema(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ran = run(monkeypatch, capsys, "schema", "roster")
    roster = json.loads((planned / "out" / "roster.json").read_text("utf-8"))
    jsonschema.validate(roster, ran.json)
