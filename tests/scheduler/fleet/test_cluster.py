"""The same over a cluster, here one of two processes on this machine."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import LocalCluster

from models.errors import InputError
from scheduler.fleet.cluster import Cluster
from scheduler.fleet.fleet import plan_sites
from scheduler.fleet.outcome import Planned, Unplanned
from tests.scheduler.fleet.jobs import note, note_or_die, tries
from tests.scheduler.fleet.small_sites import files_of, plan_or_die


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    with LocalCluster(  # type: ignore[no-untyped-call]  # untyped there
        n_workers=2,
        threads_per_worker=1,
        host="127.0.0.1",
        dashboard_address=":0",
        scheduler_kwargs={"allowed_failures": 1},
    ) as cluster:
        yield cluster.scheduler_address


@pytest.mark.slow
def test_bytes_are_those_of_plan_though_a_worker_is_killed(
    address: str,
    planned_alone: dict[str, dict[str, bytes]],
    sites: list[Path],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("scheduler.fleet.fleet.plan_site", plan_or_die)
    done = list(plan_sites(sites, Cluster(address)))
    assert sorted(outcome.folder for outcome in done) == sites
    assert all(isinstance(outcome, Planned) for outcome in done)
    assert tries(sites[1]) == 2  # "once" was killed
    for site in sites:
        assert files_of(site / "out") == planned_alone[site.name]


def test_a_folder_that_kills_every_worker_is_left_and_the_others_go_on(
    address: str, tmp_path: Path
) -> None:
    given = [tmp_path / name for name in ("a", "always", "b", "c")]
    for folder in given:
        folder.mkdir()
    done = {o.folder.name: o for o in Cluster(address).map(note_or_die, given)}
    assert set(done) == {"a", "always", "b", "c"}
    left = done.pop("always")
    assert isinstance(left, Unplanned)
    assert left.exit_code == 1
    assert left.fault.startswith("the cluster gave it up: ")
    assert all(isinstance(outcome, Planned) for outcome in done.values())


def test_sites_left_when_the_scheduler_goes_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("scheduler.fleet.cluster._CONNECT_S", 0.5)
    given = [tmp_path / name for name in ("a", "b", "c")]
    for folder in given:
        folder.mkdir()
    cluster = LocalCluster(  # type: ignore[no-untyped-call]  # untyped there
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=":0"
    )
    with cluster:
        arriving = Cluster(cluster.scheduler_address).map(note, given)
        first = next(arriving)
    left = list(arriving)
    assert isinstance(first, Planned)
    assert [outcome.folder for outcome in left] == given[1:]
    assert all(isinstance(outcome, Unplanned) for outcome in left)


def test_an_address_where_nobody_answers_is_bad_input(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("scheduler.fleet.cluster._CONNECT_S", 0.5)
    # Port 9 is "discard" (RFC 863); no scheduler listens there.
    with pytest.raises(InputError, match=r"--scheduler: found 'tcp://127\.0\.0\.1:9'"):
        next(Cluster("tcp://127.0.0.1:9").map(note, [Path("a")]))


def test_without_the_package_it_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(InputError, match=r"pip install 'keepdamp\[cluster\]'"):
        next(Cluster("tcp://127.0.0.1:9").map(note, [Path("a")]))
