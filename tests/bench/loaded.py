"""The same week on an idle and on a loaded machine: ``python -m tests.bench.loaded``.

Plans it once alone and once while every core is kept busy by two spinners, and compares
the rosters byte by byte. Ends with 1 if they differ.
"""

import argparse
import multiprocessing
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from time import monotonic

from models.records import WorkList
from scheduler.solver.search.effort import Effort
from scheduler.solver.solve import solve
from tests.bench.instances import Size, instance

_SPINNERS_PER_CORE = 2


def roster_bytes(work: WorkList, effort: Effort) -> bytes:
    """Roster of a week as it would be written."""
    return solve(work, effort).model_dump_json().encode()


def _spin() -> None:
    while True:
        pass


@contextmanager
def every_core_busy() -> Iterator[None]:
    """Keep the machine loaded in the meantime."""
    context = multiprocessing.get_context("spawn")
    count = _SPINNERS_PER_CORE * (os.cpu_count() or 1)
    spinners = [context.Process(target=_spin, daemon=True) for _ in range(count)]
    for spinner in spinners:
        spinner.start()
    try:
        yield
    finally:
        for spinner in spinners:
            spinner.kill()
            spinner.join()


def main() -> None:
    """Plan twice and compare."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--surfaces", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--work", type=float, default=None)
    told = parser.parse_args()
    work = instance(Size(told.surfaces), told.seed)
    effort = Effort(work=told.work)
    started = monotonic()
    idle = roster_bytes(work, effort)
    between = monotonic()
    with every_core_busy():
        loaded = roster_bytes(work, effort)
    ended = monotonic()
    for name, found, took in (
        ("idle", idle, between - started),
        ("loaded", loaded, ended - between),
    ):
        print(
            f"{name:<8}{took:>7.1f} s{len(found):>10} bytes  "
            f"{sha256(found).hexdigest()}"
        )
    print("equal bytes" if idle == loaded else "the rosters differ")
    sys.exit(idle != loaded)


if __name__ == "__main__":
    main()
