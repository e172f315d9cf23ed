"""Dry stretches, and what a dry minute costs."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from models.records import Floats, WeightStep
from scheduler.audit.replayed.runs import stretches
from scheduler.audit.replayed.simulation import Simulation


@dataclass(frozen=True)
class DryStretch:
    """A surface dry from one minute up to another."""

    column: int
    from_min: int
    until_min: int
    covered: bool


def dry_stretches(simulation: Simulation) -> Iterator[DryStretch]:
    """Every gap, parted where the cover goes on."""
    minute = np.arange(len(simulation.dry))
    for column in range(len(simulation.works)):
        for covered in (False, True):
            on = (minute >= simulation.covered_from[column]) == covered
            for first, last in stretches(simulation.dry[:, column] & on):
                yield DryStretch(column, first, last, covered)


def dry_cost(simulation: Simulation, column: int) -> float:
    """Price of all dry minutes of a surface, by the share that is dry."""
    price = dry_price_by_minute(simulation, column)
    return float((price * simulation.dry_share[:, column]).sum())


def dry_price_by_minute(simulation: Simulation, column: int) -> Floats:
    """Price of a dry minute by age, risk, area and whether the surface is covered."""
    minute = np.arange(len(simulation.dry))
    work = simulation.works[column]
    return np.where(
        minute >= simulation.covered_from[column],
        weight_by_minute(work.weights, len(minute)),
        weight_by_minute(work.fresh_weights, len(minute)),
    )


def weight_by_minute(weights: Sequence[WeightStep], length: int) -> Floats:
    """Weight of each minute; before the first step, the first one's."""
    starts = np.array([step.from_min for step in weights])
    values = np.array([step.per_min for step in weights], np.float64)
    index = np.searchsorted(starts, np.arange(length), side="right") - 1
    return values[np.maximum(index, 0)]
