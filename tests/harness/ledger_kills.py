"""Whether a ledger keeps its word under ``kill -9``: a writer killed at any moment.

``python -m tests.harness.ledger_kills [--times 300] [--seed 1]``
starts a process that begins a ledger, appends entries, publishes issues or brings a
ledger to a newer schema, kills it at a random moment and looks at what is left. All
that was acknowledged must be there, nothing half, and the hash chain unbroken.

A kill ends the program, not the machine: what a loss of power does is up to the disk.
"""

import argparse
import multiprocessing
import random
import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from datetime import UTC, datetime
from multiprocessing.connection import Connection
from pathlib import Path

from models.ledger.sql_store import SqlStore
from models.ledger.sqlite_schema import STEPS
from models.ledger.sqlite_store import open_sqlite
from tests.models.ledger.ledger_builders import entry, issue, visit

#: A writer lives so long at the most; some tens of writes on a common disk.
LONGEST_S = 0.15
AT = datetime(2027, 5, 4, 2, 0, tzinfo=UTC)
#: Entries handed in at once, and visits of an issue: half of them must never be seen.
BATCH, VISITS = 3, 40
#: A made-up next schema that takes a while and would leave much half done.
NEXT = (
    *STEPS,
    (
        "CREATE TABLE copies (number INTEGER PRIMARY KEY, body TEXT NOT NULL) STRICT",
        "INSERT INTO copies SELECT number, body FROM entries",
        "CREATE INDEX by_body ON copies (body)",
        "CREATE TABLE last (word TEXT) STRICT",
    ),
)
OLD_ENTRIES = 400
#: Loaded once, so that each writer is there at once.
PRELOADED = ["models.ledger.sqlite_store", "tests.models.ledger.ledger_builders"]

Writer = Callable[[Path, Connection], None]


@dataclass
class Tally:
    """What came of the kills.

    ``unseen`` counts writes that were on the disk when the writer died before it could
    acknowledge them: they may be there, whole.
    """

    kills: Counter[str] = field(default_factory=Counter)
    acknowledged: Counter[str] = field(default_factory=Counter)
    unseen: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        """Give the table."""
        lines = [f"{'killed while':14}{'kills':>7}{'acknowledged':>14}{'unseen':>8}"]
        lines += [
            f"{job:14}{kills:7}{self.acknowledged[job]:14}{self.unseen[job]:8}"
            for job, kills in sorted(self.kills.items())
        ]
        lines.append(f"faults: {len(self.faults)}")
        return "\n".join([*lines, *self.faults])


def _append(path: Path, acks: Connection) -> None:
    with open_sqlite(path) as store:
        while True:
            store.append([entry(note=f"{part}") for part in range(BATCH)], AT)
            acks.send(1)


def _publish(path: Path, acks: Connection) -> None:
    with open_sqlite(path) as store:
        while True:
            number = store.next_issue_number()
            visits = [visit(1000 * number + count, number) for count in range(VISITS)]
            store.publish(issue(number, roster="r" * 50_000), visits)
            acks.send(1)


def _begin(path: Path, acks: Connection) -> None:
    """Begin ledger after ledger."""
    count = 0
    while True:
        open_sqlite(path.with_name(f"{path.name}.{count}")).close()
        acks.send(1)
        count += 1


def _migrate(path: Path, acks: Connection) -> None:
    open_sqlite(path, NEXT).close()
    acks.send(1)
    time.sleep(2 * LONGEST_S)


def _entries_left(path: Path) -> int:
    with open_sqlite(path) as store:
        notes = [one.note for one in store.entries()]
    if notes != [f"{part}" for part in range(BATCH)] * (len(notes) // BATCH):
        raise AssertionError(f"half a batch: {len(notes)} entries")
    return len(notes) // BATCH


def _issues_left(path: Path) -> int:
    with open_sqlite(path) as store:
        count = len(store.issues())
        for number in range(max(1, count - 1), count + 1):
            if len(store.visits(number)) != VISITS:
                raise AssertionError(f"issue {number} without all its visits")
    return count


def _begun_left(path: Path) -> int:
    begun = 0
    for file in sorted(path.parent.glob(f"{path.name}.*[0-9]")):
        begun += _schema(file) == len(STEPS)
        with open_sqlite(file) as store:
            if store.entries() or store.issues():
                raise AssertionError(f"{file.name}: a new ledger with something in it")
        file.unlink()
    return begun


def _schema_left(path: Path) -> int:
    version = _schema(path)
    with closing(sqlite3.connect(path)) as db:
        tables = {name for (name,) in db.execute("SELECT name FROM sqlite_master")}
    newer = {"copies", "by_body", "last"}
    if (tables & newer) != (newer if version == len(NEXT) else set()):
        raise AssertionError(f"half a step: schema {version} with {tables & newer}")
    with open_sqlite(path, NEXT) as store:
        _require_old_entries(store)
    with closing(sqlite3.connect(path)) as db:
        (copies,) = db.execute("SELECT count(*) FROM copies").fetchone()
    if copies != OLD_ENTRIES:
        raise AssertionError(f"{copies} rows copied of {OLD_ENTRIES}")
    path.unlink()
    return int(version == len(NEXT))


def _schema(path: Path) -> int:
    with closing(sqlite3.connect(path)) as db:
        (version,) = db.execute("PRAGMA user_version").fetchone()
    return int(version)


def _require_old_entries(store: SqlStore) -> None:
    if len(store.entries()) != OLD_ENTRIES:
        raise AssertionError("entries lost while the schema was raised")


def _old_ledger(path: Path) -> None:
    if not path.exists():
        with open_sqlite(path) as store:
            store.append([entry()] * OLD_ENTRIES, AT)


@dataclass(frozen=True)
class Job:
    """What the writer does, and what is looked at afterwards.

    ``left`` looks for halves and gives how many writes are there; where it clears them
    away, the ledgers do not ``live_on``.
    """

    writer: Writer
    left: Callable[[Path], int]
    prepare: Callable[[Path], None] = lambda _path: None
    lives_on: bool = True


JOBS = {
    "append": Job(_append, _entries_left),
    "publish": Job(_publish, _issues_left),
    "begin": Job(_begin, _begun_left, lives_on=False),
    "migrate": Job(_migrate, _schema_left, _old_ledger, lives_on=False),
}


def kills(times: int, seed: int, folder: Path, jobs: Mapping[str, Job] = JOBS) -> Tally:
    """Kill so many writers, each job in turn, on ledgers that live on."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(PRELOADED)
    draw, tally, there = random.Random(seed), Tally(), Counter[str]()
    for count in range(times):
        name = list(jobs)[count % len(jobs)]
        job, path = jobs[name], folder / f"{name}.sqlite"
        job.prepare(path)
        ours, theirs = context.Pipe(duplex=False)
        writer = context.Process(target=_write, args=(job.writer, path, theirs))
        writer.start()
        theirs.close()
        ours.recv()  # it is about to begin
        time.sleep(LONGEST_S * draw.random() ** 2)  # early moments more often
        writer.kill()
        writer.join()
        acknowledged = _received(ours)
        tally.kills[name] += 1
        tally.acknowledged[name] += acknowledged
        try:
            left = job.left(path)
            unseen = left - there[name] - acknowledged
            # It was in the middle of one write at the most.
            if unseen not in (0, 1):
                raise AssertionError(f"{acknowledged} acknowledged, {unseen:+} there")
            tally.unseen[name] += unseen
            there[name] = left if job.lives_on else 0
        except Exception as fault:
            tally.faults.append(f"{name}, kill {count + 1}: {fault}")
    return tally


def _write(writer: Writer, path: Path, acks: Connection) -> None:
    acks.send(0)
    writer(path, acks)


def _received(acks: Connection) -> int:
    """Count what the writer acknowledged before it died."""
    count = 0
    try:
        while True:
            count += acks.recv()
    except (EOFError, OSError):
        return count


def main() -> int:
    """Print what came of it; 1 if anything was lost or half."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--times", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    words = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        tally = kills(words.times, words.seed, Path(folder))
    print(tally)
    return int(bool(tally.faults))


if __name__ == "__main__":
    sys.exit(main())
