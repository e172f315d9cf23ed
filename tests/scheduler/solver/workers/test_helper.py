"""The second process changes the time it takes and nothing else."""

from collections.abc import Callable
from dataclasses import replace

import pytest

import scheduler.solver.workers.helper as helper_module
from models.records import WorkList
from scheduler.happened.handed_out import published_in
from scheduler.solver.settings.settings import DEFAULT
from scheduler.solver.solve import Effort, solve
from tests.bench.instances import Size, instance

EFFORT = Effort(work=0.2)
#: However little there is to do, somebody helps.
ALWAYS_HELPED = replace(DEFAULT, effort=replace(DEFAULT.effort, helper_from_work=0))


@pytest.fixture(scope="module")
def work() -> WorkList:
    return instance(Size(6, 3, 0.8, None, True), 1)


@pytest.fixture(scope="module")
def bytes_alone(work: WorkList) -> str:
    return solve(work, EFFORT, alone=True).model_dump_json()


def test_a_helper_changes_no_byte(work: WorkList, bytes_alone: str) -> None:
    assert solve(work, EFFORT, settings=ALWAYS_HELPED).model_dump_json() == bytes_alone


def _dies(start: Callable[[], object]) -> Callable[[], object]:
    def started() -> object:
        process = start()
        process.kill()  # type: ignore[attr-defined]
        return process

    return started


@pytest.mark.parametrize("how", ["dies", "cannot be started"])
def test_a_helper_that_is_lost_changes_no_byte(
    work: WorkList, bytes_alone: str, how: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = _dies(helper_module._start_process) if how == "dies" else lambda: None
    monkeypatch.setattr(helper_module, "_start_process", start)
    assert solve(work, EFFORT, settings=ALWAYS_HELPED).model_dump_json() == bytes_alone


def test_a_helper_changes_no_byte_near_a_published_roster(work: WorkList) -> None:
    told = published_in(work.horizon, solve(work, Effort(work=0.02), alone=True))
    fewer = {"shifts": work.shifts[1:], "published": told}
    alone, helped = (
        solve(
            work.model_copy(update=fewer), EFFORT, alone=alone, settings=ALWAYS_HELPED
        ).model_dump_json()
        for alone in (True, False)
    )
    assert helped == alone
