"""The output folder is replaced whole or stays as it was."""

import os
from errno import ENOSPC
from pathlib import Path

import pytest

from exports import in_place, out_folder
from exports.out_folder import write_out
from models.errors import InputError
from models.records import DryingHistory, HydrationHistory
from tests.builders import site_input
from tests.exports.exports_builders import small_report, small_roster, small_site


def write(folder: Path, monkeypatch: pytest.MonkeyPatch, **contents: bytes) -> None:
    monkeypatch.setattr(out_folder, "_contents", lambda *_: contents)
    nothing: tuple[HydrationHistory, DryingHistory] = ()  # type: ignore[assignment]  # not looked at
    where = site_input().model_copy(update={"site": small_site()})
    write_out(folder, where, nothing, small_roster(), small_report(), ())


def test_earlier_output_is_replaced_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write(out, monkeypatch, one=b"1", two=b"2")
    write(out, monkeypatch, two=b"22")
    assert {p.name: p.read_bytes() for p in out.iterdir()} == {"two": b"22"}
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


@pytest.mark.parametrize(
    ("fault", "told"),
    [(OSError("disk full"), InputError), (KeyboardInterrupt(), KeyboardInterrupt)],
)
@pytest.mark.parametrize("at_rename", [1, 2])
def test_a_fault_at_the_last_moment_leaves_the_earlier_output(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    fault: BaseException,
    told: type[BaseException],
    at_rename: int,
) -> None:
    out = tmp_path / "out"
    write(out, monkeypatch, one=b"1")
    rename, calls = Path.rename, []

    def breaking(self: Path, target: Path) -> Path:
        calls.append(target)
        if len(calls) == at_rename:
            raise fault
        return rename(self, target)

    with monkeypatch.context() as patched:
        patched.setattr(in_place, "_exchanged", lambda *_: False)
        patched.setattr(Path, "rename", breaking)
        with pytest.raises(told):
            write(out, monkeypatch, one=b"new")
    assert (out / "one").read_bytes() == b"1"
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_file_where_the_folder_should_be_is_named_and_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    out.write_bytes(b"notes")
    with pytest.raises(InputError, match="out: cannot be written: a file of that name"):
        write(out, monkeypatch, one=b"1")
    assert out.read_bytes() == b"notes"
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_disk_without_room_is_told_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> int:
        raise OSError(ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(
        InputError, match="out: cannot be written: no space left on device"
    ):
        write(tmp_path / "out", monkeypatch, one=b"1")
    assert list(tmp_path.iterdir()) == []


def test_where_folders_can_be_exchanged_there_is_always_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "out"
    write(out, monkeypatch, one=b"1")
    if not in_place._exchanged(out, out):
        pytest.skip("this system or disk exchanges no folders")

    def refuse(*_: object) -> None:
        raise AssertionError("a rename leaves a moment without the folder")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "rename", refuse)
        write(out, monkeypatch, one=b"new")
    assert (out / "one").read_bytes() == b"new"
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_what_a_killed_run_left_is_cleared_by_a_later_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    left, fresh = tmp_path / ".out-killed", tmp_path / ".out-at-work"
    left.mkdir()
    fresh.mkdir()
    os.utime(left, (0, 0))
    write(tmp_path / "out", monkeypatch, one=b"1")
    assert sorted(p.name for p in tmp_path.iterdir()) == [".out-at-work", "out"]
