"""Which items a work unit or a gang shift may do in lanes that exclude one another."""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.solver.plan.cost import Stop
from scheduler.solver.problem.problem import Job
from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem


@dataclass(eq=False)
class CrewOption:
    """An item that a work unit may do in one of some lanes, or a gang shift in any.

    ``literal`` holds if it does; ``low`` and ``high`` are its first and last start.
    """

    placed: PlacedItem
    lanes: tuple[int, ...]
    literal: cp_model.IntVar
    low: int
    high: int

    @property
    def job(self) -> Job:
        """What is to be done."""
        return self.placed.item.job

    @property
    def current(self) -> Stop | None:
        """Where it stands now, if it is in these lanes."""
        current = self.placed.item.current
        return current if current is not None and current.lane in self.lanes else None


def options_in(
    builder: ModelBuilder, lanes: tuple[int, ...], placed: list[PlacedItem]
) -> list[CrewOption]:
    """Find the items that may go into some lanes that exclude one another."""
    found = []
    for one in placed:
        literals = [one.lanes[lane] for lane in lanes if lane in one.lanes]
        if not literals:
            continue
        literal = literals[0]
        if len(literals) > 1:
            literal = builder.flag(any(builder.hinted(each) for each in literals))
            builder.model.add(sum(literals) == literal)
        spans = [one.item.spans[lane] for lane in lanes if lane in one.lanes]
        low, high = min(a for a, _ in spans), max(b for _, b in spans)
        found.append(CrewOption(one, lanes, literal, low, high))
    return found
