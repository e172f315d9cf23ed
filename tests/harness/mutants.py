"""Whether a module's tests notice its mutants: one node changed, own tests run.

``python -m tests.harness.mutants models/drying/bleed.py ... [--most 40] [--seed 1]``
takes a sample of each module's mutants, runs its own tests on each and tells which were
killed. Two at a time, in copies of the checkout: this one is only read.

A tool of our own, because those at hand do not fit: cosmic-ray changes the checkout
itself, turns ``|`` in annotations, knows no least and most, no forgotten return, and
moves 0.06 by 1; mutmut leaves values outside functions alone, changes words and takes
no sample. Both would still have to be told each module's tests.

A module's tests are its mirror and what ``own_tests.toml`` adds. Mutants that behave as
the module does stand in ``equivalents.toml`` with the reason; they are not run, and
counted apart. A mutant whose tests outlast their time is killed.
"""

import argparse
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from queue import SimpleQueue

from tests.harness.one_node import Mutant, mutants

ROOT = Path(__file__).parents[2]
PROCESSES = 2
MOST_BYTES = 8 << 30
_LEFT_OUT = shutil.ignore_patterns(".*", "__pycache__", "*.egg-info", "out", "dist")


@dataclass
class Tally:
    """Of one module: how many of each end."""

    module: str
    of: int
    ends: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        """Give a row of the table."""
        killed, same = self.ends.count("killed"), self.ends.count("equivalent")
        ran = len(self.ends) - same
        share = f"{100 * killed / ran:4.0f} %" if ran else "     -"
        return f"{self.module:44}{self.of:6}{ran:6}{killed:8}{share:>8}{same:12}"


HEAD = f"{'module':44}{'all':>6}{'run':>6}{'killed':>8}{'share':>8}{'equivalent':>12}"


class Copy:
    """A copy of the checkout in which one mutant after the other is tested."""

    def __init__(self, folder: Path) -> None:
        shutil.copytree(ROOT, folder, ignore=_LEFT_OUT, dirs_exist_ok=True)
        self.folder = folder
        self.running: subprocess.Popen[bytes] | None = None

    def passes(self, tests: Sequence[str], limit_s: float | None, fresh: bool) -> bool:
        """Run tests, stopping at the first failure and after so many seconds.

        Nothing compiled is kept of a mutant: the next may look as old and as long.
        """
        command = [sys.executable, "-m", "pytest", "-xq", "-p", "no:cacheprovider"]
        environment = os.environ | {
            "PYTHONPATH": str(self.folder),
            "PYTHONDONTWRITEBYTECODE": "" if fresh else "1",
            "KEEPDAMP_DRAWS": "steady",
        }
        process = subprocess.Popen(
            [*command, *tests], cwd=self.folder, env=environment,
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True,
        )  # fmt: skip
        self.running = process
        try:
            resource.prlimit(process.pid, resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
            return process.wait(limit_s) == 0
        except subprocess.TimeoutExpired:
            return False
        finally:
            self.stop()

    def stop(self) -> None:
        """End what runs, and all that it has started."""
        if self.running is not None:
            with suppress(ProcessLookupError):
                os.killpg(self.running.pid, signal.SIGKILL)
            self.running.wait()

    def write(self, module: str, source: str) -> None:
        """Put a text in the module's place."""
        path = self.folder / module
        path.write_text(source)
        for compiled in path.parent.glob(f"__pycache__/{path.stem}.*"):
            compiled.unlink()


def own_tests(module: str) -> list[str]:
    """Give the test files of a module: its mirror first, then what a table adds."""
    path = Path(module)
    mirror = Path("tests") / path.with_name(f"test_{path.name}")
    more = tomllib.loads(Path(__file__).with_name("own_tests.toml").read_text())
    found = [str(mirror)] if (ROOT / mirror).exists() else []
    found += more.get(module, [])
    if not found:
        raise SystemExit(f"{module} has no test file {mirror}; see own_tests.toml")
    return found


def equivalents(module: str) -> set[tuple[str, str, int, str]]:
    """Give the mutants of a module that behave as it does."""
    listed = tomllib.loads(Path(__file__).with_name("equivalents.toml").read_text())
    return {
        (one.get("within", ""), one["line"], one.get("column", 0), one["now"])
        for one in listed.get(module, [])
    }


def sample(module: str, most: int, seed: int) -> tuple[list[Mutant], int]:
    """Draw mutants of a module, in order of lines, and say of how many."""
    every = mutants((ROOT / module).read_text())
    draw = random.Random(f"{seed} {module}").sample(every, min(most, len(every)))
    return sorted(draw, key=lambda one: (one.number, one.was, one.now)), len(every)


def judged(
    module: str, most: int, seed: int, copies: Sequence[Copy]
) -> Iterator[tuple[Mutant, str] | Tally]:
    """Yield each mutant with its end, then the tally."""
    tests, same = own_tests(module), equivalents(module)
    drawn, of = sample(module, most, seed)
    tally = Tally(module, of)
    took = 0.0
    for copy in copies:
        began = time.monotonic()
        if not copy.passes(tests, None, fresh=True):
            raise SystemExit(f"{module}: its own tests fail without any mutant")
        took = max(took, time.monotonic() - began)
    free: SimpleQueue[Copy] = SimpleQueue()
    for copy in copies:
        free.put(copy)

    def end(mutant: Mutant) -> str:
        if (mutant.within, mutant.line, mutant.column, mutant.now) in same:
            return "equivalent"
        copy = free.get()
        try:
            copy.write(module, mutant.source)
            passed = copy.passes(tests, 10 + 4 * took, fresh=False)
        finally:
            copy.write(module, (ROOT / module).read_text())
            free.put(copy)
        return "survived" if passed else "killed"

    pool = ThreadPoolExecutor(len(copies))
    try:
        for mutant, ended in zip(drawn, pool.map(end, drawn), strict=True):
            tally.ends.append(ended)
            yield mutant, ended
    finally:
        pool.shutdown(wait=False, cancel_futures=True)
        for copy in copies:
            copy.stop()
        pool.shutdown()
    yield tally


def main() -> None:
    """Read the command line and print every mutant, then the table."""
    parser = argparse.ArgumentParser(
        description="Do its tests notice a module's mutants?"
    )
    parser.add_argument("modules", nargs="+", help="paths from the root")
    parser.add_argument("--most", type=int, default=40, help="mutants of a module")
    parser.add_argument("--seed", type=int, default=1)
    told = parser.parse_args()
    signal.signal(signal.SIGTERM, signal.default_int_handler)  # to leave nothing behind
    tallies: list[Tally] = []
    with tempfile.TemporaryDirectory(prefix="mutants-") as temporary:
        folders = [Path(temporary, str(number)) for number in range(PROCESSES)]
        copies = [Copy(folder) for folder in folders]
        for module in told.modules:
            for found in judged(module, told.most, told.seed, copies):
                if isinstance(found, Tally):
                    tallies.append(found)
                    print(f"\n{HEAD}\n{found}\n", flush=True)
                else:
                    mutant, ended = found
                    change = f"{mutant.was} → {mutant.now}"
                    print(f"{ended:10} {module}:{mutant.number}: {change}", flush=True)
    print(HEAD)
    for tally in tallies:
        print(tally)
    together = Tally("together", sum(tally.of for tally in tallies))
    together.ends = [end for tally in tallies for end in tally.ends]
    print(together)


if __name__ == "__main__":
    try:
        main()
    except KeyboardInterrupt:
        raise SystemExit("stopped") from None
