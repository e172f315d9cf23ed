"""A second process that solves subproblems, so that two of them use two cores.

Building a neighbourhood's model is Python's work, which threads of one process do one
after another. So one neighbourhood is solved here and one in a helper process. A helper
that cannot be started or dies changes nothing but the time: its neighbourhoods are
solved here.
"""

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from queue import SimpleQueue
from types import TracebackType
from typing import Any, Self

from scheduler.solver.problem.problem import Problem
from scheduler.solver.subproblem.model import Solution, solve_subproblem
from scheduler.solver.subproblem.subproblem import Subproblem
from scheduler.solver.workers.pickler import ProblemPickler, send_problem


class Helper:
    """The helper process and this one: two places to solve a neighbourhood at.

    Parameters
    ----------
    patience_s : float
        How long the process may go on with what it is at when it is sent away.
    alone : bool
        Do everything in this process, on two threads.
    """

    def __init__(self, *, patience_s: float, alone: bool = False) -> None:
        self._patience_s = patience_s
        # It loads what it needs while the problem is still being prepared.
        self._process = None if alone else _start_process()
        self._beside = ThreadPoolExecutor(1)
        self._free: SimpleQueue[bool] = SimpleQueue()  # places; True: the helper's
        self._pickler: ProblemPickler | None = None

    def start(self, problem: Problem) -> None:
        """Send the problem to the second process, while this one goes on."""
        self._free.put(False)
        if self._process is None:
            self._free.put(False)
        else:
            self._pickler = ProblemPickler(problem)
            self._beside.submit(self._introduce, problem, self._process)

    def _introduce(self, problem: Problem, process: "subprocess.Popen[bytes]") -> None:
        assert process.stdin is not None
        with suppress(OSError):  # has died: asking will find out
            send_problem(problem, process.stdin)
        self._free.put(True)

    def solve_subproblem(
        self, subproblem: Subproblem, most_work: float, seed: int
    ) -> Solution:
        """Solve a subproblem where there is room: here or in the second process.

        Parameters
        ----------
        most_work : float
            CP-SAT's deterministic time that it may take.
        """
        helps = self._free.get()
        try:
            answer = self._ask((subproblem, most_work, seed)) if helps else None
            if answer is None:
                return solve_subproblem(subproblem, most_work, seed)
        finally:
            self._free.put(helps)
        solved: Solution = answer
        return solved

    def _ask(self, question: tuple[Any, ...]) -> Any:  # noqa: ANN401 (by question)
        """Ask the helper; None if it does not answer."""
        assert self._process is not None
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        assert self._pickler is not None
        try:
            self._pickler.send(question, self._process.stdin)
            return self._pickler.receive(self._process.stdout)
        except (OSError, EOFError):
            return None

    def __enter__(self) -> Self:
        """Give the helper itself; its process was started when it was made."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End the process: wait a little for it, or kill it after an error."""
        process = self._process
        if kind is not None and process is not None:
            process.kill()
        self._beside.shutdown()
        if process is None:
            return
        assert process.stdin is not None
        assert process.stdout is not None
        with suppress(OSError):
            process.stdin.close()
        try:
            process.wait(self._patience_s)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        process.stdout.close()


def _start_process() -> "subprocess.Popen[bytes] | None":
    """Start a process that finds the same packages as this one."""
    paths = os.pathsep.join(path or os.getcwd() for path in sys.path)  # noqa: PTH109
    try:
        return subprocess.Popen(
            [sys.executable, "-m", "scheduler.solver.workers.worker"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": paths},
        )
    except OSError:
        return None
