"""What goes between the search and its workers: pickles that name what both know.

Both sides hold the same problem, so its surfaces, jobs, lanes and supplies travel as
numbers and come out as the other side's own.
"""

import pickle
from collections.abc import Callable
from copy import copy
from typing import IO, Any

from scheduler.solver.lanes import Lane
from scheduler.solver.prepare import Job, Problem, Surface
from scheduler.solver.water import WaterBook, WaterPoint


def send_problem(problem: Problem, pipe: IO[bytes]) -> None:
    """Send the problem itself."""
    pickle.dump(problem, pipe, pickle.HIGHEST_PROTOCOL)
    pipe.flush()


def receive_problem(pipe: IO[bytes]) -> Problem:
    """Receive the problem itself."""
    problem: Problem = pickle.load(pipe)
    return problem


class Parcels:
    """Sends and receives what belongs to one problem."""

    def __init__(self, problem: Problem) -> None:
        self._problem = problem
        self._points = WaterBook(problem).points
        self._place = {supply.id: at for at, supply in enumerate(problem.supplies)}

    def send(self, what: object, pipe: IO[bytes]) -> None:
        """Write one thing."""
        _Pickler(pipe, self._name).dump(what)
        pipe.flush()

    def receive(self, pipe: IO[bytes]) -> Any:  # noqa: ANN401 (whatever was sent)
        """Read one thing; `EOFError` when the other side has gone."""
        return _Unpickler(pipe, self._found).load()

    def _name(self, what: object) -> tuple[Any, ...] | None:
        kind = type(what)
        if kind is Job or kind is Lane or kind is Surface:
            return kind.__name__, what.index  # type: ignore[attr-defined]
        if kind is Problem:
            return ("Problem",)
        if isinstance(what, WaterPoint):
            return "WaterPoint", self._place[what.supply.id], what.drawn
        return None

    def _found(self, name: tuple[Any, ...]) -> object:
        match name:
            case "Job", index:
                return self._problem.jobs[index]
            case "Lane", index:
                return self._problem.lanes[index]
            case "Surface", index:
                return self._problem.surfaces[index]
            case "WaterPoint", place, drawn:
                point = copy(self._points[place])
                point.drawn = drawn
                return point
            case _:
                return self._problem


class _Pickler(pickle.Pickler):
    def __init__(
        self, pipe: IO[bytes], name: Callable[[object], tuple[Any, ...] | None]
    ) -> None:
        super().__init__(pipe, pickle.HIGHEST_PROTOCOL)
        self.persistent_id = name  # type: ignore[method-assign]


class _Unpickler(pickle.Unpickler):
    def __init__(
        self, pipe: IO[bytes], found: Callable[[tuple[Any, ...]], object]
    ) -> None:
        super().__init__(pipe)
        self.persistent_load = found  # type: ignore[method-assign]
