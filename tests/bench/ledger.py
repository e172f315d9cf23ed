"""How long a large ledger takes: ``python -m tests.bench.ledger [--entries 50000]``.

Prints the time to open and verify it, to read all entries, and to write one so that it
is on the disk; beside that, one row in a bare SQLite file with the same settings, which
is what the disk itself asks. ``--database`` measures in PostgreSQL instead, under a
site's name that it makes up.
"""

import argparse
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter
from uuid import uuid4

from models.ledger.store import Store
from models.ledger.where import open_ledger
from models.records import Found, NewEntry

AT = datetime(2027, 5, 4, 1, 10, tzinfo=UTC)
SINGLE_WRITES = 200


def found(count: int) -> NewEntry:
    """A find like most that crews hand in."""
    return NewEntry(
        about=f"P{count % 60}-top",
        happened_at=AT + timedelta(minutes=count),
        by="AK",
        values=Found(condition="damp", litres_l=180, area_m2=300),
    )


def timed(work: Callable[[], object]) -> float:
    """Seconds that some work takes."""
    begins = perf_counter()
    work()
    return perf_counter() - begins


def measure(open_one: Callable[[], Store], entries: int) -> None:
    """Fill a ledger, then print what it takes."""
    with open_one() as store:
        filled_s = timed(lambda: store.append([found(n) for n in range(entries)], AT))
    print(f"{entries} entries at once: {filled_s:.2f} s")
    opened_s = min(timed(lambda: open_one().close()) for _ in range(3))
    print(f"opened and verified: {opened_s:.2f} s (wanted: under 1 s)")
    with open_one() as store:
        print(f"all entries read: {timed(store.entries):.2f} s")
        tell(
            "one durable entry (wanted: under 5 ms)",
            [timed(lambda: store.append([found(0)], AT)) for _ in range(SINGLE_WRITES)],
        )


def bare(path: Path) -> None:
    """Print what one row costs on this disk without any ledger."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("PRAGMA synchronous = EXTRA")
        db.execute("CREATE TABLE bare (number INTEGER PRIMARY KEY, body TEXT) STRICT")
        sql = "INSERT INTO bare (body) VALUES (?)"
        writes = [
            timed(lambda: db.execute(sql, ("x" * 300,))) for _ in range(SINGLE_WRITES)
        ]
    tell("one row in a bare SQLite file", writes)


def tell(what: str, seconds: list[float]) -> None:
    """Print the middle and the slow end of some times."""
    slow = quantiles(seconds, n=20)[-1]
    print(f"{what}: median {1000 * median(seconds):.2f} ms, p95 {1000 * slow:.2f} ms")


def main() -> None:
    """Measure on a new ledger."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--entries", type=int, default=50_000)
    parser.add_argument("--database", default="")
    words = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder, site = Path(name), f"bench {uuid4()}"
        measure(lambda: open_ledger(folder, site, words.database), words.entries)
        if not words.database:
            bare(folder / "bare.sqlite")


if __name__ == "__main__":
    main()
