"""Records on the disk: as CSV and PDF, whole or as they were before."""

import csv
import io
from pathlib import Path

import pytest

from exports.record.record_table import record_csv
from exports.record.written import write_record
from models.errors import InputError
from tests.exports.record.record_builders import record, signed


def rows() -> list[list[str]]:
    text = record_csv(signed()).decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text)))


def test_the_table_holds_what_the_page_says() -> None:
    table = rows()
    assert {len(row) for row in table} == {8}
    by_section = [tuple(cell for cell in row if cell) for row in table]
    assert ("Amended after signing", "bad", "entry 14: P1-top: found dry") in by_section
    assert ("Missing for sign-off", "open", "when placing of P1 finished") in by_section
    proof = "What Three days asks, and the proof"
    assert (proof, "3 days.", "3 d credited", "by the clock", "met") in by_section
    assert any(row[0] == proof and row[1] == "bad" for row in table)
    assert ("Dry gaps", "None.") in by_section
    assert any("Ada Keel" in row and "ab" * 32 in row for row in table)


def test_records_are_written_beside_the_folder_of_the_plan(tmp_path: Path) -> None:
    names = [
        path.relative_to(tmp_path).as_posix()
        for path in write_record(tmp_path, signed())
    ]
    assert names == ["records/P1-top.pdf", "records/P1-top.csv"]
    assert sorted(p.name for p in (tmp_path / "records").iterdir()) == [
        "P1-top.csv", "P1-top.pdf",
    ]  # fmt: skip
    before = (tmp_path / names[0]).read_bytes()
    write_record(tmp_path, signed())
    assert (tmp_path / names[0]).read_bytes() == before


def test_an_id_never_leaves_the_folder(tmp_path: Path) -> None:
    paths = write_record(tmp_path, signed(record(surface_id="../a/b-top")))
    assert {path.parent for path in paths} == {tmp_path / "records"}


def test_a_fault_on_the_way_leaves_the_earlier_record(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_record(tmp_path, signed())
    before = {p.name: p.read_bytes() for p in (tmp_path / "records").iterdir()}

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(InputError, match="cannot be written: no space left on device"):
        write_record(tmp_path, signed(record(verdict="another")))
    after = {p.name: p.read_bytes() for p in (tmp_path / "records").iterdir()}
    assert after == before


def test_a_file_where_the_folder_goes_is_told(tmp_path: Path) -> None:
    (tmp_path / "records").write_text("mine")
    with pytest.raises(InputError, match="cannot be written"):
        write_record(tmp_path, signed())
