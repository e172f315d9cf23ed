"""A process that solves neighbourhoods for another one; run with ``python -m``.

What it is asked comes in by standard input and goes out by standard output, pickled by
:mod:`scheduler.solver.workers.pickler`: first the problem, once, then a neighbourhood
at a time until the input ends.
"""

import os
import signal
import sys
from contextlib import suppress

from scheduler.solver.subproblem.model import solve_subproblem
from scheduler.solver.workers.pickler import ProblemPickler, receive_problem


def main() -> None:
    """Answer until the input ends."""
    with suppress(EOFError, BrokenPipeError):
        _serve()


def _serve() -> None:
    # Ctrl-C reaches every process of the terminal; the one that asks answers it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    asked = sys.stdin.buffer
    # Nothing but answers may get into the pipe, whoever prints.
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    pickler = ProblemPickler(receive_problem(asked))
    while True:
        pickler.send(solve_subproblem(*pickler.receive(asked)), answers)


if __name__ == "__main__":
    main()
