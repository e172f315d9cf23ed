"""Worker processes: every folder done, whoever dies; nobody left behind."""

from collections.abc import Iterator
from multiprocessing import active_children
from pathlib import Path

import pytest

from scheduler.fleet.outcome import Planned, Unplanned
from scheduler.fleet.processes import Processes
from tests.scheduler.fleet.jobs import note, note_or_die, tries, wait_long


@pytest.fixture(autouse=True)
def _nobody_left_behind() -> Iterator[None]:
    yield
    assert active_children() == []


def folders(path: Path, *names: str) -> list[Path]:
    for name in names:
        (path / name).mkdir()
    return [path / name for name in names]


@pytest.mark.parametrize("workers", [1, 2, 9])
def test_every_folder_is_done_once(tmp_path: Path, workers: int) -> None:
    given = folders(tmp_path, "a", "b", "c")
    done = list(Processes(workers).map(note, given))
    assert sorted(outcome.folder for outcome in done) == given
    assert [tries(folder) for folder in given] == [1, 1, 1]


def test_no_folders_need_no_workers() -> None:
    assert list(Processes(2).map(note, [])) == []


def test_a_killed_worker_costs_its_own_folder_one_more_try(tmp_path: Path) -> None:
    given = folders(tmp_path, "a", "once", "b", "c")
    done = list(Processes(2).map(note_or_die, given))
    assert sorted(outcome.folder for outcome in done) == sorted(given)
    assert all(isinstance(outcome, Planned) for outcome in done)
    assert [tries(folder) for folder in given] == [1, 2, 1, 1]


def test_a_folder_that_kills_every_worker_is_left_and_the_others_go_on(
    tmp_path: Path,
) -> None:
    given = folders(tmp_path, "always", "a", "b", "once", "c")
    done = {o.folder.name: o for o in Processes(2).map(note_or_die, given)}
    assert set(done) == {"always", "a", "b", "once", "c"}
    left = done.pop("always")
    assert isinstance(left, Unplanned)
    assert "died 3 times, the last time by SIGKILL" in left.fault
    assert left.exit_code == 1
    assert all(isinstance(outcome, Planned) for outcome in done.values())
    assert [tries(folder) for folder in given] == [3, 1, 1, 2, 1]


def test_the_last_folder_may_kill_its_worker_too(tmp_path: Path) -> None:
    given = folders(tmp_path, "once")
    (done,) = Processes(1).map(note_or_die, given)
    assert isinstance(done, Planned)


def test_closing_early_stops_the_workers_by_way_of_their_tidying(
    tmp_path: Path,
) -> None:
    quick, slow = folders(tmp_path, "quick", "slow")
    arriving = Processes(2).map(_wait_if_slow, [quick, slow])
    assert next(arriving).folder == quick
    while not (slow / "started").exists():
        pass
    arriving.close()
    assert (slow / "tidied").exists()
    assert not (slow / "tries").exists()


def _wait_if_slow(folder: Path) -> Planned | Unplanned:
    return wait_long(folder) if folder.name == "slow" else note(folder)
