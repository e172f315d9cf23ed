"""A fleet writes what each site alone would get."""

from collections.abc import Generator, Sequence
from pathlib import Path

import pytest

from models.errors import OutOfRangeError
from scheduler.fleet.fleet import plan_site, plan_sites
from scheduler.fleet.mapper import SitePlanner
from scheduler.fleet.outcome import Outcome, Planned, Unplanned
from scheduler.fleet.processes import Processes
from scheduler.workflow import PlanOptions
from tests.scheduler.fleet.jobs import note, tries
from tests.scheduler.fleet.small_sites import files_of, plan_or_die, small_site


class InTurn:
    """One after the other, in this process."""

    def map(
        self, planner: SitePlanner, folders: Sequence[Path]
    ) -> Generator[Outcome, None, None]:
        yield from map(planner, folders)


@pytest.mark.slow
def test_one_worker_writes_the_bytes_of_plan(
    planned_alone: dict[str, dict[str, bytes]], sites: list[Path]
) -> None:
    done = list(plan_sites(sites, Processes(1)))
    assert [outcome.folder for outcome in done] == sites
    assert all(isinstance(outcome, Planned) for outcome in done)
    for site in sites:
        assert files_of(site / "out") == planned_alone[site.name]


@pytest.mark.slow
def test_two_workers_write_the_same_bytes_though_one_is_killed(
    planned_alone: dict[str, dict[str, bytes]],
    sites: list[Path],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("scheduler.fleet.fleet.plan_site", plan_or_die)
    done = list(plan_sites(sites, Processes(2)))
    assert all(isinstance(outcome, Planned) for outcome in done)
    assert [tries(site) for site in sites] == [1, 2]  # "once" was killed
    for site in sites:
        assert files_of(site / "out") == planned_alone[site.name]
        assert [p.name for p in site.iterdir() if p.name.startswith(".")] == []


def test_a_bad_folder_is_told_and_the_others_are_planned(
    tmp_path: Path, sites: list[Path]
) -> None:
    bad = small_site(tmp_path / "bad", 60)
    (bad / "weather.csv").unlink()
    given = [tmp_path / "nowhere", bad, sites[0]]
    nowhere, told, planned = plan_sites(given, InTurn())
    assert isinstance(nowhere, Unplanned)
    assert isinstance(told, Unplanned)
    assert [str(problem.place) for problem in told.problems] == ["weather.csv"]
    assert (nowhere.exit_code, told.exit_code) == (10, 10)
    assert not (bad / "out").exists()
    assert isinstance(planned, Planned)
    assert (sites[0] / "out" / "roster.json").exists()


def test_a_folder_named_twice_is_planned_once_by_its_first_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "a")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(
        "scheduler.fleet.fleet.plan_site", lambda folder, **_: note(folder)
    )
    given = [Path("a"), Path("b"), tmp_path / "a", Path("link")]
    assert [o.folder for o in plan_sites(given, InTurn())] == [Path("a"), Path("b")]
    assert tries(tmp_path / "a") == 1


def test_an_error_of_one_site_is_an_outcome(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise KeyError("a bug met here")

    monkeypatch.setattr("scheduler.fleet.fleet.hand_out", fail)
    outcome = plan_site(tmp_path, PlanOptions())
    assert isinstance(outcome, Unplanned)
    assert outcome.exit_code == 1
    assert "Traceback" in outcome.fault
    assert "KeyError: 'a bug met here'" in outcome.fault


def test_a_planned_error_keeps_its_words_and_code(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise OutOfRangeError(
            name="air_temperature_c", found=99, wanted="-40 to 80 °C", source="A table"
        )

    monkeypatch.setattr("scheduler.fleet.fleet.hand_out", fail)
    outcome = plan_site(tmp_path, PlanOptions())
    assert outcome == Unplanned(
        tmp_path, 11, fault="air_temperature_c = 99: A table holds for -40 to 80 °C"
    )
