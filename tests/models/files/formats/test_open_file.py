"""Files that are missing, too large, or not text."""

from pathlib import Path

import pytest

from models.files.formats.open_file import read_bytes, read_text
from models.files.reading.problems import ProblemCollector


def problem(path: Path) -> str:
    problems = ProblemCollector()
    assert read_text(path, problems) is None
    (found,) = problems.in_order()
    return str(found)


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    path = tmp_path / "pours.csv"
    assert problem(path) == "pours.csv: file not found"


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "pours.csv").mkdir()
    assert "not a regular file" in problem(tmp_path / "pours.csv")


def test_a_file_of_30_mb_is_refused_before_it_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "pours.csv"
    with path.open("wb") as file:
        file.truncate(30_000_000)

    def read(_: Path) -> bytes:
        raise AssertionError("the file was read")

    monkeypatch.setattr(Path, "read_bytes", read)
    assert "found a file of 30 MB; expected at most 20 MB" in problem(path)


def test_a_file_just_within_the_limit_is_read(tmp_path: Path) -> None:
    path = tmp_path / "weather.csv"
    path.write_bytes(b" " * 1000)
    assert read_bytes(path, ProblemCollector()) == b" " * 1000


def test_bytes_that_are_no_utf8_are_found_by_line_and_position(tmp_path: Path) -> None:
    path = tmp_path / "pours.csv"
    path.write_bytes("pour,zone\nP1,Süd\n".encode("latin-1"))
    # "pour,zone\n" is 10 bytes, then P 1 , S: the ü stands at position 14.
    assert problem(path) == (
        "pours.csv:2: not UTF-8 text: byte 0xfc at position 14. "
        "Save the file again with the encoding UTF-8"
    )


def test_a_byte_order_mark_is_dropped(tmp_path: Path) -> None:
    path = tmp_path / "pours.csv"
    path.write_bytes(b"\xef\xbb\xbfpour\n")
    assert read_text(path, ProblemCollector()) == "pour\n"
