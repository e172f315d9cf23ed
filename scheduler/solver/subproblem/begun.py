"""Whether an item begins before one of its slots, as one literal a slot.

What a job does for good, or for long, holds from any of many slots on. One literal for
"begun by then" stands for all of them; without it a model grows with the square of
the slots.
"""

from ortools.sat.python import cp_model

from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.placement import PlacedItem


class BegunBy:
    """Literals for the first slots of one item, made once any is asked for."""

    def __init__(
        self, builder: ModelBuilder, placed: PlacedItem, least_slots: int
    ) -> None:
        self._builder, self._least_slots = builder, least_slots
        self._slots = [slot.literal for slot in placed.slots]
        self._present = placed.present
        self._made: list[cp_model.IntVar] = []

    def before(self, count: int) -> cp_model.IntVar:
        """Literal that holds where it begins in one of the first slots, one or more."""
        if not self._made:
            self._make()
        return self._made[count - 1]

    def within(self, first: int, last: int) -> list[cp_model.IntVar]:
        """Literals of which one holds where it begins from one slot until another."""
        if first or last < self._least_slots:
            return self._slots[first:last]
        return [self.before(last)]

    def _make(self) -> None:
        """Chain them: begun by a slot is begun in it or before it."""
        builder, slots = self._builder, self._slots
        self._made = slots[:1]
        for literal in slots[1:]:
            before, is_last = self._made[-1], len(self._made) == len(slots) - 1
            now = (
                self._present
                if is_last
                else builder.flag(builder.hinted(before) or builder.hinted(literal))
            )
            builder.model.add_exactly_one(before, literal, ~now)
            self._made.append(now)
