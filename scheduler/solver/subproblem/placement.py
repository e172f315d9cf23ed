"""Variables of an item: when it starts, whether it is done, by which lane.

Where dryness depends on the start, slots of a few minutes each get a literal too.
Plain ints of time are minutes from the start of the horizon.
"""

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.solver.subproblem.model_builder import ModelBuilder
from scheduler.solver.subproblem.subproblem import Item


@dataclass(eq=False)
class Slot:
    """A literal that holds if an item starts in a short stretch of minutes."""

    low: int
    high: int
    literal: cp_model.IntVar

    @property
    def middle(self) -> int:
        """The minute that stands for the slot."""
        return (self.low + self.high) // 2


@dataclass(eq=False)
class PlacedItem:
    """An item with its variables."""

    item: Item
    start: cp_model.IntVar
    present: cp_model.IntVar
    lanes: dict[int, cp_model.IntVar]
    slots: list[Slot]


def place_item(builder: ModelBuilder, item: Item, slot_min: int) -> PlacedItem:
    """Make the variables of an item: start, present, a literal a lane, slots."""
    current = item.current
    hint = current.start if current is not None else item.first
    start = builder.number(item.first, item.last, hint)
    present = builder.flag(current is not None)
    if item.mandatory:
        builder.at_least_one([present])
    lanes: dict[int, cp_model.IntVar] = {}
    for lane, (low, high) in item.spans.items():
        here = current is not None and current.lane == lane
        literal = builder.flag(here) if len(item.spans) > 1 else present
        lanes[lane] = literal
        if low > item.first:
            builder.model.add(start >= low).only_enforce_if(literal)
        if high < item.last:
            builder.model.add(start <= high).only_enforce_if(literal)
    if len(lanes) > 1:
        builder.model.add_exactly_one([*lanes.values(), ~present])
    slots = (
        _slots(builder, item, start, present, slot_min)
        if item.job.affects_dryness
        else []
    )
    return PlacedItem(item, start, present, lanes, slots)


def _slots(
    builder: ModelBuilder,
    item: Item,
    start: cp_model.IntVar,
    present: cp_model.IntVar,
    slot_min: int,
) -> list[Slot]:
    slots: list[Slot] = []
    spans = _merged(item)
    for first, last in spans:
        low = first
        while low <= last:
            high = min(last, (low // slot_min + 1) * slot_min - 1)
            current = item.current
            hint = current is not None and low <= current.start <= high
            literal = builder.flag(hint)
            builder.model.add_linear_constraint(start, low, high).only_enforce_if(
                literal
            )
            slots.append(Slot(low, high, literal))
            low = high + 1
    builder.model.add_exactly_one([*(slot.literal for slot in slots), ~present])
    return slots


def _merged(item: Item) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for low, high in sorted(item.spans.values()):
        if joined and low <= joined[-1][1] + 1:
            joined[-1] = (joined[-1][0], max(joined[-1][1], high))
        else:
            joined.append((low, high))
    return joined
