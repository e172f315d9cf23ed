"""Settings of a subproblem's model."""

from dataclasses import dataclass


@dataclass(frozen=True)
class ModelSettings:
    """How coarse a subproblem's model is, and what building it counts.

    Attributes
    ----------
    tank_step_min : int
        The level of a tank is kept at the end of each such step.
    lifted_after_min : int
        Covers that nobody lifts are free so long after the horizon.
    work_per_constraint : float
        Work of building and loading a model, against CP-SAT's own count of its work.
    least_chained_slots : int
        So many slots from an item's first one on are named by one literal; fewer are
        searched a little better one by one. Measured: surfaces laid in strips are
        modelled and solved in half the time.
    hint_conflicts : int
        Conflicts after which CP-SAT gives up completing today's roster.
    """

    tank_step_min: int = 60
    lifted_after_min: int = 14 * 24 * 60
    work_per_constraint: float = 1.2e-5
    least_chained_slots: int = 24
    hint_conflicts: int = 50
