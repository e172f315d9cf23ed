"""A week of frost: what is dangerous comes first wherever people look."""

from html import unescape
from pathlib import Path

import pytest
from icalendar import Calendar

from models.records import AuditReport
from scheduler.cli.app import app
from tests.exports.sheets.pdf_reader import read_pdf
from tests.journeys.cold_site import write_cold_site
from tests.scheduler.cli.command_line import run

pytestmark = pytest.mark.slow

#: EN 13670:2009, 8.5, as the profile notes it (from memory).
CLAUSE = "EN 13670:2009, 8.5: surface at 0 °C or more until then"
ALL_CLEAR = ("no problems", "no dry gaps", "never dry", "all well")


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    site = write_cold_site(tmp_path_factory.mktemp("cold"))
    app(["plan", str(site)], standalone_mode=False)
    return site


def screen(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str
) -> str:
    """What a person reads, its lines as long as they would like to be."""
    monkeypatch.setenv("COLUMNS", "400")
    ran = run(monkeypatch, capsys, *words)
    assert ran.code == 0
    assert not [words for words in ALL_CLEAR if words in ran.out]
    return ran.out


def test_plan_says_frost_and_a_warm_core_before_dry_gaps(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = screen(monkeypatch, capsys, "plan", str(planned))
    order = [
        "Temperature outside its limit",
        f"Freezes before it sets: not below 0 °C before that ({CLAUSE})",
        "Do not place without heat",
        "S2 Pump hall, top: Fri 15 Jan",
        f"Frost on weak concrete: not below 0 °C until it has 5.0 MPa ({CLAUSE})",
        "Core too warm for the face: at most 20 K warmer (common practice, no source)",
        "R1 Quay slab, top: ",
        "temperature outside its limit on",
        "Dry gaps",
    ]
    found = [out.index(words) for words in order]
    assert found == sorted(found)


def test_check_says_it_before_anything_is_planned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    site = write_cold_site(tmp_path, units="us")
    out = screen(monkeypatch, capsys, "check", str(site))
    assert out.startswith("Temperature outside its limit\n")
    assert "not below 32 °F until it has 725 psi" in out
    assert "at most 36 °F warmer" in out
    assert out.index("S1 Quay slab, top: ") < out.index("Heron Wharf can be planned")


def test_tonight_says_the_frost_of_this_night_alone_and_first(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ("--at", "2027-01-12 16:30")
    out = screen(monkeypatch, capsys, "tonight", str(planned), *at)
    head, first, *_ = out.splitlines()
    assert head.startswith("Heron Wharf, Tue 12 Jan")
    assert first.startswith("Temperature outside its limit")
    assert "S1 Quay slab, top: Tue 17:20 to Wed 07:00; " in out
    assert "S2 " not in out  # placed on Friday
    # It was placed in the morning: too late for another day.
    assert "Once placed: warm it now" in out
    assert "Do not place" not in out


def test_board_sheet_and_phone_say_it_with_the_clause(planned: Path) -> None:
    out = planned / "out"
    board = unescape((out / "board.html").read_text("utf-8"))
    assert board.index("Temperature outside its limit</h2>") < board.index("Dry gaps")
    assert board.index(CLAUSE) < board.index("Dry gaps</h2>")
    assert not [words for words in ALL_CLEAR if words in board]

    (page,) = read_pdf((out / "sheets" / "2027-01-12-0700-red.pdf").read_bytes())
    text = page.text.replace(" ", "")
    for words in (
        "Freezes before it sets: not below 0 °C",
        CLAUSE,
        "S1 Quay slab, top",
    ):
        assert words.replace(" ", "") in text

    calendar = Calendar.from_ical(
        (out / "calendars" / "surfaces" / "S1-top.ics").read_bytes()
    )
    titles = [str(event["summary"]) for event in calendar.walk("VEVENT")]
    assert "FREEZES BEFORE SET S1 Quay slab, top" in titles
    assert "FROST S1 Quay slab, top" in titles
    crews = (out / "calendars" / "crews").glob("*.ics")
    told = [
        str(event["description"])
        for path in crews
        for event in Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    ]
    assert any("CAUTION S1 Quay slab, top: Frost on weak" in each for each in told)


def test_every_temperature_that_the_audit_finds_has_figures(planned: Path) -> None:
    text = (planned / "out" / "audit.json").read_text("utf-8")
    report = AuditReport.model_validate_json(text)
    found = [f for f in report.findings if f.kind == "temperature"]
    assert len(found) > 3
    assert [f.words for f in found if f.breach is None] == []


def test_a_warmer_week_does_not_hide_the_frost(
    planned: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    at = ("--at", "2027-01-12 16:30", "--json")
    plain = run(monkeypatch, capsys, "tonight", str(planned), *at).json
    dry = run(monkeypatch, capsys, "tonight", str(planned), "--dry-side", *at).json
    assert plain["breaches"]
    assert dry["breaches"] == plain["breaches"]
