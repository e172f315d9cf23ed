"""``keepdamp record`` as a person runs it, on a folder with a week in its ledger."""

from pathlib import Path

import pytest

from models.files.site_folder import read_site
from models.records import Entry, PlacingFinished, Roster, Visit
from scheduler.cli.ledgers import DATABASE
from tests.exports.sheets.pdf_reader import read_pdf
from tests.models.files.folders import POURS, changed, write_site
from tests.scheduler.cli.command_line import Ran, run
from tests.scheduler.recorded.recorded_builders import (
    at,
    entry,
    ledger_of,
    roster,
    visit,
    work_of,
)

Patch = pytest.MonkeyPatch
Caught = pytest.CaptureFixture[str]
#: W1's top has been under burlap since Saturday; EN 13670, class 3, by temperature.
TOP = "W1-top"


@pytest.fixture(scope="module")
def week(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Roster]:
    """A folder with the wall alone, and re-wets of its top every four hours."""
    head, *rows = POURS.splitlines(keepends=True)
    wall = changed(
        next(row for row in rows if row.startswith("W1")),
        (",6,400,90,2027-05-03 09:00,", ",6,400,,,"),
        (",burlap_double,burlap_double,1,", ",burlap_double,,1,"),
    )
    folder = tmp_path_factory.mktemp("site")
    write_site(folder, {"pours.csv": head + wall, "readings.csv": None})
    base = read_site(folder)
    (own,) = work_of(base).surfaces
    assert own.rewet is not None
    hours = range(1, 24 * 5, 4)
    visits: list[Visit] = [
        visit(own.rewet, n, at(h)) for n, h in enumerate(hours, start=1)
    ]
    return folder, roster(base, own, visits)


@pytest.fixture
def folder(tmp_path: Path, week: tuple[Path, Roster], monkeypatch: Patch) -> Path:
    """The folder with a ledger in which nobody wrote but of the placing."""
    monkeypatch.delenv(DATABASE, raising=False)
    for path in week[0].iterdir():
        if path.is_file():
            (tmp_path / path.name).write_bytes(path.read_bytes())
    placed = entry(1, 0, PlacingFinished(), about="W1", by="JM")
    placed = Entry.model_validate(dict(placed) | {"happened_at": at(-42)})
    ledger_of(tmp_path, read_site(tmp_path), week[1], [placed])
    return tmp_path


def record(monkeypatch: Patch, capsys: Caught, folder: Path, *words: str) -> Ran:
    return run(monkeypatch, capsys, "record", str(folder), *words)


def test_a_record_is_written_beside_the_plan_and_told(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    made = record(monkeypatch, capsys, folder, TOP, "--at", "2027-05-04 12:00")
    assert (made.code, made.err) == (0, "")
    assert made.out.startswith("W1-top: Curing is NOT over: expected ")
    assert "missing: 8 visits without an entry: RE-WET Mon 3 May 07:00" in made.out
    text = "".join(
        p.text for p in read_pdf((folder / "records/W1-top.pdf").read_bytes())
    )
    assert "CuringrecordW1-top" in text.replace(" ", "")
    assert (folder / "records/W1-top.csv").exists()
    assert not (folder / "out").exists()


def test_open_points_are_listed_and_nothing_is_written(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    listed = record(monkeypatch, capsys, folder, "--open", "--at", "2027-05-04 12:00")
    assert listed.code == 0
    assert [line.split(":")[0] for line in listed.out.splitlines()] == [TOP] * 3
    assert listed.out.splitlines()[-1] == "W1-top: signature"
    assert not (folder / "records").exists()
    as_json = record(monkeypatch, capsys, folder, "--open", "--json")
    assert list(as_json.json) == [TOP]


def test_a_record_is_signed_locked_and_amended(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    sign = (TOP, "--sign", "Ada Keel", "--role", "quality engineer")
    late = ("--now", "2027-05-09 12:00")
    refused = record(monkeypatch, capsys, folder, *sign, *late)
    assert refused.code == 10
    assert "sign with --with-gaps" in refused.err
    made = record(monkeypatch, capsys, folder, *sign, *late, "--with-gaps")
    assert made.code == 0
    assert "signed by Ada Keel, quality engineer, Sun 9 May 12:00 (entry 2)" in made.out
    locked = (folder / "records/W1-top.pdf").read_bytes()
    (folder / "weather.csv").write_text("nonsense")
    again = record(monkeypatch, capsys, folder, TOP)
    assert again.out == made.out
    assert (folder / "records/W1-top.pdf").read_bytes() == locked
    found = ("found", TOP, "dry", "--at", "2027-05-04 11:00", "--by", "AK")
    run(monkeypatch, capsys, "log", str(folder), *found, "--now", "2027-05-09 13:00")
    amended = record(monkeypatch, capsys, folder, TOP)
    assert "amended after signing: entry 3: W1-top: found dry" in amended.out
    assert (folder / "records/W1-top.pdf").read_bytes() != locked
    digest = next(line for line in made.out.splitlines() if "digest" in line).split()[
        -1
    ]
    assert f"entry 2: digest {digest}" in amended.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("W1-tpo",), "Did you mean 'W1-top'?"),
        (
            (TOP, "--at", "2027-05-01 10:00"),
            "W1, not placed before Sat 1 May 12:00 CEST",
        ),
        ((TOP, "--at", "soon"), "--at: found 'soon'"),
        (("--sign", "Ada Keel"), "--sign without a surface"),
        ((TOP, "--role", "engineer"), "--role without --sign"),
        ((TOP, "--sign", "Ada", "--open"), "--sign with --open"),
        (
            (TOP, "--sign", "Ada", "--now", "2027-05-04 12:00", "--with-gaps"),
            "expected a surface whose curing is over",
        ),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(
    monkeypatch: Patch,
    capsys: Caught,
    folder: Path,
    words: tuple[str, ...],
    said: str,
) -> None:
    ran = record(monkeypatch, capsys, folder, *words)
    assert ran.code == 10
    assert said in ran.err
    assert ran.err.startswith("1 problem found:")
    assert not (folder / "records").exists()


def test_without_a_ledger_it_says_what_to_do(
    monkeypatch: Patch, capsys: Caught, tmp_path: Path
) -> None:
    monkeypatch.delenv(DATABASE, raising=False)
    site = write_site(tmp_path / "wharf")
    ran = record(monkeypatch, capsys, site, "Q1-top")
    assert ran.code == 10
    assert "found no ledger; expected a published week" in ran.err
    assert "keepdamp publish SITE" in ran.err
    assert not (site / "ledger.sqlite").exists()
