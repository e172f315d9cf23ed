"""Sites over processes of this machine.

Every process has its own pipe and one site at a time, so that a death tells whose
work is lost. A shared executor would only say that somebody died, and count the
neighbours' unfinished sites with the guilty one; nor can it be stopped before its
workers are done.
"""

import signal
import sys
from collections import Counter, deque
from collections.abc import Generator, Sequence
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from pathlib import Path

from scheduler.fleet.mapper import SitePlanner
from scheduler.fleet.outcome import Outcome, Unplanned

_DEATHS = 3  # of workers over one site; then it is left
_PATIENCE_S = 20.0  # a worker told to stop may finish the window it is solving

# Fresh interpreters: a fork would copy locks that solver threads hold.
_SPAWN = get_context("spawn")


class Processes:
    """A number of worker processes, a dead one replaced by another."""

    def __init__(self, workers: int) -> None:
        self.workers = workers

    def map(
        self, planner: SitePlanner, folders: Sequence[Path]
    ) -> Generator[Outcome, None, None]:
        """Plan every folder; outcomes as they arrive."""
        waiting = deque(folders)
        deaths: Counter[Path] = Counter()
        workers: dict[Connection, _Worker] = {}
        try:
            for _ in range(min(self.workers, len(folders))):
                worker = _Worker(planner)
                workers[worker.pipe] = worker
                worker.give(waiting.popleft())
            while workers:
                for ready in wait(list(workers)):
                    assert isinstance(ready, Connection)
                    worker = workers[ready]
                    folder, outcome = worker.folder, worker.take()
                    if outcome is None:
                        deaths[folder] += 1
                        death = worker.bury()
                        del workers[ready]
                        if deaths[folder] < _DEATHS:
                            waiting.append(folder)
                        else:
                            outcome = _lost(folder, death)
                        if waiting:
                            worker = _Worker(planner)
                            workers[worker.pipe] = worker
                    if waiting:
                        worker.give(waiting.popleft())
                    elif worker.pipe in workers:
                        del workers[worker.pipe]
                        worker.dismiss()
                    if outcome is not None:
                        yield outcome
        finally:
            for worker in workers.values():
                worker.process.terminate()
            for worker in workers.values():
                worker.bury()


class _Worker:
    """A process and the site it has in hand."""

    folder: Path

    def __init__(self, planner: SitePlanner) -> None:
        self.pipe, far = _SPAWN.Pipe()
        self.process = _SPAWN.Process(target=_serve, args=(planner, far), daemon=True)
        self.process.start()
        far.close()  # so that the process's death closes the pipe

    def give(self, folder: Path) -> None:
        self.folder = folder
        with suppress(OSError):  # died meanwhile: taking will find out
            self.pipe.send(folder)

    def take(self) -> Outcome | None:
        """Return the outcome; None if the process died before it was through."""
        try:
            outcome: Outcome = self.pipe.recv()
        except (EOFError, OSError):
            return None
        return outcome

    def dismiss(self) -> None:
        """Let an idle process go home."""
        self.pipe.close()
        self.process.join()

    def bury(self) -> str:
        """See the process off, and say what it died of."""
        self.pipe.close()
        self.process.join(_PATIENCE_S)
        if self.process.is_alive():
            self.process.kill()
            self.process.join()
        code = self.process.exitcode
        if code is not None and code < 0:
            return signal.Signals(-code).name
        return f"exit code {code}"


def _serve(planner: SitePlanner, pipe: Connection) -> None:
    """Plan sites until the other end of the pipe is closed."""
    # Ctrl-C reaches every process of the terminal; the parent answers it for all.
    # When it says stop, leave by way of every `finally`.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    with suppress(EOFError, OSError):
        while True:
            pipe.send(planner(pipe.recv()))


def _lost(folder: Path, death: str) -> Unplanned:
    return Unplanned(
        folder,
        1,
        fault=f"the process that planned it died {_DEATHS} times, the last time by "
        f"{death}; if memory is short, use fewer workers",
    )
