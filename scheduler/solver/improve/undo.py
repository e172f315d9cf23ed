"""A roster as it stood, and back to it after moves that came to nothing."""

from scheduler.solver.plan.cost import Stop
from scheduler.solver.plan.plan import Plan

Standing = tuple[list[Stop], ...]
"""Stops by surface at a time; a plan makes new lists as it changes."""


def standing(plan: Plan) -> Standing:
    """Note how a roster stands."""
    return tuple(plan.by_surface)


def back_to(plan: Plan, then: Standing) -> None:
    """Make a roster what it was, however many changes there have been since."""
    old, now = set[Stop](), set[Stop]()
    for before, after in zip(then, plan.by_surface, strict=True):
        if before is not after:
            old.update(before)
            now.update(after)
    undone = plan.change(sorted(now - old), sorted(old - now))
    assert undone, "a roster that stood can stand again"
