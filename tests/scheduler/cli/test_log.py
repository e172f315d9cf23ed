"""``keepdamp log`` as a person runs it, with the time that a script names."""

import csv
import io
from pathlib import Path

import pytest

from exports.handed import Handed
from exports.tables.csv_file import csv_file
from exports.tables.tables import table_files
from exports.tables.visits import visits_table
from models.ledger.sqlite_store import open_sqlite
from models.ledger.where import find_ledger
from scheduler.cli.ledgers import DATABASE
from tests.exports.exports_builders import small_report, small_roster, small_site
from tests.models.files.folders import write_site
from tests.models.ledger.ledger_builders import issue
from tests.models.ledger.ledgers import PostgresLedger
from tests.scheduler.cli.command_line import Ran, run
from tests.scheduler.logbook.logbook_builders import PUBLISHED_AT

Patch = pytest.MonkeyPatch
Caught = pytest.CaptureFixture[str]
NOW = ("--now", "2027-05-04 16:00")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_site(tmp_path / "wharf")


@pytest.fixture(autouse=True)
def _in_the_folder(monkeypatch: Patch) -> None:
    """Keep ledgers in their folders, whatever this machine is set up for."""
    monkeypatch.delenv(DATABASE, raising=False)


def log(monkeypatch: Patch, capsys: Caught, folder: Path, *words: str) -> Ran:
    return run(monkeypatch, capsys, "log", str(folder), *words, *NOW)


def test_an_entry_is_told_with_its_number_and_listed(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    words = ("found", "Q1-top", "dry", "--at", "03:10", "--litres", "180")
    made = log(monkeypatch, capsys, folder, *words, "--by", "AK")
    assert (made.code, made.err) == (0, "")
    assert made.out == (
        "Entry 1: Q1-top: found dry, 180 L; Tue 4 May 03:10 CEST, AK; written late\n"
    )
    monkeypatch.setenv("COLUMNS", "160")
    listed = log(monkeypatch, capsys, folder)
    assert "Q1-top: found dry, 180 L" in listed.out
    assert "late, written" in listed.out
    withdrawn = log(
        monkeypatch, capsys, folder, "withdrawn", "--correct", "1", "--by", "JM"
    )
    assert withdrawn.out.startswith("Entry 2: entry 1 is withdrawn; Tue 4 May 16:00")
    assert "corrected by 2" in log(monkeypatch, capsys, folder).out


def test_an_empty_ledger_is_listed_and_none_is_begun(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    assert log(monkeypatch, capsys, folder).out == "The ledger is empty.\n"
    assert log(monkeypatch, capsys, folder, "--json").json == {
        "entries": [], "issues": [], "seal": "",
    }  # fmt: skip
    assert find_ledger(folder, "Heron Wharf") is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("fond", "Q1-top", "dry"), "Did you mean 'found'?"),
        (("found", "Q1-tops", "dry", "--by", "AK"), "Did you mean 'Q1-top'?"),
        (("struck", "Q1-top", "dry", "--by", "AK"), "nothing more after struck Q1-top"),
        (("--by", "AK"), "found --by alone; expected what happened"),
        (("found", "--sheet", "x.csv"), "expected either a sheet or what happened"),
        (("--sheet", "x.csv"), "x.csv: file not found"),
    ],
)
def test_what_is_refused_begins_no_ledger(
    monkeypatch: Patch, capsys: Caught, folder: Path, words: tuple[str, ...], said: str
) -> None:
    ran = log(monkeypatch, capsys, folder, *words)
    assert ran.code == 10
    assert said in ran.err
    assert ran.out == ""
    assert not (folder / "ledger.sqlite").exists()


def test_a_find_can_be_logged_while_the_forecast_is_out_of_order(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    (folder / "weather.csv").write_text("nonsense")
    words = ("found", "Q1-top", "dry", "--by", "AK")
    assert log(monkeypatch, capsys, folder, *words).code == 0
    (folder / "pours.csv").write_text("nonsense")
    refused = log(monkeypatch, capsys, folder, *words)
    assert refused.code == 10
    assert "weather" not in refused.err


def test_the_visits_table_filled_in_is_read_back(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    roster = small_roster()
    with open_sqlite(folder / "ledger.sqlite") as store:
        store.publish(
            issue(1, published_at=PUBLISHED_AT, roster=roster.model_dump_json())
        )
    table = csv_file(
        visits_table(small_site(), roster, small_report(), Handed(1, PUBLISHED_AT))
    )
    rows = list(csv.DictReader(io.StringIO(table.decode("utf-8-sig"))))
    fogged = next(row for row in rows if row["Kind"] == "fog")
    wetted = [row for row in rows if row["Kind"] == "re-wet"]
    fogged |= {"Done": "yes", "Time": "12:35", "Initials": "AK"}
    wetted[0] |= {"Done": "yes", "Found": "dry", "Time": "11:40", "Initials": "AK",
                  "Water used [L]": "210", "Remark": "wind"}  # fmt: skip
    wetted[1] |= {"Done": "no", "Time": "23:59", "Initials": "OL", "Remark": "ice"}
    sheet = folder.parent / "filled.csv"

    def write() -> None:
        with sheet.open("w", newline="") as file:
            out = csv.DictWriter(file, rows[0].keys())
            out.writeheader()
            out.writerows(rows)

    wetted[1]["Found"] = "frosen"
    write()
    refused = log(monkeypatch, capsys, folder, "--sheet", str(sheet))
    assert refused.code == 10
    assert "Did you mean 'frozen'?" in refused.err
    assert "ISSUE 1" in log(monkeypatch, capsys, folder).out
    with open_sqlite(folder / "ledger.sqlite") as store:
        assert store.entries() == ()

    wetted[1]["Found"] = "frozen"
    write()
    taken = log(monkeypatch, capsys, folder, "--sheet", str(sheet))
    assert (taken.code, taken.err) == (0, "")
    said = taken.out.splitlines()
    assert len(said) == 3
    assert any("re-wetting done, found dry, 210 L (wind)" in line for line in said)
    assert any("re-wetting NOT done, ice, found frozen" in line for line in said)
    again = log(monkeypatch, capsys, folder, "--sheet", str(sheet))
    assert again.out == "3 rows were in the ledger already, word for word.\n"
    with open_sqlite(folder / "ledger.sqlite") as store:
        assert len(store.entries()) == 3


def test_a_workbook_that_nobody_filled_in_writes_nothing(
    monkeypatch: Patch, capsys: Caught, folder: Path
) -> None:
    files = table_files(
        small_site(), small_roster(), small_report(), Handed(1, PUBLISHED_AT)
    )
    sheet = folder.parent / "roster.xlsx"
    sheet.write_bytes(files["tables/roster.xlsx"])
    ran = log(monkeypatch, capsys, folder, "--sheet", str(sheet))
    assert (ran.code, ran.out) == (0, "No row is filled in: nothing to write.\n")
    assert not (folder / "ledger.sqlite").exists()


def test_a_firm_may_keep_its_ledgers_in_a_database(
    monkeypatch: Patch, capsys: Caught, folder: Path, database: str
) -> None:
    PostgresLedger.fresh(database)
    monkeypatch.setenv(DATABASE, database)
    words = ("found", "Q1-top", "dry", "--by", "AK")
    assert log(monkeypatch, capsys, folder, *words).code == 0
    assert not (folder / "ledger.sqlite").exists()
    listed = log(monkeypatch, capsys, folder, "--json").json
    assert [entry["about"] for entry in listed["entries"]] == ["Q1-top"]
    assert len(listed["seal"]) == 64


def test_help_shows_how_each_sort_is_typed(monkeypatch: Patch, capsys: Caught) -> None:
    ran = run(monkeypatch, capsys, "log", "--help")
    assert "keepdamp log SITE crew-out birch" in ran.out
