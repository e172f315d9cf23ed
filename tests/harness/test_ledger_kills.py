"""A few kills in each run; many by hand, as ``ledger_kills.py`` says."""

import time
from multiprocessing.connection import Connection
from pathlib import Path

import pytest

from models.ledger.sqlite_store import open_sqlite
from tests.harness.ledger_kills import AT, BATCH, JOBS, Job, Writer, kills
from tests.models.ledger.ledger_builders import entry


def test_what_was_acknowledged_outlives_a_killed_writer(tmp_path: Path) -> None:
    tally = kills(16, 3, tmp_path)
    assert tally.faults == []
    assert set(tally.kills.values()) == {4}
    assert sum(tally.acknowledged.values()) > 0


def _acknowledge_too_soon(path: Path, acks: Connection) -> None:
    acks.send(1)
    time.sleep(10)
    open_sqlite(path).close()


def _write_by_halves(path: Path, acks: Connection) -> None:
    with open_sqlite(path) as store:
        for part in range(BATCH - 1):
            store.append([entry(note=f"{part}")], AT)
        acks.send(1)
        time.sleep(10)


@pytest.mark.parametrize(
    ("writer", "fault"),
    [(_acknowledge_too_soon, "1 acknowledged, -1 there"),
     (_write_by_halves, "half a batch")],
)  # fmt: skip
def test_the_harness_notices_a_writer_that_is_not_durable(
    tmp_path: Path, writer: Writer, fault: str
) -> None:
    job = Job(writer, JOBS["append"].left)
    faults = kills(8, 1, tmp_path, {"append": job}).faults
    assert any(fault in one for one in faults)
