"""What goes between the search and its workers: pickles that name what both know.

Both sides hold the same problem, so its surfaces, jobs, lanes and supplies travel as
numbers and come out as the other side's own.
"""

import pickle
from collections.abc import Callable
from copy import copy
from typing import IO, Any

from scheduler.solver.plan.water import SupplyLedger, WaterLedger
from scheduler.solver.problem.lanes import Lane
from scheduler.solver.problem.problem import Job, Problem, Surface, prepare

Name = tuple[Any, ...]
"""What stands for a thing that both sides know: its kind and its number."""


def send_problem(problem: Problem, pipe: IO[bytes]) -> None:
    """Send the problem itself: the work it comes from, a tenth of what it makes."""
    pickle.dump((problem.work, problem.settings), pipe, pickle.HIGHEST_PROTOCOL)
    pipe.flush()


def receive_problem(pipe: IO[bytes]) -> Problem:
    """Receive the problem itself, prepared anew to the same numbers."""
    work, settings = pickle.load(pipe)
    return prepare(work, settings)


class ProblemPickler:
    """Sends and receives what belongs to one problem."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._points = WaterLedger(problem).points
        self._place = {supply.id: at for at, supply in enumerate(problem.supplies)}

    def send(self, what: object, pipe: IO[bytes]) -> None:
        """Write one thing."""
        _Pickler(pipe, self._name).dump(what)
        pipe.flush()

    def receive(self, pipe: IO[bytes]) -> Any:  # noqa: ANN401 (whatever was sent)
        """Read one thing; `EOFError` when the other side has gone."""
        return _Unpickler(pipe, self._found).load()

    def _name(self, what: object) -> Name | None:
        if isinstance(what, Job | Lane | Surface):
            return type(what).__name__, what.index
        if isinstance(what, Problem):
            return ("Problem",)
        if isinstance(what, SupplyLedger):
            return "SupplyLedger", self._place[what.supply.id], what.drawn
        return None

    def _found(self, name: Name) -> object:
        match name:
            case "Job", index:
                return self._problem.jobs[index]
            case "Lane", index:
                return self._problem.lanes[index]
            case "Surface", index:
                return self._problem.surfaces[index]
            case "SupplyLedger", place, drawn:
                point = copy(self._points[place])
                point.drawn = drawn
                return point
            case _:
                return self._problem


class _Pickler(pickle.Pickler):
    def __init__(self, pipe: IO[bytes], name: Callable[[object], Name | None]) -> None:
        super().__init__(pipe, pickle.HIGHEST_PROTOCOL)
        self._name = name

    def persistent_id(self, obj: object) -> Name | None:
        return self._name(obj)


class _Unpickler(pickle.Unpickler):
    def __init__(self, pipe: IO[bytes], found: Callable[[Name], object]) -> None:
        super().__init__(pipe)
        self._found = found

    def persistent_load(self, pid: Name) -> object:
        return self._found(pid)
