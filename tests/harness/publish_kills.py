"""Whether ledger and output agree under ``kill -9``: a publisher killed at any moment.

``python -m tests.harness.publish_kills [--times 100] [--seed 1]``
plans a small site once. Each time its draft is published by a process of its own that
is killed at a random moment while it writes. What is left must be the draft or the
issue, whole; the ledger must hold the issue where the output does; and publishing again
must end with the issue, under the same number.
"""

import argparse
import multiprocessing
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from unittest.mock import patch

from exports import out_folder
from models.files.published import own_roster, read_roster
from models.files.site_folder import read_folder
from models.ledger.sqlite_store import FILE_NAME, open_sqlite
from scheduler import publishing
from scheduler.cli.app import app
from scheduler.workflow import Plan, judged, prepare
from tests.models.files.folders import write_site

AT = datetime(2027, 5, 2, 16, 0, tzinfo=UTC)
Files = Mapping[str, bytes]


def files_of(folder: Path) -> Files:
    """Every file of an output folder."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _ids() -> Callable[[], str]:
    numbers = count(1)
    return lambda: f"00000000-0000-4000-8000-{next(numbers):012d}"


def _publish(site: Path, made: Plan, contents: Files) -> None:
    """Publish with all that was worked out before, so that only the writing is left."""
    with (
        patch.object(publishing, "prepare", return_value=None),
        patch.object(publishing, "judged", return_value=made),
        patch.object(out_folder, "_contents", side_effect=lambda *_: dict(contents)),
        open_sqlite(site / FILE_NAME) as store,
    ):
        publishing.publish(site, store, AT, _ids())


def kills(times: int, seed: int, folder: Path) -> Counter[str]:
    """Kill so many publishers; what was found, by name.

    Raises
    ------
    AssertionError
        If anything half was left.
    """
    chance, found = random.Random(seed), Counter[str]()
    drafted = write_site(folder / "drafted" / "wharf")
    app(["plan", str(drafted), "--seconds", "1"], standalone_mode=False)
    prepared = prepare(read_folder(drafted))
    roster = read_roster(own_roster(drafted))
    made, draft = judged(prepared, roster), files_of(drafted / "out")
    whole = Path(shutil.copytree(drafted, folder / "whole"))
    with open_sqlite(whole / FILE_NAME) as store:
        publishing.publish(whole, store, AT, _ids())
    issue = files_of(whole / "out")
    began = time.monotonic()
    _publish(Path(shutil.copytree(drafted, folder / "timed")), made, issue)
    longest_s = 1.2 * (time.monotonic() - began)
    for number in range(times):
        site = Path(shutil.copytree(drafted, folder / f"killed {number}"))
        found[_killed(site, made, draft, issue, chance.uniform(0, longest_s))] += 1
        shutil.rmtree(site)
    return found


def _killed(site: Path, made: Plan, draft: Files, issue: Files, after_s: float) -> str:
    fork = multiprocessing.get_context("fork")
    child = fork.Process(target=_publish, args=(site, made, issue))
    child.start()
    time.sleep(after_s)
    if child.pid is not None and child.is_alive():
        os.kill(child.pid, signal.SIGKILL)
    child.join()
    left = files_of(site / "out")
    with open_sqlite(site / FILE_NAME) as store:
        numbers = [head.number for head in store.issues()]
    assert numbers in ([], [1]), f"issues {numbers}"
    assert left in (draft, issue), "half of the output"
    assert left == draft or numbers == [1], "output of an issue that is in no ledger"
    outcome = "draft" if not numbers else "ledger alone" if left == draft else "issue"
    if left == draft:
        _publish(site, made, issue)
    assert files_of(site / "out") == issue
    with open_sqlite(site / FILE_NAME) as store:
        assert [head.number for head in store.issues()] == [1]
    return outcome


def main() -> int:
    """Print what was found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--times", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    told = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        found = kills(told.times, told.seed, Path(folder))
    print(f"{told.times} kills: {dict(found)}; nothing half, none lost")
    return 0


if __name__ == "__main__":
    sys.exit(main())
